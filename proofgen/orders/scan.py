"""What the spreadsheet reader does not tell about a worksheet, read from its XML in one pass.

Elements: ECMA-376 Part 1, 18.3.1.73 (row), 18.3.1.4 (c), 18.3.1.40 (f), 18.3.1.55 (mergeCell).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import IO
from xml.etree.ElementTree import Element

from defusedxml.ElementTree import iterparse
from openpyxl.utils.cell import column_index_from_string, coordinate_from_string, range_boundaries

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"


@dataclass(frozen=True, slots=True)
class Scan:
    """Hidden rows, (row, column) of formulas without a result, merged (columns, rows) areas.

    An area is (first column, first row, last column, last row), all counted from 1.
    """

    hidden: frozenset[int]
    uncomputed: frozenset[tuple[int, int]]
    merged: tuple[tuple[int, int, int, int], ...]


def scan(part: IO[bytes]) -> Scan:
    """Scan one worksheet part; raises ValueError or ParseError where it is broken."""
    hidden: set[int] = set()
    uncomputed: set[tuple[int, int]] = set()
    merged: list[tuple[int, int, int, int]] = []
    number = 0
    for _, element in iterparse(part, events=("end",)):
        if element.tag == f"{_MAIN}row":
            number = int(element.get("r", number + 1))
            if element.get("hidden") in ("1", "true"):
                hidden.add(number)
            uncomputed.update((number, column) for column in _uncomputed(element))
            element.clear()
        elif element.tag == f"{_MAIN}mergeCell":
            merged.append(_area(element.get("ref", "")))
    return Scan(frozenset(hidden), frozenset(uncomputed), tuple(merged))


def _uncomputed(row: Element) -> list[int]:
    """Columns of the formulas without a result; an empty text is one (t="str", empty value)."""
    found = []
    column = 0
    for cell in row.iterfind(f"{_MAIN}c"):
        address = cell.get("r")
        column = (
            column_index_from_string(coordinate_from_string(address)[0]) if address else column + 1
        )
        if cell.find(f"{_MAIN}f") is None or cell.findtext(f"{_MAIN}v"):
            continue
        if cell.get("t") != "str" or cell.find(f"{_MAIN}v") is None:
            found.append(column)
    return found


def _area(ref: str) -> tuple[int, int, int, int]:
    first_column, first_row, last_column, last_row = range_boundaries(ref)
    # Whole rows or columns cannot be merged; the reader's type allows them.
    return first_column or 1, first_row or 1, last_column or 1, last_row or 1
