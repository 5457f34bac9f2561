"""An order book that is a text file of separated values (RFC 4180), whatever its dialect."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from proofgen.errors import UnusableError
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.columns import ALIASES, KNOWN, plain
from proofgen.orders.parts import LAST_ROW
from proofgen.orders.sheet import Cell, Holds, Row, Sheet, address

MOST_BYTES = 200_000_000
DELIMITERS = ",;\t|"
_KNOWN = frozenset((*map(plain, KNOWN), *ALIASES))
_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


def read_csv(path: Path, data: bytes) -> Sheet:
    """The one sheet of a text file; UnusableError where it is no such file.

    A row is as wide as the one that most rows are like; what is wider or narrower is flagged, since
    a delimiter within a text shifts all that follows.
    """
    if len(data) > MOST_BYTES or b"\0\0\0\0" in data[:4096]:
        raise UnusableError(f"{path.name} is no text file of orders; save the orders as .xlsx.")
    text, flags = _decoded(path, data)
    lines = text.splitlines(keepends=True)
    delimiter, skipped = _delimiter(lines)
    reader = csv.reader(
        io.StringIO("".join(lines[skipped:]), newline=""), delimiter=delimiter, strict=True
    )
    rows: list[Row] = []
    try:
        for values in reader:
            number = len(rows) + 1 + skipped
            if number > LAST_ROW:
                raise UnusableError(
                    f"{path.name}: has more than {LAST_ROW} rows; keep only those of orders."
                )
            rows.append(Row(number, _cells(values, number), width=len(values)))
    except csv.Error as error:
        long = "limit" in str(error)  # the module has one exception for all
        what = f"a cell has more than {csv.field_size_limit()} characters" if long else error
        raise UnusableError(
            f"{path.name}, line {reader.line_num + skipped}: {what}; look for a quotation mark "
            f"that is not closed, or {'shorten the text' if long else 'save the orders as .xlsx'}."
        ) from None
    return Sheet(path.stem, tuple(row for row in rows if row.cells), flags)


def _decoded(path: Path, data: bytes) -> tuple[str, tuple[Flag, ...]]:
    """By its byte-order mark, else UTF-16 by its zero bytes, else UTF-8, else Windows-1252."""
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _strictly(path, data, encoding), ()
    zeros = data[:4096].count(0)
    if zeros > len(data[:4096]) / 4:
        high = data[:4096:2].count(0) > data[1:4096:2].count(0)
        return _strictly(path, data, "utf-16-be" if high else "utf-16-le"), ()
    try:
        return data.decode("utf-8"), ()
    except UnicodeDecodeError:
        guessed = Flag(kinds.ENCODING_GUESSED, path.name)
        return data.decode("cp1252", "replace"), (guessed,)


def _strictly(path: Path, data: bytes, encoding: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError:
        raise UnusableError(
            f"{path.name} is not the {encoding.upper()} text that it says it is; "
            f"save the orders as .xlsx."
        ) from None


def _delimiter(lines: list[str]) -> tuple[str, int]:
    """The delimiter, and how many lines say it ("sep=;"); the one that parts the first lines into
    as many known headers as any, and then the one that they have most.

    csv.Sniffer guesses letters and spaces, so it is not asked.
    """
    first = lines[0].strip() if lines else ""
    if first.lower().startswith("sep=") and len(first) == 5:
        return first[4], 1
    head = lines[:20]
    return max(DELIMITERS, key=lambda each: (_headers(head, each), "".join(head).count(each))), 0


def _headers(lines: list[str], delimiter: str) -> int:
    """The most known headers that any of the lines has when it is parted so."""
    parted = csv.reader(lines, delimiter=delimiter)
    try:
        return max((sum(plain(v) in _KNOWN for v in values) for values in parted), default=0)
    except csv.Error:
        return 0


def _cells(values: list[str], number: int) -> dict[int, Cell]:
    return {
        column: Cell(address(column, number), Holds.TEXT, value)
        for column, value in enumerate(values, start=1)
        if value.strip()
    }
