"""Texts put into cells of one worksheet part; every other byte stays as it is.

Cells are found by the byte offsets that expat tells, and written as inline strings (ECMA-376
Part 1, 18.3.1.4 and 18.3.1.53), so that neither the shared strings nor any other part changes.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.parsers import expat
from xml.sax.saxutils import escape

from openpyxl.utils.cell import column_index_from_string, get_column_letter, range_boundaries

from proofgen.errors import UnusableError

Place = tuple[int, int]  # row and column, from 1

_TAG = re.compile(rb"""<(?:[^>"']|"[^"]*"|'[^']*')*>""")
_ADDRESS = re.compile(r"([A-Z]+)(\d+)")
# XML 1.0, section 2.2: what a document cannot hold.
_ILLEGAL = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
# 22.9.2.19 (ST_Xstring): what looks like an escape is escaped itself.
_ESCAPE = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")


@dataclass(slots=True)
class _Cell:
    start: int
    end: int
    style: str
    special: str  # why it cannot be written to, or empty


@dataclass(slots=True)
class _Row:
    start: int
    tag_end: int  # after the opening tag
    end: int  # where </row> begins; tag_end for an empty element
    empty: bool
    cells: dict[int, _Cell] = field(default_factory=dict)


@dataclass(slots=True)
class _Found:
    """What is known of a part: rows by number, merged areas, the prefix of its elements."""

    rows: dict[int, _Row] = field(default_factory=dict)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    prefix: str = ""
    dimension: tuple[int, int] | None = None
    filled: int = 0  # the last column that holds anything


def last_column(part: bytes) -> int:
    """The last column (from 1) in which a cell of the worksheet holds something."""
    return _scan(part).filled


def edited(part: bytes, texts: Mapping[Place, str]) -> bytes:
    """The worksheet part with these texts in these cells, whose rows are there.

    UnusableError names a cell that must not be written to: one with a formula or a picture, or in
    a merged area.
    """
    found = _scan(part)
    changes: list[tuple[int, int, bytes]] = []
    for row_number in sorted({row for row, _ in texts}):
        own = {column: text for (row, column), text in texts.items() if row == row_number}
        row = found.rows.get(row_number)
        if row is None:
            raise UnusableError(f"row {row_number} is not in the sheet any more")
        for column in own:
            _check(found, row, row_number, column)
        changes += _row_changes(found, row, row_number, own)
    changes += _dimension(part, found, texts)
    return _changed(part, changes)


def _check(found: _Found, row: _Row, number: int, column: int) -> None:
    at = f"{get_column_letter(column)}{number}"
    cell = row.cells.get(column)
    if cell and cell.special:
        raise UnusableError(f"cell {at} {cell.special}")
    for left, top, right, bottom in found.merged:
        if left <= column <= right and top <= number <= bottom:
            raise UnusableError(f"cell {at} is part of a merged area")


def _row_changes(
    found: _Found, row: _Row, number: int, own: Mapping[int, str]
) -> list[tuple[int, int, bytes]]:
    changes = []
    added: dict[int, bytes] = {}
    for column, text in sorted(own.items()):
        cell = row.cells.get(column)
        written = _cell(found.prefix, number, column, text, cell.style if cell else "")
        if cell:
            changes.append((cell.start, cell.end, written))
        elif text:
            after = [c.start for k, c in sorted(row.cells.items()) if k > column]
            place = after[0] if after else row.end
            added[place] = added.get(place, b"") + written
    if row.empty and added:
        (inner,) = added.values()
        # <row .../> becomes <row ...>cells</row>.
        slash = row.tag_end - 2
        closing = f"</{found.prefix}row>".encode()
        return [(slash, row.tag_end, b">" + inner + closing)]
    return [*changes, *((place, place, inner) for place, inner in added.items())]


def _cell(prefix: str, row: int, column: int, text: str, style: str) -> bytes:
    plain = _ESCAPE.sub("_x005F_", _ILLEGAL.sub("", text))
    p, at = prefix, f"{get_column_letter(column)}{row}"
    styled = f' s="{style}"' if style else ""
    if not plain:
        return f'<{p}c r="{at}"{styled}/>'.encode()
    inner = f'<{p}is><{p}t xml:space="preserve">{escape(plain)}</{p}t></{p}is>'
    return f'<{p}c r="{at}"{styled} t="inlineStr">{inner}</{p}c>'.encode()


def _dimension(
    part: bytes, found: _Found, texts: Mapping[Place, str]
) -> list[tuple[int, int, bytes]]:
    """The <dimension> widened to the right, since some readers believe it."""
    if found.dimension is None:
        return []
    start, end = found.dimension
    tag = part[start:end]
    ref = re.search(rb'ref="([A-Z]+\d+)(?::([A-Z]+)(\d+))?"', tag)
    if not ref:
        return []
    first = ref[1].decode()
    match = _ADDRESS.fullmatch(first)
    assert match
    last_column = column_index_from_string((ref[2] or match[1].encode()).decode())
    last_row = int(ref[3] or match[2])
    right = max(last_column, *(column for _, column in texts))
    low = max(last_row, *(row for row, _ in texts))
    wider = f'ref="{first}:{get_column_letter(right)}{low}"'.encode()
    return [(start + ref.start(), start + ref.end(), wider)]


def _changed(part: bytes, changes: list[tuple[int, int, bytes]]) -> bytes:
    pieces = []
    at = 0
    for start, end, new in sorted(changes, key=lambda change: change[:2]):
        pieces += [part[at:start], new]
        at = end
    return b"".join([*pieces, part[at:]])


def _scan(part: bytes) -> _Found:
    if part.startswith((b"\xff\xfe", b"\xfe\xff")) or b"UTF-16" in part[:100].upper():
        raise UnusableError("its sheet is not written in UTF-8")
    scanner = _Scanner(part)
    scanner.run()
    return scanner.found


class _Scanner:
    """One pass of expat over a worksheet part."""

    def __init__(self, part: bytes) -> None:
        self.found = _Found()
        self._part = part
        self._parser = expat.ParserCreate()
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._row: _Row | None = None
        self._number = 0
        self._column = 0
        self._cell: _Cell | None = None

    def run(self) -> None:
        """Read the whole part."""
        self._parser.Parse(self._part, True)

    def _tag_end(self, start: int) -> int:
        match = _TAG.match(self._part, start)
        assert match
        return match.end()

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        prefix, _, local = name.rpartition(":")
        at = self._parser.CurrentByteIndex
        if local == "row":
            self._start_row(f"{prefix}:" if prefix else "", attributes, at)
        elif local == "c" and self._row:
            self._start_cell(attributes, at)
        elif self._cell and local in ("f", "v", "is"):
            if local == "f":
                self._cell.special = "holds a formula"
            self.found.filled = max(self.found.filled, self._column)
        elif local == "mergeCell":
            left, top, right, bottom = range_boundaries(attributes["ref"])
            self.found.merged.append((left or 1, top or 1, right or 1, bottom or 1))
        elif local == "dimension":
            self.found.dimension = (at, self._tag_end(at))

    def _start_row(self, prefix: str, attributes: dict[str, str], at: int) -> None:
        end = self._tag_end(at)
        empty = self._part[end - 2 : end] == b"/>"
        self._number = int(attributes.get("r", self._number + 1))
        self._row = _Row(at, end, end, empty)
        self._column = 0
        self.found.prefix = prefix
        self.found.rows[self._number] = self._row

    def _start_cell(self, attributes: dict[str, str], at: int) -> None:
        assert self._row
        address = _ADDRESS.fullmatch(attributes.get("r", ""))
        self._column = column_index_from_string(address[1]) if address else self._column + 1
        special = (
            "holds a picture or a value of its own kind" if {"cm", "vm"} & set(attributes) else ""
        )
        self._cell = _Cell(at, self._tag_end(at), attributes.get("s", ""), special)
        self._row.cells[self._column] = self._cell

    def _end(self, name: str) -> None:
        local = name.rpartition(":")[2]
        at = self._parser.CurrentByteIndex
        closing = self._part.startswith(b"</", at)
        if local == "c" and self._cell:
            if closing:
                self._cell.end = self._tag_end(at)
            self._cell = None
        elif local == "row" and self._row:
            if closing:
                self._row.end = at
            self._row = None
