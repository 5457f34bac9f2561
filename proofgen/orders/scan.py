"""What the spreadsheet reader does not tell about a worksheet, read from its XML in one pass.

Elements: ECMA-376 Part 1, 18.3.1.73 (row), 18.3.1.4 (c), 18.3.1.40 (f), 18.3.1.55 (mergeCell).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import IO
from xml.parsers import expat

from openpyxl.utils.cell import column_index_from_string, coordinate_from_string, range_boundaries

CHUNK = 1 << 16

Area = tuple[int, int, int, int]

# A sheet without any of these has nothing to tell, and most large ones have none.
_TELLING = (b"hidden", b"<f", b":f", b"mergeCell")


@dataclass(frozen=True, slots=True)
class Scan:
    """Hidden rows, (row, column) of formulas without a result, merged (columns, rows) areas.

    An area is (first column, first row, last column, last row), all counted from 1.
    """

    hidden: frozenset[int]
    uncomputed: frozenset[tuple[int, int]]
    merged: tuple[Area, ...]


def scan(opened: Callable[[], IO[bytes]]) -> Scan:
    """Scan one worksheet part, which `opened` gives from its start; it is never held as a whole.

    Raises ValueError or ExpatError where it is broken.
    """
    with opened() as part:
        if not _tells(part):
            return Scan(frozenset(), frozenset(), ())
    scanner = _Scanner()
    with opened() as part:
        scanner.read(part)
    return Scan(frozenset(scanner.hidden), frozenset(scanner.uncomputed), tuple(scanner.merged))


def _tells(part: IO[bytes]) -> bool:
    before = b""
    while chunk := part.read(CHUNK):
        window = before + chunk
        if any(telling in window for telling in _TELLING):
            return True
        before = chunk[-len(max(_TELLING, key=len)) :]
    return False


class _Scanner:
    """One pass of expat, which keeps no tree."""

    def __init__(self) -> None:
        self.hidden: set[int] = set()
        self.uncomputed: set[tuple[int, int]] = set()
        self.merged: list[Area] = []
        self._row = self._column = 0
        self._formula = self._result = self._in_result = False
        self._type = ""

    def read(self, part: IO[bytes]) -> None:
        """Read the whole part."""
        parser = expat.ParserCreate()
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._text
        parser.ParseFile(part)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        local = name.rpartition(":")[2]
        if local == "row":
            self._row, self._column = int(attributes.get("r", self._row + 1)), 0
            if attributes.get("hidden") in ("1", "true"):
                self.hidden.add(self._row)
        elif local == "c":
            self._start_cell(attributes)
        elif local == "f":
            self._formula = True
        elif local == "v":
            self._in_result = True
            # An empty text is a result.
            self._result = self._result or self._type == "str"
        elif local == "mergeCell":
            left, top, right, bottom = range_boundaries(attributes.get("ref", ""))
            # Whole rows or columns cannot be merged; the reader's type allows them.
            self.merged.append((left or 1, top or 1, right or 1, bottom or 1))

    def _start_cell(self, attributes: dict[str, str]) -> None:
        address = attributes.get("r")
        self._column = (
            column_index_from_string(coordinate_from_string(address)[0])
            if address
            else self._column + 1
        )
        self._type = attributes.get("t", "")
        self._formula = self._result = False

    def _text(self, text: str) -> None:
        if self._in_result and text:
            self._result = True

    def _end(self, name: str) -> None:
        local = name.rpartition(":")[2]
        if local == "v":
            self._in_result = False
        elif local == "c" and self._formula and not self._result:
            self.uncomputed.add((self._row, self._column))
