"""Pictures that show what is no longer asked for, out of the way but not lost."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path

from proofgen.artwork.artwork import Made, by_order
from proofgen.day.rows import picture_path
from proofgen.errors import UnusableError
from proofgen.orders.filenames import order_stem, stem
from proofgen.records.archive import Archive

EARLIER = "earlier"


def set_aside(
    rows: Iterable[Made],
    gone: Iterable[str],
    keep: Collection[Path],
    out: Path,
    records: Archive,
) -> tuple[Path, ...]:
    """Move what an earlier run drew for the orders of these rows, and for those that are `gone`,
    and is not in `keep` nor a picture of one of the rows, into a folder of its own; gives where it
    lies now.

    Only names that the records give are moved, so that nothing of the maker's is.
    """
    moved: list[Path] = []
    orders = {**dict.fromkeys(gone, ()), **by_order(rows)}
    for number, pieces in orders.items():
        current = {*keep, *(picture_path(made, out) for made in pieces if made.artwork)}
        there = {*_pictures(number, out, records), *_of_order(number, out)} - current
        moved += moved_away((path for path in sorted(there) if path.is_file()), out)
    return tuple(moved)


def moved_away(paths: Iterable[Path], out: Path) -> tuple[Path, ...]:
    """Move files of the folder `out` into the one for earlier ones; gives where they lie now."""
    return tuple(_moved(path, out / EARLIER) for path in paths)


def _pictures(number: str, out: Path, records: Archive) -> Iterator[Path]:
    for each in records.pictures(number):
        name = dict(each.cells).get("name", "")
        yield out / f"{stem(name, number, each.line, each.code)}.png"


def _of_order(number: str, out: Path) -> Iterator[Path]:
    """Pictures and pages of the whole order."""
    start = order_stem(number)
    name = re.compile(rf"{re.escape(start)}(-set(-\d+)?\.png|\.pdf)")
    found = out.glob(f"{start}*") if out.is_dir() else ()
    yield from (path for path in found if name.fullmatch(path.name))


def _moved(path: Path, folder: Path) -> Path:
    try:
        folder.mkdir(exist_ok=True)
        return path.replace(folder / path.name)
    except OSError as error:
        raise UnusableError(f"{path} cannot be moved to {folder} ({error.strerror}).") from error
