"""The counts of layers in stock that the maker types on a sheet of the order book."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from proofgen.errors import UnusableError
from proofgen.orders import cells
from proofgen.orders.columns import plain
from proofgen.orders.read import sheets_of
from proofgen.orders.sheet import Cell, Row, Sheet

SHEET = "stock"
HEADERS = ("date", "design", "layer", "count")
CHOICES = ("size", "finish", "hanger")  # columns that may be left out, and cells left blank
MOST = 100_000


@dataclass(frozen=True, slots=True)
class Count:
    """So many of a design's layer were counted on a day (ISO), in a size, in a finish and with the
    hole for a hanger, each empty for the usual one; `where` is the row, in words.
    """

    day: str
    design: str
    layer: str
    count: int
    where: str
    size: str = ""
    finish: str = ""
    hanger: str = ""


def read_counts(path: Path) -> tuple[Count, ...]:
    """The counts by day and then by row; none where the book has no such sheet.

    UnusableError names file, sheet, row and column of what cannot be read.
    """
    sheet = next((s for s in sheets_of(path) if s.name.strip().casefold() == SHEET), None)
    if sheet is None:
        return ()
    rows = iter(sheet.rows)
    header = {plain(cell.text): column for column, cell in _first(rows).items()}
    missing = [name.capitalize() for name in HEADERS if name not in header]
    found = [_count(path.name, sheet, row, header, missing) for row in rows]
    return tuple(sorted((each for each in found if each), key=lambda each: each.day))


def _first(rows: object) -> Mapping[int, Cell]:
    row = next(rows, None)  # type: ignore[call-overload]
    return row.cells if row else {}


def _count(
    file: str, sheet: Sheet, row: Row, header: Mapping[str, int], missing: list[str]
) -> Count | None:
    """A row of the sheet, None where it says nothing."""
    names = (*HEADERS, *CHOICES)
    found = {name: row.cells.get(header.get(name, 0), Cell("")) for name in names}
    if all(cell.blank for cell in found.values()):
        return None
    place = f'{file}, sheet "{sheet.name}", row {row.number}'
    if missing:
        raise UnusableError(f"{place}: the column {' and '.join(missing)} is missing; add it.")
    day, flags = cells.day(found["date"], place)
    if flags or not day:
        raise UnusableError(f"{place}, Date: type the day of the count as YYYY-MM-DD.")
    return Count(
        day=day,
        design=found["design"].text.strip(),
        layer=found["layer"].text.strip(),
        count=_number(found["count"], place),
        where=place,
        size=found["size"].text.strip(),
        finish=found["finish"].text.strip(),
        hanger=found["hanger"].text.strip(),
    )


def _number(cell: Cell, place: str) -> int:
    text = cell.text.strip()
    if not text.isascii() or not text.isdecimal() or int(text) > MOST:
        raise UnusableError(f"{place}, Count: type a whole number, 0 or more, not {text!r}.")
    return int(text)
