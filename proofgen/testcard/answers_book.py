"""The small workbook to fill in at the bench: a row a mark, two numbers each."""

from __future__ import annotations

import io
from collections.abc import Sequence

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from proofgen.testcard.reading import GOOD, Question
from proofgen.testcard.series import SERIES, as_printed
from proofgen.workshop.workshop import Material

MATERIAL = "material"
MARK, CAME_OUT, LOOKS_GOOD = "Mark", "Came out", "Looks good"
COLUMNS: tuple[tuple[str, int], ...] = (
    (MARK, 18), ("What to look for", 62), ("On the card", 44), (CAME_OUT, 12), (LOOKS_GOOD, 12),
    ("Until now", 14),
)  # fmt: skip
_HEADER, _FILL = PatternFill("solid", fgColor="E4DED4"), PatternFill("solid", fgColor="FFF8E1")


def answers_book(asked: Sequence[Question], material: Material) -> bytes:
    """The bytes of the workbook. What stays blank changes nothing."""
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Test card"
    for column, (title, width) in enumerate(COLUMNS, start=1):
        cell = sheet.cell(1, column, title)
        cell.font, cell.fill = Font(bold=True), _HEADER
        sheet.column_dimensions[cell.column_letter].width = width
    sheet.append([MATERIAL, f"the wood of this card: {material.title}", "", material.id])
    row = 2
    for question in asked:
        if not question.good:
            row += 1
            said = [question.mark, question.text, _printed(question.mark)]
            sheet.append([*said, None, None, question.until_now])
        else:
            before = sheet.cell(row, 6)
            before.value = f"{before.value} / {question.until_now}"
        _to_fill(sheet, row, question)
    for cells in sheet.iter_rows(min_row=2):
        for each in cells:
            each.alignment = Alignment(wrap_text=True, vertical="top")
    sheet.cell(
        row + 2,
        2,
        f"Came out: as the row asks. Looks good: {GOOD}. Blank changes nothing; what is in "
        "brackets is beyond the card and stays.",
    )
    sheet.freeze_panes = "A2"
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _to_fill(sheet: Worksheet, row: int, question: Question) -> None:
    """A cell for the answer, which says at once what the card does not have."""
    cell = sheet.cell(row, 5 if question.good else 4)
    cell.fill = _FILL
    ends = as_printed(question.least), as_printed(question.most)
    rule = DataValidation(
        type="decimal",
        operator="between",
        formula1=ends[0],
        formula2=ends[1],
        allow_blank=True,
        showErrorMessage=True,
        error=f"A number from {ends[0]} to {ends[1]}.",
    )
    rule.add(cell)
    sheet.add_data_validation(rule)


def _printed(mark: str) -> str:
    """The numbers of a series, none for the kerf, which is measured."""
    sizes = next((series.sizes for series in SERIES if series.id == mark), ())
    return "  ".join(map(as_printed, sizes))
