"""The results workbook: one row per order line, made by us and never the person's own book."""

from __future__ import annotations

import io
import os
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from urllib.parse import quote
from zipfile import BadZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE, Cell, MergedCell
from openpyxl.drawing.image import Image
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils.cell import get_column_letter
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from proofgen.artwork.artwork import Made
from proofgen.errors import UnusableError
from proofgen.files import open_elsewhere, write_bytes
from proofgen.results.thumbnail import CELL, Thumbnails

_COLUMNS = (
    ("Order", 14),
    ("Row", 7),
    ("Name", 28),
    ("Verdict", 11),
    ("What to do", 90),
    ("Proof code", 18),
    ("Quantity", 10),
    ("Picture", 34),
    ("Quoted", 10),
    ("Paid", 10),
    ("Balance", 10),
    ("Thumbnail", 14),
)
_FIRST = 8  # columns that every results workbook has had, by which ours are known
_VERDICT, _PICTURE, _QUOTED, _THUMBNAIL = 4, 8, 9, 12

# Pale, so that black text stays readable; the word itself carries the meaning.
_FILLS = {"ready": "DCE8D8", "look": "F4E6C2", "stop": "EBCFC6"}
_HEADER = "E4DED4"

_POINTS_A_PIXEL = 0.75  # ECMA-376 Part 1, 18.18.68: 96 pixels to 72 points
_LONGEST = 32_767  # characters in a cell; from memory, a limit of Excel's
_LINE_POINTS = 15.0
_MOST_LINES = 27  # from memory: a row is at most 409 points high


def write_results(
    path: Path,
    rows: Sequence[Made],
    pictures: Mapping[int, Path],
    thumbnails: Thumbnails,
    progress: Callable[[int, int], None],
) -> None:
    """Write the workbook; `pictures` are by source row and are linked relative to `path`.

    Raises UnusableError where the workbook is open elsewhere or cannot be written.
    """
    check_free(path)
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Results"
    _header(sheet)
    for number, made in enumerate(rows, start=2):
        _row(sheet, number, made)
        picture = pictures.get(made.order.source.row)
        if picture is not None:
            _link(sheet.cell(number, _PICTURE), picture, path.parent)
            _show(sheet, number, thumbnails.of(picture, CELL))
        progress(number - 1, len(rows))
    sheet.auto_filter.ref = sheet.dimensions
    stream = io.BytesIO()
    book.save(stream)
    write_bytes(path, stream.getvalue())


def check_free(path: Path) -> None:
    """UnusableError if the workbook there is open elsewhere, or is not one of ours."""
    lock = open_elsewhere(path)
    if lock:
        raise UnusableError(
            f"{path} is open elsewhere; close it and run this again "
            f"(if it is not open, delete {lock.name} beside it)"
        )
    _check_ours(path)


def _check_ours(path: Path) -> None:
    if not path.exists():
        return
    try:
        book = load_workbook(path, read_only=True)
        first = next(book.worksheets[0].iter_rows(max_row=1, values_only=True), ())
        book.close()
    except OSError:
        return  # writing will say what is the matter
    except (InvalidFileException, BadZipFile, KeyError, IndexError):
        first = ()
    if first[:_FIRST] != tuple(title for title, _ in _COLUMNS[:_FIRST]):
        raise UnusableError(
            f"{path} is there already and is no results workbook of ours; rename it or move it away"
        )


def _header(sheet: Worksheet) -> None:
    for column, (title, width) in enumerate(_COLUMNS, start=1):
        cell = sheet.cell(1, column, title)
        cell.font = Font(bold=True)
        cell.fill = PatternFill("solid", fgColor=_HEADER)
        sheet.column_dimensions[cell.column_letter].width = width
    sheet.freeze_panes = "A2"
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)


def _row(sheet: Worksheet, number: int, made: Made) -> None:
    order = made.order
    advice = what_to_do(made)
    texts = {1: order.number, 3: order.field("name"), 4: made.verdict, 5: advice, 6: made.code}
    for column in range(1, len(_COLUMNS) + 1):
        cell = sheet.cell(number, column)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        if column in texts:
            _write_text(cell, texts[column])
    sheet.cell(number, 2).value = order.source.row
    sheet.cell(number, 7).value = order.quantity
    if (order.quoted, order.paid) != (None, None):
        sums = (order.quoted, order.paid, (order.quoted or 0) - (order.paid or 0))
        for column, value in enumerate(sums, start=_QUOTED):
            sheet.cell(number, column).value = value
            sheet.cell(number, column).number_format = _format(value)
    sheet.cell(number, _VERDICT).fill = PatternFill("solid", fgColor=_FILLS[made.verdict])
    sheet.row_dimensions[number].height = _LINE_POINTS * _lines(advice, order.field("name"))


def _format(value: Decimal | int | None) -> str:
    """As many decimals as a sum has: those of the workshop's currency."""
    exponent = value.as_tuple().exponent if isinstance(value, Decimal) else 0
    return f"0.{'0' * -exponent}" if isinstance(exponent, int) and exponent < 0 else "0"


def what_to_do(made: Made) -> str:
    """The flags' sentences, the gravest first, one a line."""
    gravest = sorted(made.flags, key=lambda flag: -flag.kind.severity.rank)
    return "\n".join(" ".join(flag.text.split("\n")) for flag in gravest)


def _lines(advice: str, name: str) -> int:
    """About how many lines the row takes, because not every program grows rows by itself."""
    width = _COLUMNS[4][1]
    taken = sum(1 + len(line) // width for line in advice.split("\n"))
    return min(max(taken, 1 + name.count("\n")), _MOST_LINES)


def _write_text(cell: Cell | MergedCell, text: str) -> None:
    """Text that no program takes for a formula or a date, now or after an edit."""
    cell.value = ILLEGAL_CHARACTERS_RE.sub("", text)[:_LONGEST]
    if text:
        cell.data_type = "s"
    cell.number_format = "@"


def _show(sheet: Worksheet, row: int, small: bytes) -> None:
    """A small picture in the row, if there is one."""
    if small:
        shown = Image(io.BytesIO(small))
        sheet.add_image(shown, f"{get_column_letter(_THUMBNAIL)}{row}")
        height = max(sheet.row_dimensions[row].height or 0.0, shown.height * _POINTS_A_PIXEL + 4)
        sheet.row_dimensions[row].height = height


def _link(cell: Cell | MergedCell, picture: Path, folder: Path) -> None:
    """Link the picture by its way from the workbook, so that both can be moved together."""
    try:
        target = quote(Path(os.path.relpath(picture, folder)).as_posix())
    except ValueError:  # another drive of Windows
        target = picture.resolve().as_uri()
    _write_text(cell, picture.name)
    cell.hyperlink = target
    cell.font = Font(color="35586C", underline="single")
