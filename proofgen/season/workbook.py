"""The season as a workbook with charts of the spreadsheet program's own."""

from __future__ import annotations

import io
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from zipfile import BadZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE, Cell, MergedCell
from openpyxl.chart import BarChart, Reference
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils.cell import get_column_letter
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from proofgen.errors import UnusableError
from proofgen.files import open_elsewhere, write_bytes
from proofgen.season.figures import Counts, Group, Season
from proofgen.season.words import (
    CAUTION,
    DAYS,
    LOST,
    NAMES,
    PROOFS,
    SEVERAL,
    WEEKS,
    Told,
    key_figures,
    sentences,
)

Value = str | int | Decimal | None

MARK = "Season, by proofgen"  # in the first cell, by which ours are known
_HEADER = PatternFill("solid", fgColor="E4DED4")
_BARS, _PROFITS = "7A5438", "35586C"
_LONGEST = 32_767  # characters in a cell; from memory, a limit of Excel's
_MONEY_HEADS = ("Income", "Cost", "Profit")
_NOTE_COLUMNS, _NOTE_LETTERS, _LINE_POINTS = 2, 42, 15  # a remark's columns, letters a line
# Columns that are wider than the others.
_WIDE = ("Design", "Week", "Verdicts", "Pictures", "Days", "Reason", "What", "Name")
_WIDTHS = {**dict.fromkeys(_WIDE, 32), "What helps": 70}
_RIGHT = Alignment(horizontal="right")
_WIDTH, _HEIGHT = 17, 8  # cm of a chart


def check_workbook(path: Path) -> None:
    """UnusableError if the workbook there is open elsewhere, or is not one of ours."""
    lock = open_elsewhere(path)
    if lock:
        raise UnusableError(
            f"{path} is open elsewhere; close it and run this again "
            f"(if it is not open, delete {lock.name} beside it)."
        )
    if not path.exists():
        return
    try:
        book = load_workbook(path, read_only=True)
        first = next(book.worksheets[0].iter_rows(max_row=1, values_only=True), ())
        book.close()
    except (InvalidFileException, BadZipFile, KeyError, IndexError, OSError):
        first = ()
    if MARK not in first:
        raise UnusableError(
            f"{path} is there already and is no season report of ours; rename it or move it away."
        )


def write_workbook(path: Path, season: Season, told: Told) -> None:
    """Write the workbook; UnusableError where it cannot be written."""
    book = Workbook()
    _summary(book.worksheets[0], season, told)
    _groups(book.create_sheet("By design"), "Design", season.designs, season, told, SEVERAL)
    _groups(book.create_sheet("By week"), "Week", season.weeks, season, told, WEEKS)
    _counts(book.create_sheet("Verdicts"), "Verdicts", "Names", season.verdicts, NAMES)
    _found(book.create_sheet("What was found"), season)
    said = dict(sentences(season))
    for title, what, counted, counts, note in (
        ("Proofs", "Pictures", "Orders", season.proofs, f"{PROOFS} {said['proofs']}"),
        ("Days", "Days", "Orders", season.days, f"{DAYS} {said['days']}"),
        ("Losses", "Reason", "Layers", season.losses.reasons, f"{LOST} {said['losses']}"),
    ):
        _counts(book.create_sheet(title), what, counted, counts, note)
    _rows(book.create_sheet("Rows"), season, told)
    stream = io.BytesIO()
    book.save(stream)
    write_bytes(path, stream.getvalue())


def _summary(sheet: Worksheet, season: Season, told: Told) -> None:
    sheet.title = "Season"
    _text(sheet.cell(1, 1), MARK)
    _text(sheet.cell(2, 1), told.title)
    sheet.cell(2, 1).font = Font(bold=True, size=14)
    _text(sheet.cell(3, 1), f"From {told.book}, on {told.day}.")
    for row in (1, 2, 3):
        sheet.cell(row, 1).alignment = Alignment()  # runs on into the next column
    _note(sheet, 4, CAUTION)
    for number, (what, value, money) in enumerate(key_figures(season, told), start=6):
        _text(sheet.cell(number, 1), what)
        _put(sheet, number, 2, value, _format(told) if money else "General")
    sheet.column_dimensions["A"].width = 34
    sheet.column_dimensions["B"].width = 14


def _groups(
    sheet: Worksheet,
    what: str,
    groups: Sequence[Group],
    season: Season,
    told: Told,
    note: str,
) -> None:
    heads = (what, "Orders", "Pieces", "Reckoned", *_MONEY_HEADS)
    _table(sheet, heads, [_cells(group) for group in (*groups, season.whole)], _format(told))
    for cell in sheet[len(groups) + 2]:
        cell.font = Font(bold=True)
    _note(sheet, len(groups) + 4, note)
    if groups:
        last = len(groups) + 1
        for column, anchor, colour in ((3, "I2", _BARS), (7, "I20", _PROFITS)):
            sheet.add_chart(_chart(sheet, column, last, colour), anchor)


def _cells(group: Group) -> tuple[Value, ...]:
    account = group.account
    sums = (account.income, account.cost, account.profit)
    return (group.label, group.orders, group.pieces, group.reckoned, *sums)


def _counts(sheet: Worksheet, what: str, counted: str, counts: Counts, note: str) -> None:
    _table(sheet, (what, counted), counts, "General")
    _note(sheet, len(counts) + 3, note)
    if counts:
        sheet.add_chart(_chart(sheet, 2, len(counts) + 1, _BARS), "D2")


def _found(sheet: Worksheet, season: Season) -> None:
    rows = [
        (each.kind.id, each.names, each.kind.severity.value, each.kind.do) for each in season.found
    ]
    _table(sheet, ("What", "Names", "Kind", "What helps"), rows, "General")
    if rows:
        sheet.add_chart(_chart(sheet, 2, len(rows) + 1, _BARS), "F2")


def _rows(sheet: Worksheet, season: Season, told: Told) -> None:
    heads = (
        *("Order", "Row", "Name", "Design", "Pieces", "Verdict", "Sold", "Asked"),
        *_MONEY_HEADS,
    )
    rows: list[tuple[Value, ...]] = []
    for row in season.rows:
        account = row.account
        facts: tuple[Value, ...] = (row.order, row.number, row.name, row.design, row.pieces)
        sold, asked = "yes" if row.sold else "no", row.asked.isoformat() if row.asked else None
        sums = (account.income, account.cost, account.profit) if account else (None,) * 3
        rows.append((*facts, row.verdict, sold, asked, *sums))
    _table(sheet, heads, rows, _format(told))
    sheet.auto_filter.ref = sheet.dimensions


def _table(
    sheet: Worksheet, heads: Sequence[str], rows: Sequence[Sequence[Value]], money: str
) -> None:
    for column, head in enumerate(heads, start=1):
        cell = sheet.cell(1, column, head)
        cell.font, cell.fill = Font(bold=True), _HEADER
        words = any(isinstance(row[column - 1], str) for row in rows)
        cell.alignment = Alignment(horizontal="left", indent=1) if words else _RIGHT
        sheet.column_dimensions[get_column_letter(column)].width = _WIDTHS.get(head, 12)
    for number, row in enumerate(rows, start=2):
        for column, value in enumerate(row, start=1):
            _put(sheet, number, column, value, money if heads[column - 1] in _MONEY_HEADS else "")
    sheet.freeze_panes = "A2"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)


def _put(sheet: Worksheet, row: int, column: int, value: Value, number_format: str) -> None:
    cell = sheet.cell(row, column)
    if isinstance(value, str):
        _text(cell, value)
    elif value is not None:
        cell.value = value
        cell.number_format = number_format or "General"


def _text(cell: Cell | MergedCell, text: str) -> None:
    """Text that no program takes for a formula or a date, now or after an edit."""
    cell.value = ILLEGAL_CHARACTERS_RE.sub("", text)[:_LONGEST]
    if text:
        cell.data_type = "s"
    cell.number_format = "@"
    cell.alignment = Alignment(horizontal="left", vertical="top", wrap_text=True, indent=1)


def _note(sheet: Worksheet, row: int, text: str) -> None:
    """A remark across the columns, so that it does not make the first one tall."""
    _text(sheet.cell(row, 1), text)
    sheet.cell(row, 1).alignment = Alignment(vertical="top", wrap_text=True)
    sheet.cell(row, 1).font = Font(italic=True)
    sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=_NOTE_COLUMNS)
    # Not every program grows rows by itself, and none does for merged cells.
    sheet.row_dimensions[row].height = _LINE_POINTS * (1 + len(text) // _NOTE_LETTERS)


def _chart(sheet: Worksheet, column: int, last: int, colour: str) -> BarChart:
    """Columns of one series, which has the header of its column as its title."""
    chart = BarChart()
    chart.type = "col"
    chart.title = str(sheet.cell(1, column).value)
    chart.legend = None
    chart.add_data(Reference(sheet, min_col=column, min_row=1, max_row=last), titles_from_data=True)
    chart.set_categories(Reference(sheet, min_col=1, min_row=2, max_row=last))
    chart.series[0].graphicalProperties.solidFill = colour
    chart.series[0].invertIfNegative = False
    chart.gapWidth = 60
    chart.width = _WIDTH
    chart.height = _HEIGHT
    # From memory: without it, newer spreadsheet programs hide the axes of a chart by openpyxl.
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.x_axis.tickLblPos = "low"
    return chart


def _format(told: Told) -> str:
    decimals = told.workshop.money.decimals
    return f"0.{'0' * decimals}" if decimals else "0"
