"""An order book of our own making: headers, drop-down lists, a guide and a stock sheet."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils.cell import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

COLUMNS: tuple[tuple[str, int], ...] = (
    ("Order", 12), ("Name", 26), ("Year", 8), ("Design", 20), ("Inscription", 28),
    ("Symbol", 12), ("Finish", 16), ("Hanger", 16), ("Size", 12), ("Quantity", 10),
    ("Buyer", 20), ("Message", 40), ("Requested", 13), ("Due", 13), ("Delivery", 14),
    ("Quoted", 10), ("Paid", 10), ("Approved", 24), ("Do not ask", 11),
)  # fmt: skip
STOCK = ("Date", "Design", "Layer", "Size", "Finish", "Hanger", "Count")
# Columns in which a program must not make dates or numbers of what is typed.
TEXTS = {"Order", "Name", "Inscription", "Message", "Approved", "Buyer"}
LAST = 1001  # row up to which the lists are offered
GUIDE = (
    "One row is one piece. Order, Name and Design are needed; leave blank what does not matter.",
    "Order: your own number. A family's set is several rows with one number.",
    "Name: exactly as it shall stand. Alt+Enter starts a second line.",
    "Year: blank means this season's edition; none leaves it out.",
    "Design, Symbol, Finish, Hanger, Size: choose from the list; blank takes the design's first.",
    "Born, Died, Heading: add such columns for the remembrance tablet, Dedication for the boat.",
    "Message: paste what the buyer wrote. A name that does not stand there is pointed out.",
    "Due, Requested: dates such as 2027-06-12.",
    "Quoted, Paid: sums such as 24.50.",
    "Approved: the code that the buyer sends back, or the whole reply.",
    "Do not ask: anything here keeps the buyer out of next year's book.",
    "Stock: count what lies cut ahead, with the date. The last count of a layer stands.",
    "Columns of your own may stand anywhere; they are left alone.",
    "A laser is never left alone while it runs; mind the cautions in the README and of its manual.",
)
_HEADER = PatternFill("solid", fgColor="E4DED4")


@dataclass(frozen=True, slots=True)
class Choices:
    """What the drop-down lists offer, by column."""

    lists: Mapping[str, tuple[str, ...]]


def order_book(
    choices: Choices, rows: Iterable[Mapping[str, str]] = (), more: Sequence[str] = ()
) -> bytes:
    """The bytes of a new book; `rows` are texts by header, `more` headers beside the usual ones."""
    book = Workbook()
    orders = book.worksheets[0]
    orders.title = "Orders"
    headers = [*COLUMNS, *((title, 60) for title in more)]
    _header(orders, headers)
    lists = book.create_sheet("Lists")
    _guide(book.create_sheet("Guide", 1))
    _header(book.create_sheet("Stock", 2), [(title, 16) for title in STOCK])
    _offer(orders, lists, choices)
    for number, row in enumerate(rows, start=2):
        for column, (title, _) in enumerate(headers, start=1):
            if row.get(title):
                cell = orders.cell(number, column, row[title])
                # Else a name such as "=Ida" would be taken for a formula.
                cell.data_type, cell.number_format = "s", "@"
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _header(sheet: Worksheet, headers: Sequence[tuple[str, int]]) -> None:
    for column, (title, width) in enumerate(headers, start=1):
        cell = sheet.cell(1, column, title)
        cell.font, cell.fill = Font(bold=True), _HEADER
        shown = sheet.column_dimensions[get_column_letter(column)]
        shown.width = width
        if title in TEXTS:
            shown.number_format = "@"
    sheet.freeze_panes = "A2"


def _guide(sheet: Worksheet) -> None:
    sheet.column_dimensions["A"].width = 100
    for number, line in enumerate(GUIDE, start=1):
        sheet.cell(number, 1, line).alignment = Alignment(wrap_text=True, vertical="top")


def _offer(orders: Worksheet, lists: Worksheet, choices: Choices) -> None:
    """The lists are on a sheet of their own: one within a rule is short (255 letters)."""
    titles = [title for title, _ in COLUMNS]
    for column, (title, offered) in enumerate(choices.lists.items(), start=1):
        letter = get_column_letter(column)
        lists.cell(1, column, title).font = Font(bold=True)
        for number, choice in enumerate(offered, start=2):
            lists.cell(number, column, choice)
        rule = DataValidation(
            type="list",
            formula1=f"=Lists!${letter}$2:${letter}${len(offered) + 1}",
            allow_blank=True,
            showErrorMessage=False,  # what is not in the list is told by the check, in words
        )
        target = get_column_letter(titles.index(title) + 1)
        rule.add(f"{target}2:{target}{LAST}")
        orders.add_data_validation(rule)
