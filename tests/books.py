"""Order books and lines made on the fly."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import openpyxl

from proofgen.orders.order import Line
from proofgen.orders.read import read_book
from proofgen.workshop.read import load

FIRST_ROW = 2


def write_book(
    path: Path,
    rows: Iterable[Mapping[str, Any]],
    hidden: Iterable[int] = (),
    merged: Iterable[str] = (),
) -> Path:
    """A book with a column for every key; the first row's number is FIRST_ROW.

    A cell is a value, or a table with `value` and perhaps `type` ("formula" or "error") and
    `format` (the number format).
    """
    rows = list(rows)
    columns = list(dict.fromkeys(key for row in rows for key in row))
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.append([column.capitalize() for column in columns])
    for number, row in enumerate(rows, start=FIRST_ROW):
        for column, key in enumerate(columns, start=1):
            typed = row.get(key)
            table = typed if isinstance(typed, Mapping) else {"value": typed}
            cell = sheet.cell(number, column)
            cell.value = table["value"]
            kind = {"formula": "f", "error": "e"}.get(table.get("type", ""))
            if kind:
                cell.data_type = kind
            elif isinstance(cell.value, str):
                cell.data_type = "s"
            cell.number_format = table.get("format", cell.number_format)
    for number in hidden:
        sheet.row_dimensions[number].hidden = True
    for area in merged:
        sheet.merge_cells(area)
    book.save(path)
    return path


def lines(path: Path, *rows: Mapping[str, Any]) -> tuple[Line, ...]:
    """The rows as they are read from a book that is written to `path`."""
    found, _ = read_book(write_book(path, rows), load(None))
    return found
