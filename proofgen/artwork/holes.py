"""Whether the hanger's hole leaves enough wood round it."""

from __future__ import annotations

from proofgen.designs.design import Design, DesignLayer
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.path import join
from proofgen.geometry.polygons import room_round
from proofgen.workshop.workshop import Workshop

HANGER = "hanger"


def hole_flags(design: Design, workshop: Workshop, where: str) -> tuple[Flag, ...]:
    """A flag for each layer whose hole, after the kerf, comes too near a cut or leaves it."""
    found = []
    for layer in design.layers:
        limit = workshop.material(layer.material).limits.hole_to_edge.least
        left = _left(layer) - workshop.machine.kerf
        if left < limit:
            found.append(Flag(kinds.HOLE_NEAR_EDGE, where, max(left, 0.0), limit, layer.name))
    return tuple(found)


def _left(layer: DesignLayer) -> float:
    """The wood as drawn between the hole and the nearest cut, mm; infinite without a hole."""
    cuts = [mark for mark in layer.marks if mark.operation.startswith("cut")]
    hole = join(mark.path for mark in cuts if mark.field == HANGER)
    outline = join(mark.path for mark in cuts if mark.operation == "cut-outside")
    openings = join(
        mark.path for mark in cuts if mark.operation == "cut-inside" and mark.field != HANGER
    )
    return room_round(hole, outline, openings)
