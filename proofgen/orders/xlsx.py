"""The one place that knows openpyxl's reader: an xlsx book becomes plain sheets."""

from __future__ import annotations

import io
import warnings
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import partial
from itertools import repeat
from operator import is_
from typing import Any, TypeVar
from xml.etree.ElementTree import ParseError
from xml.parsers.expat import ExpatError

from openpyxl.cell.read_only import EMPTY_CELL
from openpyxl.reader.excel import ExcelReader
from openpyxl.utils.exceptions import InvalidFileException

from proofgen.errors import UnusableError
from proofgen.orders.package import is_parsed
from proofgen.orders.scan import Area, Scan, scan
from proofgen.orders.sheet import Cell, Holds, Row, Sheet, address

T = TypeVar("T")

MOST_COLUMNS = 256  # what lies further right is no order

# What a damaged package makes zipfile, the XML parser and openpyxl raise.
_DAMAGE = (
    AttributeError, EOFError, ExpatError, IndexError, InvalidFileException, KeyError,
    NotImplementedError, OSError, OverflowError, ParseError, RuntimeError, TypeError, ValueError,
    zipfile.BadZipFile, zlib.error,
)  # fmt: skip


def read_sheets(name: str, data: bytes) -> tuple[Sheet, ...]:
    """Every worksheet of the book in these bytes, which `orders.package` has looked at.

    Rows are read while they are iterated over, and again each time, so that no more than one is
    held. Raises UnusableError, then too, where the book cannot be read.
    """
    sheets = _guarded(name, lambda: _sheets(name, data))
    if not sheets:
        raise UnusableError(f"{name} has no worksheet; put the orders on a worksheet")
    return sheets


def _guarded(name: str, read: Callable[[], T]) -> T:
    """The result, or one sentence for whatever a damaged package makes the libraries raise."""
    try:
        with warnings.catch_warnings():
            # They tell what saving would lose, and the book is never saved.
            warnings.simplefilter("ignore", UserWarning)
            return read()
    except _DAMAGE as error:
        raise UnusableError(
            f"{name} is not an xlsx book or is damaged; "
            "open it in your spreadsheet program and save it as .xlsx again"
        ) from error


class _Looked(zipfile.ZipFile):
    """A package that gives only the parts that `orders.package` has looked at."""

    def open(self, name: Any, *args: Any, **options: Any) -> Any:
        """The part as a file; KeyError for any other, as for one that is missing."""
        if not is_parsed(name):
            raise KeyError(name)
        return super().open(name, *args, **options)


class _Reader(ExcelReader):
    """openpyxl's reader, kept to what is needed of a book."""

    def __init__(self, data: bytes) -> None:
        super().__init__(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        # Never closed: it reads from memory, and the rows are read from it later.
        self.archive = _Looked(io.BytesIO(data))

    def read_chartsheet(self, sheet: Any, rel: Any) -> None:
        """Nothing: no order stands on a chart."""


def _sheets(name: str, data: bytes) -> tuple[Sheet, ...]:
    reader = _Reader(data)
    reader.read()
    worksheets: list[Any] = list(reader.wb.worksheets)
    return tuple(
        Sheet(sheet.title, _Rows(name, sheet, scan(partial(reader.archive.open, path))))
        for sheet in worksheets
        for path in (sheet._worksheet_path,)
    )


class _Rows:
    """The rows of a worksheet that hold anything, from the top, as often as they are asked for."""

    def __init__(self, name: str, sheet: Any, found: Scan) -> None:
        self._name, self._sheet, self._found = name, sheet, found

    def __iter__(self) -> Iterator[Row]:
        # A wrong <dimension> would silently drop rows.
        self._sheet.reset_dimensions()
        # Or a single cell in the last column of many rows would cost as much as full ones.
        rows = self._sheet.iter_rows(max_col=MOST_COLUMNS)
        merged = _Merged(self._found.merged)
        number, last = 0, None
        while (cells := _guarded(self._name, lambda: next(rows, None))) is not None:
            number += 1
            # The very same object again stands for each row that is missing.
            if cells is last or all(map(is_, cells, repeat(EMPTY_CELL))):
                last = cells
                continue
            read = {k: cell for k, cell in _cells(cells, number, self._found) if not cell.blank}
            if read:
                yield Row(number, merged.filled(number, read), number in self._found.hidden)


class _Merged:
    """Gives blank cells that are merged downwards the value of the top one, row by row."""

    def __init__(self, areas: tuple[Area, ...]) -> None:
        self._by_top: dict[int, list[Area]] = {}
        for area in areas:
            self._by_top.setdefault(area[1], []).append(area)
        self._open: dict[int, tuple[int, Cell]] = {}

    def filled(self, number: int, cells: dict[int, Cell]) -> dict[int, Cell]:
        """The cells of the row with that number, which is the next that holds anything."""
        for column, (last, top) in self._open.items():
            if number <= last:
                at = address(column, number)
                cells.setdefault(column, replace(top, at=at, merged_from=top.at))
        for column, _, _, last in self._by_top.get(number, ()):
            if column in cells:
                self._open[column] = (last, cells[column])
        return cells


def _cells(cells: tuple[Any, ...], number: int, found: Scan) -> Iterator[tuple[int, Cell]]:
    for column, cell in enumerate(cells, start=1):
        if cell is EMPTY_CELL:
            continue
        at = address(column, number)
        if (number, column) in found.uncomputed:
            yield column, Cell(at, Holds.UNCOMPUTED, "a formula without a result")
        elif cell.value is not None:
            yield column, _cell(at, cell)


def _cell(at: str, cell: Any) -> Cell:
    value = cell.value
    if cell.data_type == "e":
        return Cell(at, Holds.ERROR, str(value))
    if isinstance(value, bool):
        return Cell(at, Holds.TRUTH, str(value).upper())
    if isinstance(value, int | float):
        return Cell(at, Holds.NUMBER, _digits(value), cell.number_format)
    if isinstance(value, datetime | date | time | timedelta):
        return Cell(at, Holds.DATE, _iso(value), cell.number_format)
    return Cell(at, Holds.TEXT, str(value))


def _digits(value: float) -> str:
    text = format(Decimal(repr(value)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _iso(value: datetime | date | time | timedelta) -> str:
    """ISO text; midnight is left out, because a date that was typed has no time."""
    if isinstance(value, datetime) and value.time() == time():
        value = value.date()
    return str(value) if isinstance(value, timedelta) else value.isoformat()
