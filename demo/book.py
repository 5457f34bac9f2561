"""Build demo/orders.xlsx, the order book of an invented workshop, with the troubles of real rows.

The workshop, its harbour town Lowenhithe, its lantern regatta and all buyers are made up.
"""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.worksheet import Worksheet

BOOK = Path(__file__).with_name("orders.xlsx")
HEADERS = (
    "Order", "Name", "Year", "Design", "Inscription", "Symbol", "Quantity", "Finish", "Hanger",
    "Buyer", "Due", "Approved", "Phone note", "Born", "Died", "Size",
    "Dedication", "Heading",
)  # fmt: skip
WIDTHS = (11, 26, 8, 10, 30, 9, 9, 11, 9, 18, 12, 16, 22, 8, 8, 9, 26, 18)
FIRST_ROW = 5
HIDDEN = 11  # the row of order LH-1006, left behind by a filter
DUE = date(2027, 6, 12)

# In the order of HEADERS; columns that are left out at the end are blank.
LINES: tuple[tuple[str | int | bool | date | None, ...], ...] = (
    # Ordinary ones.
    ("LH-1001", "Maribel", 2027, "lantern", None, None, 1, "natural", "ribbon", "M. Tarrow", DUE),
    ("LH-1002", "Otto", 2027, "boat", None, None, 1, "natural", "cord", "P. Quillfeather", DUE,
     None, None, None, None, None, "For your first crossing,\nfrom all at the ferry quay"),
    ("LH-1003", "The Oyelaran Family", 2027, "plaque", "Lowenhithe Harbour", None, 1, "walnut",
     None, "T. Oyelaran", DUE),
    # Spaces that nobody sees, and another spelling of the design and the finish.
    ("LH-1004", "Wendeline  ", "2027 ", " Lantern", None, None, 1, "Burgundy ", "Cord",
     "W. Saltmarsh", DUE, None, "call after six"),
    # A decomposed accent, as some systems type it.
    ("LH-1005", "Zoe\u0308 Adelai\u0308de", 2027, "boat", None, None, 1, "natural", "ribbon",
     "Z. Fenwharf", DUE),
    ("LH-1006", "Grandma & Grandpa", None, "plaque", "Fifty years on the quay", None, 1, "natural",
     None, "R. Netherby", DUE),
    ("LH-1007", "Mr & Mrs Ashcombe", 2027, "plaque", "Lantern Regatta", None, 3, "weathered", None,
     "I. Ashcombe", DUE, None, "three the same"),
    # A family's set: three lines under one number.
    ("LH-1008", "Mama Ilse", 2027, "lantern", None, None, 1, "walnut", "ribbon", "I. Brackwater",
     DUE),
    ("LH-1008", "Papa Joren", 2027, "lantern", None, None, 1, "walnut", "ribbon", "I. Brackwater",
     DUE),
    ("LH-1008", "Pip", 2027, "boat", None, None, 1, "walnut", "ribbon", "I. Brackwater", DUE),
    # Other scripts.
    ("LH-1009", "נועה", 2027, "boat", None, None, 1, "natural", "cord", "N. Harel", DUE),
    ("LH-1010", "ليلى", 2027, "lantern", None, None, 1, "natural", "ribbon", "L. Mansour", DUE),
    ("LH-1011", "Светлана", 2027, "plaque", "Регата", None, 1, "natural", None, "S. Orlenko", DUE),
    ("LH-1012", "Ευγενία", 2027, "boat", None, None, 1, "weathered", "cord", "E. Kalathi", DUE),
    ("LH-1013", "Nguyễn Thị Ánh", 2027, "lantern", None, None, 1, "burgundy", "ribbon",
     "A. Nguyen", DUE),
    # What the spreadsheet program made of a name.
    ("LH-1014", datetime(2027, 5, 5), 2027, "lantern", None, None, 1, "natural", "ribbon",
     "C. Tidewell", DUE, None, "girl is called May"),
    ("LH-1015", True, 2027, "boat", None, None, 1, "natural", "cord", "D. Oarsley", DUE),
    ("LH-1016", None, 2027, "lantern", None, None, 1, "walnut", "cord", "F. Gullane", DUE, None,
     "name to follow"),
    ("LH-1017", "Juniper", 2027, "lighthouse", None, None, 1, "natural", "ribbon", "G. Rope", DUE),
    # Years.
    ("LH-1018", "Anneliese", "none", "lantern", None, None, 1, "natural", "ribbon", "H. Mole", DUE),
    ("LH-1019", "Theodric", "last year", "boat", None, None, 1, "natural", "cord", "J. Pier", DUE),
    ("LH-1020", "Elowen", 31, "lantern", None, None, 1, "natural", "ribbon", "K. Capstan", DUE),
    # Far too long for a boat, even on two lines.
    ("LH-1021", "Bartholomew-Maximilian Featherstonehaugh-Winterbourne", 2027, "boat", None, None,
     1, "natural", "cord", "L. Winterbourne", DUE),
    # A symbol and a hanger that a plaque has no use for.
    ("LH-1022", "Captain Biscuit", 2027, "plaque", "Best ship's dog", "anchor", 1, "walnut",
     "ribbon", "N. Bollard", DUE),
    # A number that would leave its folder, and one approval of something else.
    ("../LH/1023", "Isolde", 2027, "boat", None, None, 1, "natural", "none", "O. Strand", DUE),
    ("LH-1024", "Xavier", 2027, "lantern", None, None, 1, "burgundy", "none", "P. Lockgate", DUE,
     "not-this-one"),
    ("LH-1025", "June", 2027, "boat", None, None, "two", "natural", "cord", "Q. Weir",
     "before the regatta"),
    ("LH-1026", "Mary\u00a0Ann", 2027, "lantern", None, None, 2, "weathered", "cord", "R. Buoy",
     DUE),
    # The other designs: letters that stand, bent text and a symbol, two dates; and a long plaque.
    ("LH-1027", "Josephine", 2027, "wavename", None, None, 1, "walnut", None, "J. Lantry", DUE),
    ("LH-1028", "Maximiliana", 2027, "medallion", "Lantern Regatta", "shell", 1, "natural",
     "ribbon", "M. Spindrift", DUE, None, None, None, None, "large"),
    ("LH-1029", "Captain Biscuit", "none", "remembrance",
     "Ever the first on the quay\nEver the last to leave", "paw", 1, "walnut", "cord",
     "B. Mooring", DUE, None, None, "2014", "2026"),
    ("LH-1030", "The Quillfeather-Tarrow Family", 2027, "plaque", "Lowenhithe Harbour", None, 1,
     "natural", None, "Q. Tarrow", DUE),
)  # fmt: skip


def main() -> None:
    """Write the book."""
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Orders 2027"
    sheet["A1"] = "Lowenhithe Lantern Regatta 2027: keepsake orders"
    sheet["A1"].font = Font(bold=True, size=14)
    sheet["A2"] = "A blank year means 2027. Due dates are when the parcel leaves."
    _headers(sheet)
    for number, line in enumerate(LINES, start=FIRST_ROW + 1):
        for column, value in enumerate(line, start=1):
            sheet.cell(number, column).value = value
        sheet.cell(number, HEADERS.index("Due") + 1).number_format = "d mmm yyyy"
    sheet["B21"].number_format = "d-mmm"
    sheet.row_dimensions[HIDDEN].hidden = True
    sheet.freeze_panes = sheet.cell(FIRST_ROW + 1, 1)
    book.save(BOOK)


def _headers(sheet: Worksheet) -> None:
    for column, (title, width) in enumerate(zip(HEADERS, WIDTHS, strict=True), start=1):
        cell = sheet.cell(FIRST_ROW, column, title)
        cell.font = Font(bold=True)
        cell.fill = PatternFill("solid", fgColor="E4DED4")
        cell.alignment = Alignment(vertical="center")
        sheet.column_dimensions[cell.column_letter].width = width


if __name__ == "__main__":
    main()
