"""The one place that knows openpyxl's reader: an xlsx book becomes plain sheets."""

from __future__ import annotations

import io
import warnings
import zipfile
import zlib
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any
from xml.etree.ElementTree import ParseError

import openpyxl
from openpyxl.utils.exceptions import InvalidFileException

from proofgen.errors import UnusableError
from proofgen.orders.scan import Scan, scan
from proofgen.orders.sheet import Cell, Holds, Row, Sheet, address

# What a damaged package makes zipfile, the XML parser and openpyxl raise.
_DAMAGE = (
    AttributeError, EOFError, IndexError, InvalidFileException, KeyError, NotImplementedError,
    OSError, OverflowError, ParseError, RuntimeError, TypeError, ValueError,
    zipfile.BadZipFile, zlib.error,
)  # fmt: skip


def read_sheets(name: str, data: bytes) -> tuple[Sheet, ...]:
    """Every worksheet of the book in these bytes, which `orders.package` has looked at.

    Raises UnusableError where it cannot be read.
    """
    try:
        with warnings.catch_warnings():
            # They tell what saving would lose, and the book is never saved.
            warnings.simplefilter("ignore", UserWarning)
            sheets = _sheets(data)
    except _DAMAGE as error:
        raise UnusableError(
            f"{name} is not an xlsx book or is damaged; "
            "open it in your spreadsheet program and save it as .xlsx again"
        ) from error
    if not sheets:
        raise UnusableError(f"{name} has no worksheet; put the orders on a worksheet")
    return sheets


def _sheets(data: bytes) -> tuple[Sheet, ...]:
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        try:
            return tuple(_sheet(sheet, package) for sheet in book.worksheets)
        finally:
            book.close()


def _sheet(sheet: Any, package: zipfile.ZipFile) -> Sheet:
    # A wrong <dimension> would silently drop rows.
    sheet.reset_dimensions()
    with package.open(sheet._worksheet_path) as part:
        found = scan(part)
    rows = []
    for number, cells in enumerate(sheet.iter_rows(), start=1):
        read = {column: cell for column, cell in _cells(cells, number, found) if not cell.blank}
        if read:
            rows.append(Row(number, read, number in found.hidden))
    return Sheet(sheet.title, _unmerged(rows, found))


def _cells(cells: tuple[Any, ...], number: int, found: Scan) -> Iterator[tuple[int, Cell]]:
    for column, cell in enumerate(cells, start=1):
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


def _unmerged(rows: list[Row], found: Scan) -> tuple[Row, ...]:
    """Give blank cells that are merged downwards the value of the top one."""
    numbers = [row.number for row in rows]
    filled = {row.number: dict(row.cells) for row in rows}
    for column, first, _, last in found.merged:
        top = filled.get(first, {}).get(column)
        if top is None:
            continue
        for number in numbers[bisect_right(numbers, first) : bisect_right(numbers, last)]:
            at = address(column, number)
            filled[number].setdefault(column, replace(top, at=at, merged_from=top.at))
    return tuple(replace(row, cells=filled[row.number]) for row in rows)
