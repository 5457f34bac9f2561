"""What is drawn of a whole order: one picture of all pieces, and pages at true size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from proofgen.artwork.artwork import Artwork, Made, by_order
from proofgen.day.rows import Progress
from proofgen.day.superseded import Shown
from proofgen.errors import UnusableError
from proofgen.orders.filenames import order_stem
from proofgen.records.codec import decoded, encoded
from proofgen.workshop.workshop import Workshop

if TYPE_CHECKING:
    from proofgen.proofs.labels import Exhibit

# What the codes and numbers stand under in a picture's metadata, and what it was drawn from.
CODES, FROM = "Proof code", "Drawn from"
MOST = 12  # pieces in a picture; more would be too small to read


def write_sets(
    rows: Sequence[Made], drawn: Iterable[int], out: Shown, workshop: Workshop, progress: Progress
) -> dict[str, tuple[Path, ...]]:
    """By order, the pictures of those of several lines, drawn anew where one is missing, was drawn
    from anything else than the order is now, or a row of it was `drawn` in this run.

    Orders of which a line has no artwork get none.
    """
    from proofgen.proofs.drawn_from import drawn_from

    fresh = set(drawn)
    found: dict[str, tuple[Path, ...]] = {}
    done = 0
    for number, pieces in by_order(rows).items():
        done += len(pieces)
        if len(pieces) > 1 and all(made.artwork for made in pieces):
            changed = any(made.order.source.row in fresh for made in pieces)
            parts = tuple(_parts(pieces, out.folder))
            # Each says how many there are of all, and their scale is one.
            named = (made.asked("name") for made in pieces)
            digest = drawn_from(pieces, workshop, workshop.proofs.watermark, *named)
            if changed or not all(shows(path, part, digest) for path, part in parts):
                shown = _pictures([part for _, part in parts], workshop, digest)
                out.write(zip((path for path, _ in parts), shown, strict=True))
            found[number] = tuple(path for path, _ in parts)
            progress(done, len(rows))
    return found


def shows(path: Path, pieces: Sequence[Made], digest: str = "") -> bool:
    """Whether there is a picture of just these pieces, as many of each, and it is whole; one of
    several, whether it was drawn from what has this `digest`.
    """
    from PIL import Image

    try:
        with Image.open(path) as image:
            found = image.info.get(CODES), image.info.get(FROM, "")
            image.verify()
    except (OSError, SyntaxError):  # the latter where a checksum is wrong
        return False
    return found == (codes_of(pieces), digest)


def check_no_proof(path: Path) -> None:
    """UnusableError where what lies there is a proof picture, of one piece or of several."""
    from PIL import Image

    try:
        with Image.open(path) as image:
            found = CODES in image.info
    except (OSError, SyntaxError):
        return
    if found:
        raise UnusableError(f"{path} is a proof picture, which is kept; give another name.")


def codes_of(pieces: Sequence[Made]) -> str:
    """As pictures of several pieces have them in their metadata."""
    return ", ".join(made.counted for made in pieces)


def write_pages(
    rows: Sequence[Made], out: Shown, workshop: Workshop, progress: Progress
) -> tuple[Path, ...]:
    """A PDF per order, each piece at true size; rows without artwork are left out.

    They are drawn from what is kept of a piece, so that a remembered one gives the same file.
    """
    from proofgen.proofs.page import proof_pdf

    paths: list[Path] = []
    done = 0
    for lines in by_order(rows).values():
        pieces = [_kept(made, made.artwork) for made in lines if made.artwork]
        if pieces:
            path = out.folder / f"{order_stem(lines[0].order.number)}.pdf"
            out.write([(path, proof_pdf(pieces, workshop))])
            paths.append(path)
        done += len(lines)
        progress(done, len(rows))
    return tuple(paths)


def _kept(made: Made, artwork: Artwork) -> Made:
    return replace(made, artwork=decoded(encoded(artwork), made.order))


def pages_that_stand(rows: Iterable[Made], out: Path, workshop: Workshop) -> tuple[Path, ...]:
    """The PDFs of an earlier run that were drawn from what these orders still are."""
    from proofgen.proofs.page import shows as page_shows

    found: list[Path] = []
    for number, lines in by_order(rows).items():
        path = out / f"{order_stem(number)}.pdf"
        if path.is_file():
            pieces = [made for made in lines if made.artwork]
            found += [path] if page_shows(path.read_bytes(), pieces, workshop) else []
    return tuple(found)


def _parts(pieces: Sequence[Made], out: Path) -> Iterator[tuple[Path, Sequence[Made]]]:
    """The pieces in pictures of about as many each."""
    count = -(-len(pieces) // MOST)
    for number in range(count):
        part = pieces[number * len(pieces) // count : (number + 1) * len(pieces) // count]
        ending = f"-{number + 1}" if count > 1 else ""
        yield out / f"{order_stem(pieces[0].order.number)}-set{ending}.png", part


def _pictures(parts: Sequence[Sequence[Made]], workshop: Workshop, digest: str) -> Iterator[bytes]:
    """A picture of each part of an order, all at one scale."""
    from proofgen.proofs.gallery import Sign, gallery_png
    from proofgen.proofs.grid import arranged

    shown = [[_exhibit(made, workshop) for made in part] for part in parts]
    scale = min(arranged(exhibits, True).scales[0] for exhibits in shown)
    number = parts[0][0].order.number
    count = f"{sum(made.order.quantity for part in parts for made in part)} pieces"
    for place, (part, exhibits) in enumerate(zip(parts, shown, strict=True), 1):
        right = f"picture {place} of {len(parts)}, {count}" if len(parts) > 1 else count
        sign = Sign(f"Order {number}", right, "all at one scale; grain and tone vary")
        texts = {"Order": number, CODES: codes_of(part), FROM: digest}
        yield gallery_png(exhibits, sign, True, texts, scale)


def _exhibit(made: Made, workshop: Workshop) -> Exhibit:
    from proofgen.proofs.labels import Exhibit
    from proofgen.proofs.scene import scene

    artwork = made.artwork
    assert artwork is not None
    times = (f"\u00d7 {made.order.quantity}",) if made.order.quantity > 1 else ()
    name = made.asked("name")
    foot = (made.code, *times)
    return Exhibit(scene(artwork, workshop), name or artwork.title, foot, spell=bool(name))
