"""A look at a workbook's file before anything parses it: what could exhaust or deceive a parser.

An .xlsx book is a zip archive of XML parts (ECMA-376 Part 2). Parts are unpacked piece by piece and
searched as bytes (`parts.py`), so a hostile book costs neither memory nor more than about a second.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Iterator

from proofgen.errors import UnusableError
from proofgen.orders.parts import CHUNK, Counts

# The compound file that wraps a password-protected book, and that an old .xls is ([MS-CFB] 2.2).
COMPOUND = bytes.fromhex("D0CF11E0A1B11AE1")
ENCRYPTED = "EncryptedPackage".encode("utf-16-le")  # [MS-OFFCRYPTO] 1.3
OPEN_DOCUMENT = b"application/vnd.oasis.opendocument"  # ODF 1.3 Part 2, section 3.3

MOST_UNPACKED = 200_000_000  # bytes; 100,000 rows of orders take about 60 million
MOST_PARTS = 5_000
# Folders of what an order book is never read for; a reader is refused them too.
_UNREAD = tuple(
    f"xl/{folder}"
    for folder in ("charts/", "comments", "drawings/", "externalLinks/", "media/", "pivotCache/")
)

_CONTROLS = re.compile(rb"[\x00-\x08\x0b\x0c\x0e-\x1f]")


def look(name: str, data: bytes) -> None:
    """UnusableError where the book is of another kind, locked, damaged or absurd."""
    if data.startswith(COMPOUND):
        raise UnusableError(f"{name} {_compound(data)}.")
    if _is_text(data[:4096]):
        raise UnusableError(f"{name} is a text file; name it .csv if it holds orders.")
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


def _is_text(start: bytes) -> bool:
    """Whether no byte is a control character but tabs and line breaks, and it is no markup."""
    return bool(start) and not start.startswith(b"<") and not _CONTROLS.search(start)


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
    counts = Counts(name)
    for part in parts:
        if part.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise UnusableError(
                f"{name}, part {part.filename}: is packed in a way that no spreadsheet program "
                f"uses; save the book anew."
            )
        if is_parsed(part.filename):
            counts.look_at(part.filename, _chunks(package, part))


def is_parsed(part: str) -> bool:
    """Whether a reader of order books may open that part: it is XML, and no picture or chart."""
    return part.lower().endswith((".xml", ".rels")) and not part.startswith(_UNREAD)


def _chunks(package: zipfile.ZipFile, part: zipfile.ZipInfo) -> Iterator[bytes]:
    with package.open(part) as stream:
        while chunk := stream.read(CHUNK):
            yield chunk
