"""Verdict, remedy and code in proofgen's own columns of the person's book, and nothing else in it.

The book is never saved by a spreadsheet library, which would lose much of it: one worksheet part is
edited as bytes, all others are copied, and the result is verified before it replaces the book.
"""

from __future__ import annotations

import io
import os
import posixpath
import shutil
import warnings
import zipfile
from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass
from pathlib import Path
from xml.etree.ElementTree import Element

from defusedxml.ElementTree import fromstring
from openpyxl import load_workbook

from proofgen.errors import UnusableError
from proofgen.files import backed_up, open_elsewhere, write_bytes
from proofgen.orders.package import look
from proofgen.results.cell_edit import Place, edited, last_column

Cells = list[tuple[Place, object]]

COLUMNS = ("proofgen verdict", "proofgen remedy", "proofgen code")
VERDICTS = ("ready", "look", "stop")
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_LINK = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
SPARE = 20_000_000  # bytes that have to be free beside twice the book's size


@dataclass(frozen=True, slots=True)
class Target:
    """Where to write: the sheet's name, its header row, and the texts of COLUMNS by row.

    `whole` says that these are all rows with orders, so that a verdict in any other is out of date.
    """

    sheet: str
    header: int
    rows: Mapping[int, tuple[str, str, str]]
    whole: bool = False


def write_back(book: Path, target: Target) -> Path | None:
    """Put the texts into the book; gives the path of the backup that was made first, None where
    they stand there already.

    UnusableError says in one sentence why nothing was changed.
    """
    book = book.resolve()
    if book.suffix.lower() not in (".xlsx", ".xlsm"):
        raise UnusableError(f"{book.name}: only .xlsx and .xlsm books are written back to.")
    _check_free(book)
    before = book.read_bytes()
    look(book.name, before)
    try:
        after = _with_texts(before, target)
    except UnusableError as error:
        raise UnusableError(f"{book.name} was not written to: {error}.") from None
    if after == before:
        return None
    backup = backed_up(book, before)
    _check_free(book)
    if book.read_bytes() != before:
        raise UnusableError(f"{book.name} was not written to: it was saved just now; run it again.")
    write_bytes(book, after)
    return backup


def _with_texts(before: bytes, target: Target) -> bytes:
    with zipfile.ZipFile(io.BytesIO(before)) as package:
        if any(name.startswith("_xmlsignatures/") for name in package.namelist()):
            raise UnusableError("it is signed, and a change would break the signature")
        part = _part_of(package, target.sheet)
        sheet = package.read(part)
        was = _values(before, target.sheet)
        texts = _texts(sheet, was, target)
        there = dict(was)
        if all(_alike(there.get(at), text) for at, text in texts.items()):
            return before
        changed = edited(sheet, texts)
        after = _repacked(package, part, changed)
        _verify_parts(package, after, part)
    _verify(was, after, target.sheet, texts)
    return after


def _part_of(package: zipfile.ZipFile, sheet: str) -> str:
    """The part of the worksheet of that name (ECMA-376 Part 1, 18.2.19 and Part 2, 9.3)."""
    book = fromstring(package.read("xl/workbook.xml"))
    links: list[Element] = list(fromstring(package.read("xl/_rels/workbook.xml.rels")))
    wanted = next(
        (each.get(_LINK) for each in book.iter(f"{_MAIN}sheet") if each.get("name") == sheet), None
    )
    found = next(
        (e.get("Target", "") for e in links if e.tag == _RELATION and e.get("Id") == wanted), None
    )
    if not found:
        raise UnusableError(f'its sheet "{sheet}" is not where it should be')
    return (
        posixpath.normpath(posixpath.join("xl", found)).lstrip("/")
        if found[0] != "/"
        else found[1:]
    )


def _texts(part: bytes, cells: Cells, target: Target) -> dict[Place, str]:
    """What goes into which cell: our columns by their headers, or new ones right of all others."""
    header = _header(cells, target)
    texts: dict[Place, str] = {}
    rows = {**_emptied(cells, header, target), **target.rows}
    following = last_column(part) + 1
    for index, title in enumerate(COLUMNS):
        column = header.get(title, 0)
        if not column:
            column, following = following, following + 1
            texts[target.header, column] = title
        for row, values in rows.items():
            texts[row, column] = values[index]
    return texts


def _emptied(
    cells: Cells, header: Mapping[str, int], target: Target
) -> dict[int, tuple[str, str, str]]:
    """Blank texts for rows that were cleared since they were written to."""
    column = header.get(COLUMNS[0], 0)
    old = (at[0] for at, value in cells if at[1] == column and value in VERDICTS)
    return (
        dict.fromkeys((row for row in old if row > target.header), ("", "", ""))
        if target.whole
        else {}
    )


def _header(cells: Cells, target: Target) -> dict[str, int]:
    """Columns of the header row by what stands in them."""
    found: dict[str, int] = {}
    for (row, column), value in cells:
        if row == target.header and isinstance(value, str):
            found.setdefault(" ".join(value.split()).casefold(), column)
        elif row > target.header:
            break
    return found


def _values(data: bytes, sheet: str) -> Cells:
    """(row, column), value or formula of each cell that holds something, row by row."""
    with warnings.catch_warnings():
        # They tell what saving would lose, and the book is never saved so.
        warnings.simplefilter("ignore", UserWarning)
        book = load_workbook(io.BytesIO(data), read_only=True)
        try:
            found = book[sheet]
            found.reset_dimensions()
            return [
                ((number, column), value)
                for number, row in enumerate(found.iter_rows(values_only=True), start=1)
                for column, value in enumerate(row, start=1)
                if value is not None
            ]
        finally:
            book.close()


def _repacked(package: zipfile.ZipFile, part: str, changed: bytes) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as made:
        for info in package.infolist():
            data = changed if info.filename == part else package.read(info)
            # Writing notes the new place in the entry, which the old package still needs.
            made.writestr(copy(info), data)
    return whole.getvalue()


_SPOILED = "the result did not read back as it should"


def _verify_parts(old: zipfile.ZipFile, after: bytes, part: str) -> None:
    """UnusableError unless all other parts are the same bytes."""
    with zipfile.ZipFile(io.BytesIO(after)) as new:
        names = old.namelist()
        alike = names == new.namelist() and all(
            old.read(name) == new.read(name) for name in names if name != part
        )
    if not alike:
        raise UnusableError(_SPOILED)


def _verify(was: Cells, after: bytes, sheet: str, texts: Mapping[Place, str]) -> None:
    """UnusableError unless ours are written and all other cells are equal."""
    others = {at: value for at, value in was if at not in texts}
    now = dict(_values(after, sheet))
    ours = {at: now.pop(at, None) for at in texts}
    written = all(_alike(ours[at], text) for at, text in texts.items())
    if others != now or not written:
        raise UnusableError(_SPOILED)


def _alike(read: object, text: str) -> bool:
    return (read or "") == text.replace("\r\n", "\n").replace("\r", "\n")


def _check_free(book: Path) -> None:
    """UnusableError where the book is open elsewhere, or there is no leave or room to write."""
    lock = open_elsewhere(book)
    if lock:
        raise UnusableError(
            f"{book.name} was not written to: it is open elsewhere; close it and run this "
            f"again (if it is not open, delete {lock.name} beside it)."
        )
    if not os.access(book, os.W_OK) or not os.access(book.parent, os.W_OK):
        raise UnusableError(f"{book.name} was not written to: file or folder is read-only.")
    if shutil.disk_usage(book.parent).free < 2 * book.stat().st_size + SPARE:
        raise UnusableError(f"{book.name} was not written to: the disk is nearly full.")
