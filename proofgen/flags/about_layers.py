"""Kinds of flags about the layers of a drawn design: how they hold together and what they hide."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE

WOOD_LOOSE = FlagKind(
    id="wood-loose",
    severity=Severity.STOP,
    says="{measured} mm² of wood near {subject} hold to nothing once all is cut",
    do="Leave a bridge to it, or take it out of the drawing.",
    why="what is cut all round falls out, and what lies on no other layer cannot be glued",
    source="derived",
)

LAYER_EMPTY = FlagKind(
    id="layer-empty",
    severity=Severity.STOP,
    says="no wood is left of the layer once all is cut",
    do="Take out the opening that is as large as the outline.",
    why="a layer without wood is none",
    source="derived",
)

LAYER_IN_PARTS = FlagKind(
    id="layer-in-parts",
    severity=Severity.LOOK,
    says="comes off the machine in {measured} parts, which only glue holds",
    do="Join them by bridges, unless they are meant to be glued on one by one.",
    why="small parts are lost, and glued askew",
    source=PRACTICE,
)

HOLES_APART = FlagKind(
    id="holes-apart",
    severity=Severity.STOP,
    says="lies {measured} mm from the hole of layer {subject}; up to {limit} mm",
    do="Draw the holes of all layers round the same middle.",
    why="a hanger goes through all layers",
    source="derived",
)

HOLE_CLOSED = FlagKind(
    id="hole-closed",
    severity=Severity.STOP,
    says="layer {subject} closes {measured} mm² of it",
    do="Draw a hole in that layer too, or leave it open there.",
    why="a hanger goes through all layers",
    source="derived",
)

ZONE_COVERED = FlagKind(
    id="zone-covered",
    severity=Severity.STOP,
    says="{measured} mm² of it are hidden by layer {subject}",
    do="Move the zone, or open that layer over it.",
    why="nobody sees what is lettered there",
    source="derived",
)

NUMBER_UNCOVERED = FlagKind(
    id="number-uncovered",
    severity=Severity.LOOK,
    says="{measured} mm² of the order number's place are not covered by a layer in front",
    do="Draw it where another layer is glued on, or on the back.",
    why="the number is for the workshop, not for the buyer's wall",
    source=PRACTICE,
)

PLACING_SHOWS = FlagKind(
    id="placing-shows",
    severity=Severity.LOOK,
    says="{measured} mm of it are covered by no layer",
    do="Draw it within the outline of the layer that is glued on there.",
    why="a line that helps to glue is not for the buyer",
    source="derived",
)

LAYER_KINDS: tuple[FlagKind, ...] = (
    WOOD_LOOSE,
    LAYER_EMPTY,
    LAYER_IN_PARTS,
    HOLES_APART,
    HOLE_CLOSED,
    ZONE_COVERED,
    NUMBER_UNCOVERED,
    PLACING_SHOWS,
)
