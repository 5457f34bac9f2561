"""Every kind of flag there is. A kind's id is never renamed."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity

PRACTICE = "common practice, no source"

STROKE_TOO_THIN = FlagKind(
    id="stroke-too-thin",
    severity=Severity.STOP,
    says="thinnest stroke {measured} mm as it comes out; {subject} needs {limit} mm",
    do="Shorten the text or choose another design.",
    why="a stroke under the material's limit burns away or cannot be read",
    source=PRACTICE,
)

ROWS_HIDDEN = FlagKind(
    id="rows-hidden",
    severity=Severity.NOTE,
    says="{measured} hidden in the sheet and taken like any other ({subject})",
    do="Unhide the sheet's rows to see them, or delete those that are not wanted.",
    why="a filter left on is easily forgotten, and leaving out an order would be worse",
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

SPACES_TIDIED = FlagKind(
    id="spaces-tidied",
    severity=Severity.NOTE,
    says="tidied {subject}",
    do="Compare the name that is spelled out below the proof.",
    why="pasted text brings spaces and marks that nobody sees",
    source=PRACTICE,
)

CONTROL_CHARACTERS = FlagKind(
    id="control-characters",
    severity=Severity.LOOK,
    says="left out characters that cannot be lettered ({subject})",
    do="Type the cell again if something is missing.",
    why="control characters come from a broken export and may have been letters",
    source=PRACTICE,
)

TEXT_GARBLED = FlagKind(
    id="text-garbled",
    severity=Severity.LOOK,
    says="letters were lost when the text was copied",
    do="Ask the buyer for the spelling and type the cell again.",
    why="UTF-8 text read in another encoding looks like this",
    source=PRACTICE,
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

GAP_TOO_NARROW = FlagKind(
    id="gap-too-narrow",
    severity=Severity.STOP,
    says="narrowest gap {measured} mm as it comes out; {subject} needs {limit} mm",
    do="Shorten the text or choose another design.",
    why="engraving grows by about a dot, so a narrower gap or counter fills up",
    source=PRACTICE,
)

LETTERING_TOO_SMALL = FlagKind(
    id="lettering-too-small",
    severity=Severity.STOP,
    says="the largest cap height that fits is {measured} mm in {subject}; at least {limit} mm",
    do="Shorten the text or choose another design.",
    why="smaller letters cannot be read at arm's length",
    source=PRACTICE,
)

LETTERING_SMALL = FlagKind(
    id="lettering-small",
    severity=Severity.NOTE,
    says="cap height {measured} mm; {limit} mm is wanted and {subject} mm the least",
    do="Nothing needs doing; a shorter text would be larger.",
    why="a long text is set smaller, and the maker may want to know",
    source=PRACTICE,
)

FACE_WITHOUT_GLYPH = FlagKind(
    id="face-without-glyph",
    severity=Severity.NOTE,
    says="{subject} has no {measured}; it is set in {limit}",
    do="Check the proof.",
    why="one face does not have the letters of every script",
    source="the face's own character map (OpenType specification, cmap)",
)

FACE_CHANGED = FlagKind(
    id="face-changed",
    severity=Severity.NOTE,
    says="set in {measured}, because it is larger there than in {limit}",
    do="Check the proof.",
    why="the design lists narrower faces for long texts",
    source=PRACTICE,
)

GLYPH_MISSING = FlagKind(
    id="glyph-missing",
    severity=Severity.STOP,
    says="no face of the design has {measured} (looked in {subject})",
    do="Replace the character, or choose a design with a face that has it.",
    why="a face without the letter would draw an empty box",
    source="the face's own character map (OpenType specification, cmap)",
)

NOTHING_TO_LETTER = FlagKind(
    id="nothing-to-letter",
    severity=Severity.STOP,
    says="{measured!r} would leave no mark",
    do="Type the text again.",
    why="a text of invisible characters makes an empty piece",
    source="derived",
)

LINES_TOO_MANY = FlagKind(
    id="lines-too-many",
    severity=Severity.LOOK,
    says="{measured} lines were typed; the design takes {limit}",
    do="Look at how the text was broken anew.",
    why="a line break in the cell asks for a line of its own",
    source=PRACTICE,
)

FACE_UNKNOWN = FlagKind(
    id="face-unknown",
    severity=Severity.STOP,
    says="the design has no face {measured}; it has {limit}",
    do="Type one of them, or leave the cell blank.",
    why="what was asked for would not be what is made",
    source=PRACTICE,
)

ENGRAVING_NEAR_CUT = FlagKind(
    id="engraving-near-cut",
    severity=Severity.STOP,
    says="lettering comes within {measured} mm of a cut; {subject} needs {limit} mm",
    do="Draw the design's zone further from its cuts.",
    why="the scorched edge runs into the letters",
    source=PRACTICE,
)

CHANGED_SINCE_APPROVAL = FlagKind(
    id="changed-since-approval",
    severity=Severity.STOP,
    says="{measured} was approved, and what would be made now is {limit}",
    do="Send the new proof and ask again.",
    why="what is made must be what the buyer saw",
    source=PRACTICE,
)

APPROVAL_MISTYPED = FlagKind(
    id="approval-mistyped",
    severity=Severity.STOP,
    says="{measured} is not a proof code",
    do="Copy the code from the proof: four characters, a hyphen, four characters.",
    why="a slip in a code is caught by its check character",
    source="derived: weighted sum modulo a prime",
)

NOT_APPROVED = FlagKind(
    id="not-approved",
    severity=Severity.NOTE,
    says="no approval yet, so nothing was made",
    do="Type the proof code into Approved when the buyer has said yes.",
    why="only what the buyer approved is made",
    source=PRACTICE,
)

DESIGN_UNKNOWN = FlagKind(
    id="design-unknown",
    severity=Severity.STOP,
    says="there is no design {measured}; {subject}",
    do="Type the id or the title of a design that `proofgen designs` lists.",
    why="nothing can be made without a design",
    source=PRACTICE,
)

FIELD_MISSING = FlagKind(
    id="field-missing",
    severity=Severity.STOP,
    says="the {measured} is blank, and the design {subject} needs it",
    do="Fill the cell, or choose a design that does without.",
    why="a piece with an empty place looks unfinished",
    source=PRACTICE,
)

FIELD_UNUSED = FlagKind(
    id="field-unused",
    severity=Severity.NOTE,
    says="the {measured} is not lettered, since the design {subject} has no place for it",
    do="Choose another design if it is to be on the piece.",
    why="a buyer who typed a text expects to see it",
    source=PRACTICE,
)

FINISH_UNKNOWN = FlagKind(
    id="finish-unknown",
    severity=Severity.STOP,
    says="the finish {measured} is not offered; there is {limit}",
    do="Type one of these, or leave the cell blank for the first.",
    why="a guessed finish is a remake",
    source=PRACTICE,
)

FINISH_UNUSED = FlagKind(
    id="finish-unused",
    severity=Severity.NOTE,
    says="the finish {measured} is not used, since the design {subject} has a fixed one",
    do="Clear the cell, or choose another design.",
    why="a buyer who chose a finish expects it",
    source=PRACTICE,
)

HANGER_UNKNOWN = FlagKind(
    id="hanger-unknown",
    severity=Severity.STOP,
    says="the hanger {measured} is not offered; there is {limit}",
    do="Type one of these, or leave the cell blank for the first.",
    why="the hole is cut to the hanger",
    source=PRACTICE,
)

HANGER_UNUSED = FlagKind(
    id="hanger-unused",
    severity=Severity.NOTE,
    says="the hanger {measured} is not used, since the design {subject} does not hang",
    do="Clear the cell, or choose another design.",
    why="a buyer who chose a hanger expects it",
    source=PRACTICE,
)

SYMBOL_UNUSED = FlagKind(
    id="symbol-unused",
    severity=Severity.NOTE,
    says="the symbol {measured} is not used, since the design {subject} has no place for it",
    do="Clear the cell, or choose another design.",
    why="a buyer who chose a symbol expects it",
    source=PRACTICE,
)

KINDS: tuple[FlagKind, ...] = (
    STROKE_TOO_THIN,
    ROWS_HIDDEN,
    CELL_MERGED,
    SPACES_TIDIED,
    CONTROL_CHARACTERS,
    TEXT_GARBLED,
    CELL_ERROR,
    FORMULA_WITHOUT_RESULT,
    TEXT_BECAME_DATE,
    TEXT_BECAME_TRUTH,
    TEXT_BECAME_NUMBER,
    TEXT_FROM_NUMBER,
    CELL_NOT_TAKEN,
    ORDER_MISSING,
    ORDER_UNSAFE,
    ORDER_ZEROS,
    ORDER_DIGITS_LOST,
    ORDER_ALIKE,
    LINE_REPEATED,
    NAME_MISSING,
    DESIGN_MISSING,
    YEAR_BLANK,
    YEAR_FROM_DATE,
    YEAR_NOT_A_YEAR,
    QUANTITY_NOT_WHOLE,
    GAP_TOO_NARROW,
    LETTERING_TOO_SMALL,
    LETTERING_SMALL,
    FACE_WITHOUT_GLYPH,
    FACE_CHANGED,
    GLYPH_MISSING,
    NOTHING_TO_LETTER,
    LINES_TOO_MANY,
    FACE_UNKNOWN,
    ENGRAVING_NEAR_CUT,
    CHANGED_SINCE_APPROVAL,
    APPROVAL_MISTYPED,
    NOT_APPROVED,
    DESIGN_UNKNOWN,
    FIELD_MISSING,
    FIELD_UNUSED,
    FINISH_UNKNOWN,
    FINISH_UNUSED,
    HANGER_UNKNOWN,
    HANGER_UNUSED,
    SYMBOL_UNUSED,
)
