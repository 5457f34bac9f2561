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

KINDS: tuple[FlagKind, ...] = (STROKE_TOO_THIN,)
