"""Kinds of flags about approval."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE

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
