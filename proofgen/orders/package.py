"""A look at a workbook's file before anything parses it: what could exhaust or deceive a parser.

An .xlsx book is a zip archive of XML parts (ECMA-376 Part 2). Parts are unpacked piece by piece and
searched as bytes, so a hostile book costs neither memory nor more than about a second.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Iterator

from proofgen.errors import UnusableError

# The compound file that wraps a password-protected book, and that an old .xls is ([MS-CFB] 2.2).
COMPOUND = bytes.fromhex("D0CF11E0A1B11AE1")
ENCRYPTED = "EncryptedPackage".encode("utf-16-le")  # [MS-OFFCRYPTO] 1.3
# The namespace of ISO/IEC 29500-1 (Strict), Annex A.
STRICT = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
OPEN_DOCUMENT = b"application/vnd.oasis.opendocument"  # ODF 1.3 Part 2, section 3.3

MOST_UNPACKED = 200_000_000  # bytes; 100,000 rows of orders take about 60 million
MOST_PARTS = 5_000
MOST_CELLS = 5_000_000
LAST_ROW = 1_048_576  # of any sheet; "Excel specifications and limits"
MOST_MERGED = 1_000_000  # cells of one area

CHUNK = 1 << 20
KEPT = 4096  # bytes of a chunk that are looked at again with the next one
_ROW = re.compile(rb"<(?:\w+:)?row\b[^>]*?\br\s*=\s*[\"'](\d{1,30})[\"']")
_MERGE = re.compile(
    rb"<(?:\w+:)?mergeCell\b[^>]*?\bref\s*=\s*"
    rb"[\"']([A-Z]{1,4})(\d{1,12}):([A-Z]{1,4})(\d{1,12})[\"']"
)
_CELL = re.compile(rb"<(?:\w+:)?c[ />]")


def look(name: str, data: bytes) -> None:
    """UnusableError where the book is of another kind, locked, damaged or absurd."""
    if data.startswith(COMPOUND):
        raise UnusableError(f"{name} {_compound(data)}.")
    if not data.startswith(b"PK"):
        raise UnusableError(
            f"{name} is not an xlsx book or is damaged; open it in your spreadsheet program and "
            f"save it as .xlsx again."
        )
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            _look_into(name, package)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise UnusableError(
            f"{name} is damaged ({error}); open it in your spreadsheet program and save it as "
            f".xlsx again, or take the last good copy."
        ) from error


def _compound(data: bytes) -> str:
    if ENCRYPTED in data:
        return "is protected with a password; save a copy without one"
    return "is an old .xls book; save it as .xlsx"


def _look_into(name: str, package: zipfile.ZipFile) -> None:
    parts = package.infolist()
    names = [part.filename for part in parts]
    if "mimetype" in names and package.read("mimetype")[:60].startswith(OPEN_DOCUMENT):
        raise UnusableError(f"{name} is an OpenDocument file (.ods); save it as .xlsx.")
    if len(set(map(str.casefold, names))) != len(names):
        raise UnusableError(
            f"{name} has the same part twice, so it was tampered with; save it anew."
        )
    size = sum(part.file_size for part in parts)
    if size > MOST_UNPACKED or len(parts) > MOST_PARTS:
        raise UnusableError(
            f"{name} would unpack to {size / 1e6:.0f} MB in {len(parts)} parts, more than any "
            f"order book holds ({MOST_UNPACKED / 1e6:.0f} MB); copy the orders into a new book."
        )
    for part in parts:
        if part.filename.endswith((".xml", ".rels")):
            _look_at(name, part.filename, _windows(package, part))


def _windows(package: zipfile.ZipFile, part: zipfile.ZipInfo) -> Iterator[tuple[bytes, int]]:
    """The part a piece at a time with the end of the piece before, and how much of it is known."""
    before = b""
    with package.open(part) as stream:
        while chunk := stream.read(CHUNK):
            yield before + chunk, len(before)
            before = chunk[-KEPT:]


def _look_at(name: str, part: str, windows: Iterator[tuple[bytes, int]]) -> None:
    cells = 0
    sheet = part.startswith("xl/worksheets/")
    for window, known in windows:
        if b"<!DOCTYPE" in window or b"<!ENTITY" in window:
            raise UnusableError(
                f"{name}, part {part}: has a DOCTYPE or entities, which no spreadsheet program "
                f"writes; save the book anew."
            )
        if part == "xl/workbook.xml" and STRICT in window:
            raise UnusableError(
                f"{name} is saved as a Strict Open XML workbook, which cannot be read; "
                "save it as an ordinary .xlsx workbook."
            )
        if sheet:
            cells += len(_CELL.findall(window, known))
            _look_at_rows(name, part, window, cells)


def _look_at_rows(name: str, part: str, window: bytes, cells: int) -> None:
    last = max((int(number) for number in _ROW.findall(window)), default=0)
    if last > LAST_ROW:
        raise UnusableError(
            f"{name}, part {part}: has a row {last}, and no sheet has more than {LAST_ROW}; "
            f"copy the orders into a new book."
        )
    if cells > MOST_CELLS:
        raise UnusableError(
            f"{name}, part {part}: has more than {MOST_CELLS} cells; "
            f"copy the orders into a new book."
        )
    for left, top, right, bottom in _MERGE.findall(window):
        area = (_column(right) - _column(left) + 1) * (int(bottom) - int(top) + 1)
        if area > MOST_MERGED:
            raise UnusableError(
                f"{name}, part {part}: merges {area} cells "
                f"({left.decode()}{int(top)}:{right.decode()}{int(bottom)}); unmerge them."
            )


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - ord("A") + 1
    return number
