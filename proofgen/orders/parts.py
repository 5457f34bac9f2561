"""What the XML parts of a book would cost a parser, counted in their bytes before one is called.

Whatever a parser keeps is bounded: elements that are neither rows, cells nor shared strings; what
stands in one row or string, or in a part that has none; how many there are; the length of a text.
Elements: ECMA-376 Part 1, 18.3.1.73 (row), 18.3.1.4 (c), 18.4.8 (si), 18.3.1.55 (mergeCell).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

from proofgen.errors import UnusableError

# Bytes that are unpacked at once. A text of 32,767 characters, the most that a cell holds ("Excel
# specifications and limits"), is shorter even where each is a reference such as &#x1F600;.
CHUNK = 400_000

LAST_ROW = 1_048_576  # of any sheet; "Excel specifications and limits"
MOST_ROWS = LAST_ROW  # of all sheets together
MOST_STRINGS = 800_000  # 100,000 rows of 8 texts that are all different
MOST_STRING_BYTES = 75_000_000  # shared strings stay in memory, up to four bytes a letter
MOST_ELEMENTS = 6_000_000  # 100,000 rows of 20 cells, three elements each
MOST_OTHERS = 100_000  # styles, names, merges, validations; 64,000 styles are the most there may be
MOST_AT_ONCE = 100_000  # elements in one row or string
MOST_BYTES_AT_ONCE = 10_000_000
MOST_MERGED = 1_000_000  # cells of all merged areas

_PREFIX = rb"(?:[^\s<>/:]*:)?"
# A row or shared string by its name; any element but cells and what stands in them by nothing.
_NOTABLE = re.compile(
    rb"<(?![/!?]|" + _PREFIX + rb"(?:c|v|f|is|t)[\s/>])(?:" + _PREFIX + rb"(row|si)(?=[\s/>]))?"
)
# Where one ends; where it begins; and whether it ends there too.
_ENDS = re.compile(rb"<(/?)" + _PREFIX + rb"(?:row|si)(?=[\s/>])([^<]*/>\s*(?=<|\Z))?")
# A row's number of seven digits or more, or one written as anything but digits. An attribute may
# hold ">", but never "<" (XML 1.0, production 10).
_NUMBER = re.compile(
    rb"<" + _PREFIX + rb"row\b[^<]*?\sr\s*=\s*[\"'](?!\d{1,6}[\"'])([^\"'<]{0,30})"
)
_MERGE = re.compile(
    rb"<" + _PREFIX + rb"mergeCell\b[^<]*?\bref\s*=\s*"
    rb"[\"']([A-Z]{1,4})(\d{1,12}):([A-Z]{1,4})(\d{1,12})[\"']"
)
_ENCODING = re.compile(rb"<\?xml[^<]*?\bencoding\s*=\s*[\"']([^\"']*)[\"']")
_READABLE = (b"utf-8", b"utf8", b"us-ascii", b"ascii")
_WIDE = (b"\xff\xfe", b"\xfe\xff", b"<\0", b"\0<", b"\0\0")  # UTF-16 and UTF-32
# The namespace of ISO/IEC 29500-1 (Strict), Annex A.
_STRICT = b"http://purl.oclc.org/ooxml/spreadsheetml/main"

_ANEW = "copy the orders into a new book"


class Counts:
    """What has been found in a book so far; `look_at` raises UnusableError when it is too much."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._rows = self._strings = self._elements = self._others = 0
        self._merged = self._string_bytes = 0
        self._part, self._in_strings = "", False
        self._open = ""  # "<" where a row or string has begun
        self._at_once = 0, 0  # elements and bytes since the part's last row or string

    def look_at(self, part: str, chunks: Iterable[bytes]) -> None:
        """Look at one part, which comes in chunks of at most CHUNK bytes."""
        self._part, self._in_strings, self._at_once = part, False, (0, 0)
        self._open = ""
        rest = b""
        for number, chunk in enumerate(chunks):
            if not number:
                self._look_at_encoding(chunk)
            # Everything that is looked for begins with "<", so whole elements are looked at.
            end = chunk.rfind(b"<")
            if end < 0 and len(chunk) == CHUNK:
                raise self._refused("has a text that no cell can hold", "shorten it")
            if end < 0:
                rest += chunk
            else:
                self._look_at_elements(rest + chunk[:end])
                rest = chunk[end:]
        self._look_at_elements(rest)

    def _look_at_encoding(self, start: bytes) -> None:
        said = _ENCODING.search(start[:CHUNK])
        wide = start.startswith(_WIDE)
        if wide or (said and said[1].lower() not in _READABLE):
            raise self._refused("is not written in UTF-8", "save the book anew")

    def _look_at_elements(self, piece: bytes) -> None:
        if b"<!DOCTYPE" in piece or b"<!ENTITY" in piece:
            raise self._refused(
                "has a DOCTYPE or entities, which no spreadsheet program writes", "save it anew"
            )
        if self._part == "xl/workbook.xml" and _STRICT in piece:
            raise UnusableError(
                f"{self._name} is saved as a Strict Open XML workbook, which cannot be read; "
                "save it as an ordinary .xlsx workbook."
            )
        found = Counter(_NOTABLE.findall(piece))
        self._others += found[b""]
        self._rows += found[b"row"]
        self._strings += found[b"si"]
        self._in_strings = self._in_strings or b"si" in found
        self._string_bytes += len(piece) * self._in_strings
        self._elements += _elements(piece)
        parted = len(found) > (b"" in found)
        self._look_at_size(piece, parted)
        if parted:
            self._look_at_nesting(piece)
        if found[b"row"]:
            self._look_at_rows(piece)
        if b"mergeCell" in piece:
            self._look_at_merges(piece)
        self._compare()

    def _look_at_size(self, piece: bytes, parted: bool) -> None:
        """Bound what stands between two rows or strings, of which the piece has one if `parted`.

        Two in one piece cannot be far apart.
        """
        last = max(map(piece.rfind, (b"<row", b":row", b"<si", b":si"))) if parted else 0
        counted = _elements(piece, last), len(piece) - last
        before = (0, 0) if parted else self._at_once
        self._at_once = before[0] + counted[0], before[1] + counted[1]
        if self._at_once[0] > MOST_AT_ONCE or self._at_once[1] > MOST_BYTES_AT_ONCE:
            raise self._refused("holds more in one place than any order book", _ANEW)

    def _look_at_nesting(self, piece: bytes) -> None:
        """A parser keeps a row until its end, so one in another would hide how much that holds."""
        ends = ("/" if end else "0" if both else "<" for end, both in _ENDS.findall(piece))
        order = self._open + "".join(ends)
        if "<<" in order or "<0" in order:
            raise self._refused("has rows or texts in one another", "save the book anew")
        self._open = order[-1:]

    def _look_at_rows(self, piece: bytes) -> None:
        for number in _NUMBER.findall(piece):
            if not number.isdigit() or int(number) > LAST_ROW:
                said = number.decode("ascii", "replace")
                raise self._refused(
                    f"has a row {said}, and no sheet has more than {LAST_ROW}", _ANEW
                )

    def _look_at_merges(self, piece: bytes) -> None:
        for left, top, right, bottom in _MERGE.findall(piece):
            columns = abs(_column(right) - _column(left)) + 1
            self._merged += columns * (abs(int(bottom) - int(top)) + 1)
            if self._merged > MOST_MERGED:
                area = f"{left.decode()}{int(top)}:{right.decode()}{int(bottom)}"
                raise self._refused(f"merges {self._merged} cells (up to {area})", "unmerge them")

    def _compare(self) -> None:
        counted = (
            (self._rows, MOST_ROWS, "rows"),
            (self._strings, MOST_STRINGS, "texts"),
            (self._elements, MOST_ELEMENTS, "elements"),
            (self._others, MOST_OTHERS, "styles, names and merges"),
            (self._string_bytes, MOST_STRING_BYTES, "bytes of text"),
        )
        for count, most, what in counted:
            if count > most:
                raise self._refused(f"brings the book to more than {most} {what}", _ANEW)

    def _refused(self, what: str, do: str) -> UnusableError:
        return UnusableError(f"{self._name}, part {self._part}: {what}; {do}.")


def _elements(piece: bytes, start: int = 0) -> int:
    return piece.count(b"<", start) - piece.count(b"</", start)


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - ord("A") + 1
    return number
