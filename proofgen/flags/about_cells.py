"""Kinds of flags about cells: those that cannot be read, are missing or are more than one thing."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE

ROWS_HIDDEN = FlagKind(
    id="rows-hidden",
    severity=Severity.NOTE,
    says="{measured} hidden in the sheet and taken like any other ({subject})",
    do="Unhide the sheet's rows to see them, or delete those that are not wanted.",
    why="a filter left on is easily forgotten, and leaving out an order would be worse",
    source=PRACTICE,
)

ROWS_SKIPPED = FlagKind(
    id="rows-skipped",
    severity=Severity.NOTE,
    says="{measured} hidden in the sheet and left out, as --skip-hidden asks ({subject})",
    do="Leave that option out to take them.",
    why="a filter left on is easily forgotten",
    source=PRACTICE,
)

HEADER_UNKNOWN = FlagKind(
    id="header-unknown",
    severity=Severity.LOOK,
    says="the header {measured} is not known, so its column is left alone",
    do="Rename it, if one of the known headers is meant.",
    why="approvals or days under a misspelt header would be ignored without a word",
    source=PRACTICE,
)

DAY_UNREAD = FlagKind(
    id="day-unread",
    severity=Severity.LOOK,
    says="{measured} is not taken for a day, so nothing is known to be late by it",
    do="Type it as YYYY-MM-DD, or with the month's name.",
    why="04/05 is a day in April to some and in May to others, and a guess may miss the hand-over",
    source=PRACTICE,
)

CELL_MERGED = FlagKind(
    id="cell-merged",
    severity=Severity.NOTE,
    says="taken from the merged cell {subject}",
    do="Unmerge the cells where this line should differ.",
    why="a merged cell has its value at the top only",
    source="ECMA-376 Part 1, 18.3.1.55",
)

CELL_ERROR = FlagKind(
    id="cell-error",
    severity=Severity.STOP,
    says="the cell shows the error {subject}",
    do="Correct the formula or type the value.",
    why="an error value is never what was ordered",
    source=PRACTICE,
)

FORMULA_WITHOUT_RESULT = FlagKind(
    id="formula-without-result",
    severity=Severity.STOP,
    says="the cell is a formula whose result was never saved",
    do="Open and save the book in your spreadsheet program, or type the value.",
    why="a program that writes books need not compute them, so what the cell would show is unknown",
    source=PRACTICE,
)

TEXT_BECAME_DATE = FlagKind(
    id="text-became-date",
    severity=Severity.STOP,
    says="the spreadsheet program made a date of what was typed ({subject})",
    do="Format the cell as text and type the wording again.",
    why=(
        "names such as May 5 or Jan-3 become dates, and what was typed cannot be told from the date"
    ),
    source=PRACTICE,
)

TEXT_BECAME_TRUTH = FlagKind(
    id="text-became-truth",
    severity=Severity.STOP,
    says="the spreadsheet program made a truth value of what was typed ({subject})",
    do="Format the cell as text and type the wording again.",
    why="true and false become truth values, whose letter case and language are lost",
    source=PRACTICE,
)

TEXT_BECAME_NUMBER = FlagKind(
    id="text-became-number",
    severity=Severity.STOP,
    says="the cell is the number {subject} and not text",
    do="Format the cell as text and type the wording again.",
    why="1E5 or 007 become numbers, and what was typed cannot be told from the number",
    source=PRACTICE,
)

TEXT_FROM_NUMBER = FlagKind(
    id="text-from-number",
    severity=Severity.LOOK,
    says="the number {subject} is taken as text",
    do="Compare it with what the buyer wrote.",
    why="a number in a cell may have lost zeros and signs that were typed",
    source=PRACTICE,
)

CELL_NOT_TAKEN = FlagKind(
    id="cell-not-taken",
    severity=Severity.LOOK,
    says="the cell shows {subject} and is left out",
    do="Type the value.",
    why="nothing that is made depends on this cell",
    source=PRACTICE,
)

ORDER_MISSING = FlagKind(
    id="order-missing",
    severity=Severity.STOP,
    says="the order number is missing",
    do="Type the order number.",
    why="without a number the piece cannot be told from the others",
    source=PRACTICE,
)

ORDER_UNSAFE = FlagKind(
    id="order-unsafe",
    severity=Severity.STOP,
    says="the order number holds {subject}",
    do=(
        "Use letters, digits, spaces and . _ - # only, 60 at most, with at least one "
        "letter or digit."
    ),
    why="the number becomes part of file names",
    source=PRACTICE,
)

ORDER_ZEROS = FlagKind(
    id="order-zeros",
    severity=Severity.NOTE,
    says="the order number is taken as it is shown, {subject}",
    do="Format the column as text to keep zeros for good.",
    why="a number format of zeros shows digits that the cell does not hold",
    source=PRACTICE,
)

ORDER_DIGITS_LOST = FlagKind(
    id="order-digits-lost",
    severity=Severity.LOOK,
    says="the order number {subject} is stored as a number of more than 15 digits",
    do="Compare its last digits, and format the column as text.",
    why=(
        "a spreadsheet's number keeps 15 digits (IEEE 754 double precision) and makes "
        "zeros of the rest"
    ),
    source="IEEE 754-2019, binary64",
)

ORDER_ALIKE = FlagKind(
    id="order-alike",
    severity=Severity.LOOK,
    says="the order number differs only in case or zeros from {subject}",
    do="Check that these are two orders.",
    why="one order typed in two ways would be made twice",
    source=PRACTICE,
)

ORDER_SHARED = FlagKind(
    id="order-shared",
    severity=Severity.LOOK,
    says="the order is {subject}'s here and {measured}'s in row {limit}",
    do="Give one of the two buyers another order number.",
    why="one buyer would be sent the other's pictures, and a code could approve the wrong piece",
    source=PRACTICE,
)

ORDER_ELSEWHERE = FlagKind(
    id="order-elsewhere",
    severity=Severity.LOOK,
    says="{limit}, the contact sheet of another book, shows {measured} too",
    do="Give each book's orders numbers of their own; move that page away if its book is no more.",
    why="a picture of a whole order, or a page, would take the other book's place",
    source=PRACTICE,
)

LINE_REPEATED = FlagKind(
    id="line-repeated",
    severity=Severity.LOOK,
    says="says the same as row {subject}",
    do="Delete one of them, or give a quantity of 2 if both are wanted.",
    why="a row pasted twice would be made twice",
    source=PRACTICE,
)

NAME_MISSING = FlagKind(
    id="name-missing",
    severity=Severity.STOP,
    says="the name is missing",
    do="Type the name.",
    why="a personalised piece needs one",
    source=PRACTICE,
)

DESIGN_MISSING = FlagKind(
    id="design-missing",
    severity=Severity.STOP,
    says="the design is missing",
    do="Type the design; proofgen designs lists them.",
    why="what to make is unknown",
    source=PRACTICE,
)

YEAR_BLANK = FlagKind(
    id="year-blank",
    severity=Severity.NOTE,
    says="blank, so the edition year {measured} is taken",
    do="Type the year, or none to leave it out.",
    why="most orders of a season are for its year",
    source=PRACTICE,
)

YEAR_FROM_DATE = FlagKind(
    id="year-from-date",
    severity=Severity.NOTE,
    says="the cell is a date shown as a year; {measured} is taken",
    do="Type the year as plain digits to be sure.",
    why="a date format that shows only the year holds the year that is seen",
    source=PRACTICE,
)

YEAR_NOT_A_YEAR = FlagKind(
    id="year-not-a-year",
    severity=Severity.STOP,
    says="{subject} is not a year from 1000 to 2999",
    do="Type four digits, or none to leave the year out.",
    why="the century of a short year is never guessed",
    source=PRACTICE,
)

QUANTITY_NOT_WHOLE = FlagKind(
    id="quantity-not-whole",
    severity=Severity.STOP,
    says="{subject} is not a whole number from 1 to 999",
    do="Type how many pieces are wanted.",
    why="how many to make is never guessed",
    source=PRACTICE,
)

ENCODING_GUESSED = FlagKind(
    id="encoding-guessed",
    severity=Severity.LOOK,
    says="is not UTF-8, so it was read as Windows-1252",
    do="Look at accented letters, or save it as .xlsx.",
    why="a text file does not say how its letters are written",
    source="common practice, no source",
)

ROW_WIDTH = FlagKind(
    id="row-width",
    severity=Severity.LOOK,
    says="has {measured} cells, and the header {limit}",
    do="Look whether a delimiter stands within a text, and put that text in quotation marks.",
    why="a delimiter in a text shifts all that follows into other columns",
    source="RFC 4180, section 2",
)

MONEY_UNREAD = FlagKind(
    id="money-unread",
    severity=Severity.LOOK,
    says="{measured} is no sum of money",
    do="Type a number such as 24.50.",
    why="a sum that is not understood is missing in what is owed",
    source=PRACTICE,
)
