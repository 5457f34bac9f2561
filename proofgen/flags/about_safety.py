"""Kinds of flags about small children. They are cautions for the maker, no certification."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity

SMALL_PART = FlagKind(
    id="small-part",
    severity=Severity.LOOK,
    says="the {subject}, {measured} mm at its narrowest, fits the small-parts cylinder, {limit} mm"
    " wide",
    do='Choose a larger size, or mark it "not for children under 3 years".',
    why="what fits that cylinder can be swallowed or choke a small child",
    source="16 CFR 1501.4 (1.25 in wide, 1 to 2.25 in deep)",
)

CORD_LONG = FlagKind(
    id="cord-long",
    severity=Severity.LOOK,
    says="the loop of the {subject} reaches {measured} mm from the piece; {limit} mm is the most"
    " near children under 3 years",
    do="Shorten it in the workshop file and at the bench, or hand it over with a warning.",
    why="a longer cord can strangle a small child",
    source="EN 71-1:2005+A8 5.4, free length of cords (superseded; see the current edition)",
)
