"""What is drawn of a whole order: one picture of all pieces, and pages at true size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from proofgen.artwork.artwork import Made, by_order
from proofgen.day.rows import Progress
from proofgen.files import write_bytes
from proofgen.orders.filenames import order_stem
from proofgen.workshop.workshop import Workshop

CODES = "Proof code"  # what the codes stand under in a picture's metadata
MOST = 12  # pieces in a picture; more would be too small to read


def write_sets(
    rows: Sequence[Made], drawn: Iterable[int], out: Path, workshop: Workshop, progress: Progress
) -> dict[str, tuple[Path, ...]]:
    """By order, the pictures of those of several lines, drawn anew where one is missing, shows
    other pieces, or a row of it was `drawn` in this run.

    Orders of which a line has no artwork get none.
    """
    fresh = set(drawn)
    found: dict[str, tuple[Path, ...]] = {}
    done = 0
    for number, pieces in by_order(rows).items():
        done += len(pieces)
        if len(pieces) > 1 and all(made.artwork for made in pieces):
            changed = any(made.order.source.row in fresh for made in pieces)
            parts = tuple(_parts(pieces, out))
            for path, part in parts:
                if changed or not _shows(path, part):
                    write_bytes(path, _picture(part, workshop))
            found[number] = tuple(path for path, _ in parts)
            progress(done, len(rows))
    return found


def _shows(path: Path, pieces: Sequence[Made]) -> bool:
    """Whether there is a picture of just these pieces."""
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(path) as image:
            return image.info.get(CODES) == _codes(pieces)
    except (FileNotFoundError, UnidentifiedImageError):
        return False


def _codes(pieces: Sequence[Made]) -> str:
    return ", ".join(made.code for made in pieces)


def write_pages(
    rows: Sequence[Made], out: Path, workshop: Workshop, progress: Progress
) -> tuple[Path, ...]:
    """A PDF per order, each piece at true size; rows without artwork are left out."""
    from proofgen.proofs.page import proof_pdf

    paths: list[Path] = []
    done = 0
    for lines in by_order(rows).values():
        pieces = [made for made in lines if made.artwork]
        if pieces:
            path = out / f"{order_stem(lines[0].order)}.pdf"
            write_bytes(path, proof_pdf(pieces, workshop))
            paths.append(path)
        done += len(lines)
        progress(done, len(rows))
    return tuple(paths)


def _parts(pieces: Sequence[Made], out: Path) -> Iterator[tuple[Path, Sequence[Made]]]:
    """The pieces in pictures of about as many each."""
    count = -(-len(pieces) // MOST)
    for number in range(count):
        part = pieces[number * len(pieces) // count : (number + 1) * len(pieces) // count]
        ending = f"-{number + 1}" if count > 1 else ""
        yield out / f"{order_stem(pieces[0].order)}-set{ending}.png", part


def _picture(pieces: Sequence[Made], workshop: Workshop) -> bytes:
    from proofgen.proofs.gallery import Sign, gallery_png
    from proofgen.proofs.labels import Exhibit
    from proofgen.proofs.scene import scene

    exhibits = []
    for made in pieces:
        artwork = made.artwork
        assert artwork is not None
        times = (f"\u00d7 {made.order.quantity}",) if made.order.quantity > 1 else ()
        name = " / ".join(made.order.field("name").splitlines())
        head = name or artwork.title
        foot = (made.code, *times)
        exhibits.append(Exhibit(scene(artwork, workshop), head, foot, spell=bool(name)))
    order = pieces[0].order
    count = f"{sum(made.order.quantity for made in pieces)} pieces"
    sign = Sign(f"Order {order.number}", count, "all at one scale; grain and tone vary")
    return gallery_png(exhibits, sign, True, {"Order": order.number, CODES: _codes(pieces)})
