"""Pictures that show what is no longer asked for, or not as it was: out of the way, not lost."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from itertools import chain, count
from pathlib import Path

from proofgen.artwork.artwork import Made, by_order
from proofgen.day.rows import picture_path
from proofgen.errors import UnusableError
from proofgen.files import write_all
from proofgen.orders.filenames import order_stem, stem
from proofgen.records.archive import Archive

WHOLE_ORDER = re.compile(r"(.*?)(?:-set(?:-\d+)?\.png|\.pdf)")
EARLIER = "earlier"


class Shown:
    """A folder of what buyers were shown: nothing in it is overwritten by anything else. `earlier`
    is what was moved out of its way.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.earlier: list[Path] = []

    def write(self, files: Iterable[tuple[Path, bytes]]) -> None:
        """Write what is not there already; UnusableError as `write_all`."""
        new = [(path, data) for path, data in files if not _holds(path, data)]
        self.earlier += moved_away((path for path, _ in new if path.is_file()), self.folder)
        write_all(new)


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
    whole = _whole_orders(out)
    for number, pieces in orders.items():
        current = {*keep, *(picture_path(made, out) for made in pieces if made.artwork)}
        there = {*_pictures(number, out, records), *whole.get(order_stem(number), ())} - current
        moved += moved_away((path for path in sorted(there) if path.is_file()), out)
    return tuple(moved)


def moved_away(paths: Iterable[Path], out: Path) -> tuple[Path, ...]:
    """Move files of the folder `out` into the one for earlier ones, under a number where another
    has the name; gives where they lie now.
    """
    return tuple(_moved(path, out / EARLIER) for path in paths)


def _pictures(number: str, out: Path, records: Archive) -> Iterator[Path]:
    for each in records.pictures(number):
        name = dict(each.cells).get("name", "")
        yield out / f"{stem(name, number, each.line, each.code)}.png"


def _whole_orders(out: Path) -> dict[str, list[Path]]:
    """Pictures and pages of whole orders in a folder, by what their names begin with."""
    found: dict[str, list[Path]] = {}
    for path in out.iterdir() if out.is_dir() else ():
        name = WHOLE_ORDER.fullmatch(path.name)
        if name:
            found.setdefault(name[1], []).append(path)
    return found


def place_among(path: Path, folder: Path) -> Path:
    """Where a file goes in a folder: under its own name, or a number where another has that."""
    data = path.read_bytes()
    names = chain((path.name,), (f"{path.stem}-{n:02}{path.suffix}" for n in count(1)))
    places = (folder / name for name in names)
    return next(place for place in places if not place.exists() or _holds(place, data))


def _holds(path: Path, data: bytes) -> bool:
    return path.is_file() and path.read_bytes() == data


def _moved(path: Path, folder: Path) -> Path:
    try:
        folder.mkdir(exist_ok=True)
        return path.replace(place_among(path, folder))
    except OSError as error:
        raise UnusableError(f"{path} cannot be moved to {folder} ({error.strerror}).") from error
