"""Kinds of flags about approval."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE

CHANGED_SINCE_APPROVAL = FlagKind(
    id="changed-since-approval",
    severity=Severity.STOP,
    says="it was approved with {measured}; now it is {limit}",
    do="Put back what was approved, or send the new proof and ask again.",
    why="what is made must be what the buyer saw",
    source=PRACTICE,
)

APPROVAL_MISTYPED = FlagKind(
    id="approval-mistyped",
    severity=Severity.STOP,
    says="there is no proof code in {measured}",
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

CODE_UNKNOWN = FlagKind(
    id="code-unknown",
    severity=Severity.STOP,
    says="no picture of this order was made with the code {measured}; {limit}",
    do="Look whether the code stands in the right row, or run `proofgen proof` and send that.",
    why="a code counts only among its own order's pictures",
    source=PRACTICE,
)

APPROVAL_WORDS = FlagKind(
    id="approval-words",
    severity=Severity.LOOK,
    says='beside the code {limit} stands "{measured}"',
    do="Settle that with the buyer, then leave the code alone in the cell; until then it waits.",
    why="a yes with a wish in it is no yes",
    source=PRACTICE,
)

QUANTITY_CHANGED = FlagKind(
    id="quantity-changed",
    severity=Severity.LOOK,
    says="{measured} were shown to the buyer, and now it is {limit}",
    do="Look whether the buyer knows.",
    why="the artwork is the same, the price is not",
    source=PRACTICE,
)

MADE_AS_RECORDED = FlagKind(
    id="made-as-recorded",
    severity=Severity.NOTE,
    says="{subject} has changed since the buyer approved {measured}; what they saw is made",
    do="Nothing to do, unless the new look is wanted: then send a new proof.",
    why="what is made is what the buyer saw",
    source=PRACTICE,
)

FINISH_RECOLOURED = FlagKind(
    id="finish-recoloured",
    severity=Severity.LOOK,
    says="the finish {subject} has other colours now than when the buyer approved {measured}",
    do="Put the old colours back in the workshop file, or ask whether the buyer likes the new.",
    why="the artwork is the same, the colour of the wood is not",
    source=PRACTICE,
)

NOT_PAID = FlagKind(
    id="not-paid",
    severity=Severity.NOTE,
    says="{measured} of the order are not paid yet, so nothing was made",
    do="Enter what was paid, or set `cut_before_payment = true` in the workshop file.",
    why="the workshop's setting says that nothing is cut before it is paid",
    source=PRACTICE,
)
