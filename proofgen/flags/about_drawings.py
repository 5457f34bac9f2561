"""Kinds of flags about a design as it is drawn. They point at a file and an element."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE

DESIGN_UNREADABLE = FlagKind(
    id="design-unreadable",
    severity=Severity.STOP,
    says="{measured}",
    do="Mend that and check again; what hides behind it is told then.",
    why="nothing is made from a drawing that is only partly understood",
    source="templates/README.md",
)

FINDINGS_MORE = FlagKind(
    id="findings-more",
    severity=Severity.NOTE,
    says="only the first {measured} findings '{subject}' are told",
    do="Mend those and check again.",
    why="a list that nobody reads to its end helps nobody",
    source=PRACTICE,
)

CUT_CROSSES = FlagKind(
    id="cut-crosses",
    severity=Severity.STOP,
    says="a cut crosses or touches {subject} at {measured} mm",
    do="Move the points there apart, or join both into one outline.",
    why="what is inside and what is outside cannot be told",
    source="derived",
)

CUTS_SHARE_LINE = FlagKind(
    id="cuts-share-line",
    severity=Severity.STOP,
    says="{measured} mm of it run along {subject}, with no wood between the two",
    do="Join both into one outline, or move them apart.",
    why="two openings that meet are one, and one that meets the outline is none",
    source="derived",
)

LINE_DOUBLED = FlagKind(
    id="line-doubled",
    severity=Severity.LOOK,
    says="{measured} mm of it run along {subject}",
    do="Delete one of the two.",
    why="it would be made twice, and burn",
    source=PRACTICE,
)

ART_OUTSIDE = FlagKind(
    id="art-outside",
    severity=Severity.STOP,
    says="reaches {measured} mm out of the drawing",
    do="Move it inside, or make the drawing's page larger.",
    why="what lies outside is lost, or lands on the neighbouring piece",
    source=PRACTICE,
)

OUTLINE_MISSING = FlagKind(
    id="outline-missing",
    severity=Severity.STOP,
    says="no element has the role 'cut-outside'",
    do="Give the outline of the layer the id 'cut-outside'.",
    why="a layer without an outline is never cut free",
    source="derived",
)

OPENING_OUTSIDE = FlagKind(
    id="opening-outside",
    severity=Severity.STOP,
    says="{measured} mm² of it lie outside the layer's outline",
    do="Move it inside the outline, or give it the role it was meant to have.",
    why="it would be cut out of the neighbouring piece",
    source="derived",
)

WEB_TOO_NARROW = FlagKind(
    id="web-too-narrow",
    severity=Severity.STOP,
    says="{measured} mm of wood are left near {subject}, after the kerf; at least {limit} mm",
    do="Move the cuts there apart.",
    why="a narrower web burns through or snaps",
    source=PRACTICE,
)

OPENING_TOO_NARROW = FlagKind(
    id="opening-too-narrow",
    severity=Severity.STOP,
    says="the opening is {measured} mm wide near {subject}, after the kerf; at least {limit} mm",
    do="Widen it there.",
    why="the waste of a narrower opening stays stuck in it",
    source=PRACTICE,
)

ENGRAVING_TOO_FINE = FlagKind(
    id="engraving-too-fine",
    severity=Severity.LOOK,
    says="a {subject} comes out {measured} mm wide; at least {limit} mm",
    do="Draw it wider.",
    why="finer detail is lost in the wood's grain",
    source=PRACTICE,
)

DRAWN_HOLE_NEAR_EDGE = FlagKind(
    id="drawn-hole-near-edge",
    severity=Severity.STOP,
    says="the hole for {subject} leaves {measured} mm of wood, after the kerf; at least {limit} mm",
    do="Move the hole, or draw more wood round it.",
    why="the hanger tears out",
    source=PRACTICE,
)

ZONE_NEAR_CUT = FlagKind(
    id="zone-near-cut",
    severity=Severity.STOP,
    says="leaves {measured} mm to the nearest cut; at least {limit} mm",
    do="Draw the zone further in.",
    why="the scorched edge runs into the letters",
    source=PRACTICE,
)

DRAWN_ENGRAVING_NEAR_CUT = FlagKind(
    id="drawn-engraving-near-cut",
    severity=Severity.LOOK,
    says="leaves {measured} mm to the nearest cut; at least {limit} mm",
    do="Move it away from the cut, unless it is meant to run out.",
    why="the scorched edge runs into it",
    source=PRACTICE,
)

ZONE_ON_ART = FlagKind(
    id="zone-on-art",
    severity=Severity.STOP,
    says="comes within {measured} mm of {subject}, as it comes out; at least {limit} mm",
    do="Draw the zone, or the art, elsewhere.",
    why="letters on engraved ground cannot be read",
    source=PRACTICE,
)

ZONES_OVERLAP = FlagKind(
    id="zones-overlap",
    severity=Severity.STOP,
    says="shares {measured} mm² with {subject}",
    do="Draw the two zones apart.",
    why="long texts run into each other",
    source="derived",
)

ENGRAVING_OUTSIDE = FlagKind(
    id="engraving-outside",
    severity=Severity.STOP,
    says="goes {measured} mm beyond the wood; up to {limit} mm may run out over an edge",
    do="Move it onto the wood.",
    why="it is burnt into the neighbouring piece, or into waste",
    source=PRACTICE,
)

PATH_KINKED = FlagKind(
    id="path-kinked",
    severity=Severity.LOOK,
    says="turns by {measured} degrees near {subject}; up to {limit} is not seen",
    do="Round that corner, or draw the line as a curve.",
    why="letters stand crooked to each other where the line that they follow turns at once",
    source="from memory, no source",
)

HANGS_TILTED = FlagKind(
    id="hangs-tilted",
    severity=Severity.LOOK,
    says="the piece hangs tilted by {measured} degrees; up to {limit} is not seen",
    do="Move the hole.",
    why="a piece hangs with its centre of mass under the hole",
    source="statics; the limit is common practice, no source",
)

HANGS_TILTED_GROWN = FlagKind(
    id="hangs-tilted-grown",
    severity=Severity.LOOK,
    says="grown by {subject} mm it hangs tilted by {measured} degrees; up to {limit} is not seen",
    do="Draw a line of growth on each side of the hole, so that both sides grow alike.",
    why="a piece hangs with its centre of mass under the hole",
    source="statics; the limit is common practice, no source",
)

HANGS_UNDECIDED = FlagKind(
    id="hangs-undecided",
    severity=Severity.LOOK,
    says="the middle of the piece lies {measured} the hole; upright needs {limit} mm below it",
    do="Move the hole up, or make the piece heavier below it.",
    why="a piece that hangs by its middle turns at a touch, and one by its lower half turns over",
    source="statics; the limit is from memory, no source",
)

GRAIN_SHORT = FlagKind(
    id="grain-short",
    severity=Severity.LOOK,
    says="the hanging tab is {measured} mm wide at its foot, across the grain; at least {limit} mm",
    do="Widen the tab's foot, or sink the hole into the body.",
    why="short grain snaps",
    source="common practice; the limit is from memory, no source",
)

SAMPLE_FAILS = FlagKind(
    id="sample-fails",
    severity=Severity.LOOK,
    says="the sample text {subject} cannot be made: {measured}",
    do="Enlarge the zone, lower the least cap height, move a given baseline (it is measured on "
    "the page), or try `--text` with your own.",
    why="a design that takes no common name makes work at each order",
    source=PRACTICE,
)

PICTURE_WITHOUT = FlagKind(
    id="picture-without",
    severity=Severity.NOTE,
    says="shows the design without {subject}, which cannot be made",
    do="Compare the zone with the finding about it.",
    why="a picture that lacks something is not to pass for the whole",
    source="derived",
)

PICTURE_NOT_DRAWN = FlagKind(
    id="picture-not-drawn",
    severity=Severity.NOTE,
    says="was not drawn, since the sample cannot be made for its {subject}",
    do="Mend that and check again.",
    why="nothing is drawn that cannot be made",
    source="derived",
)

UNITS_READ = FlagKind(
    id="units-read",
    severity=Severity.NOTE,
    says='is drawn in the unit "{subject}" and was read as {measured} mm',
    do="Compare that with the size you meant.",
    why="drawing programs save lengths in several units",
    source="CSS Values and Units 3, section 6.2: 1 in = 96 px = 72 pt = 25.4 mm",
)

DRAWING_KINDS: tuple[FlagKind, ...] = (
    DESIGN_UNREADABLE,
    FINDINGS_MORE,
    OUTLINE_MISSING,
    CUT_CROSSES,
    CUTS_SHARE_LINE,
    LINE_DOUBLED,
    ART_OUTSIDE,
    OPENING_OUTSIDE,
    WEB_TOO_NARROW,
    OPENING_TOO_NARROW,
    ENGRAVING_TOO_FINE,
    DRAWN_HOLE_NEAR_EDGE,
    ZONE_NEAR_CUT,
    DRAWN_ENGRAVING_NEAR_CUT,
    ZONE_ON_ART,
    ZONES_OVERLAP,
    ENGRAVING_OUTSIDE,
    PATH_KINKED,
    HANGS_TILTED,
    HANGS_TILTED_GROWN,
    HANGS_UNDECIDED,
    GRAIN_SHORT,
    SAMPLE_FAILS,
    PICTURE_WITHOUT,
    PICTURE_NOT_DRAWN,
    UNITS_READ,
)
