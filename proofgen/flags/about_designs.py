"""Kinds of flags about a row's design and its choices."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE

DESIGN_UNKNOWN = FlagKind(
    id="design-unknown",
    severity=Severity.STOP,
    says="there is no design {measured}; {subject}",
    do="Type the id or the title of a design that `proofgen designs` lists.",
    why="nothing can be made without a design",
    source=PRACTICE,
)

DESIGN_BROKEN = FlagKind(
    id="design-broken",
    severity=Severity.STOP,
    says="that design of your own cannot be used ({measured})",
    do="Run `proofgen designs check` on its folder.",
    why="nothing is made from a drawing that is only partly understood",
    source=PRACTICE,
)

DESIGN_UNSOUND = FlagKind(
    id="design-unsound",
    severity=Severity.STOP,
    says="the design {subject} cannot be made as it is drawn ({measured})",
    do="Run `proofgen designs check` on its folder.",
    why="what a check of the design stops would be cut all the same, and fail on the machine",
    source=PRACTICE,
)

FIELD_MISSING = FlagKind(
    id="field-missing",
    severity=Severity.STOP,
    says="nothing is typed under {measured}, and the design {subject} needs it",
    do="Type it, or choose a design that does without.",
    why="a piece with an empty place looks unfinished",
    source=PRACTICE,
)

FIELD_UNUSED = FlagKind(
    id="field-unused",
    severity=Severity.NOTE,
    says="what is typed under {measured} is not lettered: the design {subject} has no place for it",
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

SYMBOL_UNKNOWN = FlagKind(
    id="symbol-unknown",
    severity=Severity.STOP,
    says="there is no symbol {measured}; there is {limit}",
    do="Type one of these, or leave the cell blank for the usual one.",
    why="a guessed symbol is a remake",
    source=PRACTICE,
)

SYMBOL_BROKEN = FlagKind(
    id="symbol-broken",
    severity=Severity.STOP,
    says="that symbol of your own cannot be used ({measured})",
    do="Mend the file, or type another symbol.",
    why="nothing is made from a drawing that is only partly understood",
    source=PRACTICE,
)

SYMBOL_TOO_FINE = FlagKind(
    id="symbol-too-fine",
    severity=Severity.STOP,
    says="the {subject} comes out {measured} mm wide; {limit} mm is the least",
    do="Choose another symbol, a larger size, or draw the symbol more boldly.",
    why="finer parts char away or close up",
    source=PRACTICE,
)

SYMBOL_FALLS_OUT = FlagKind(
    id="symbol-falls-out",
    severity=Severity.STOP,
    says="the inside of the {measured} would fall out where it is cut through",
    do="Choose a symbol without enclosed wood, or draw bridges to it.",
    why="what a cut surrounds has nothing to hold to",
    source=PRACTICE,
)

SIZE_UNKNOWN = FlagKind(
    id="size-unknown",
    severity=Severity.STOP,
    says="the size {measured} is not offered; there is {limit}",
    do="Type one of these, or leave the cell blank for the first.",
    why="a guessed size is a remake",
    source=PRACTICE,
)

SIZE_UNUSED = FlagKind(
    id="size-unused",
    severity=Severity.NOTE,
    says="the size {measured} is not used, since the design {subject} has one size",
    do="Clear the cell, or choose another design.",
    why="a buyer who chose a size expects it",
    source=PRACTICE,
)

HOLE_NEAR_EDGE = FlagKind(
    id="hole-near-edge",
    severity=Severity.STOP,
    says="the hanger's hole leaves {measured} mm of wood on layer {subject}; it needs {limit} mm",
    do="Choose another hanger, or correct its hole in the workshop file.",
    why="the tab tears out",
    source=PRACTICE,
)
