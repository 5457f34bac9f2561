"""Findings about what comes too near a cut or lies beyond it: hole, openings, engraving."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.places import placed
from proofgen.checks.wood import Wood, drawn
from proofgen.designs.design import Template
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.layered import Body
from proofgen.geometry.path import join, polygon
from proofgen.geometry.polygons import area, distance, room_round
from proofgen.geometry.weld import without
from proofgen.workshop.workshop import Hanger

SPECK = 0.01  # mm²; rounding
BLEED = 1.0  # mm that engraving may run out over an edge; common practice, no source


def hole(wood: Wood, hanger: Hanger | None) -> Iterator[Flag]:
    """The wood round the hole for the widest hanger."""
    if not wood.hole or hanger is None:
        return
    inside = join(m.path for m in wood.cuts if m.operation == "cut-inside")
    left = max(room_round(wood.hole, wood.outline, inside) - wood.machine.kerf, 0.0)
    limit = wood.limits.hole_to_edge.least
    if left < limit:
        yield Flag(kinds.DRAWN_HOLE_NEAR_EDGE, wood.where("hole"), left, limit, hanger.title)


def openings(wood: Wood) -> Iterator[Flag]:
    """Openings lie within the outline."""
    for mark in wood.cuts:
        if mark.operation == "cut-inside":
            out = area(without(mark.path, wood.outline))
            if out > SPECK:
                yield Flag(kinds.OPENING_OUTSIDE, wood.where(mark.element), out)


def engraving(wood: Wood, template: Template) -> Iterator[Flag]:
    """Engraved art and the cuts of its layer, the places of letters that are cut among them."""
    grows, limit = wood.clear("engrave")
    lettered = (polygon(p.zone) for p in placed(wood, template) if p.made == "cut")
    cuts = (wood.lines, join(lettered))
    for mark in wood.layer.marks:
        if mark.operation.startswith("engrave"):
            art = drawn(mark).moved(wood.seen(mark.side))
            left = min(distance(art, each) for each in cuts) - grows
            if left < limit:
                where = wood.where(mark.element, mark.side)
                yield Flag(kinds.DRAWN_ENGRAVING_NEAR_CUT, where, max(left, 0.0), limit)


def engraving_outside(wood: Wood) -> Iterator[Flag]:
    """Engraving that is not on the wood, but for what runs out a little over an edge."""
    body = Body(wood.outline, wood.openings)
    for mark in wood.layer.marks:
        if mark.operation.startswith("engrave"):
            out = body.reach_beyond(mark.path.moved(wood.seen(mark.side)))
            if out > BLEED:
                where = wood.where(mark.element, mark.side)
                yield Flag(kinds.ENGRAVING_OUTSIDE, where, out, BLEED)
