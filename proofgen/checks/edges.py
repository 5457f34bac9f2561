"""Findings about what comes too near a cut: the hanger's hole, zones, engraving; and the number."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from proofgen.checks.lines import element_of
from proofgen.checks.wood import Wood
from proofgen.designs.design import Slot, Template
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.path import join, polygon
from proofgen.geometry.polygons import area, distance, room_round
from proofgen.geometry.weld import without
from proofgen.workshop.workshop import Hanger

SPECK = 0.01  # mm²; rounding
ENOUGH = 0.5  # mm² that no eye finds


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


def zones(wood: Wood, template: Template) -> Iterator[Flag]:
    """Zones inside their layer and clear of its cuts; letters that stand reach out of it."""
    slots = [s for s in template.slots if s.layer == wood.layer.name and s.made != "stand"]
    places = [(element_of(slot), slot.side, slot.made, slot.zone) for slot in slots]
    places += [
        ("zone.symbol", slot.side, slot.made, slot.zone)
        for slot in template.symbol_slots
        if slot.layer == wood.layer.name
    ]
    for element, side, made, corners in places:
        zone = polygon(corners).moved(wood.seen(side))
        grows, limit = _clear(wood, made)
        left = max(room_round(zone, wood.outline, wood.openings) - grows, 0.0)
        if left < limit:
            yield Flag(kinds.ZONE_NEAR_CUT, wood.where(element, side), left, limit)


def engraving(wood: Wood) -> Iterator[Flag]:
    """Engraved art and the cuts of its layer."""
    grows, limit = _clear(wood, "engrave")
    for mark in wood.layer.marks:
        if mark.operation.startswith("engrave"):
            left = distance(mark.path.moved(wood.seen(mark.side)), wood.lines) - grows
            if left < limit:
                where = wood.where(mark.element, mark.side)
                yield Flag(kinds.DRAWN_ENGRAVING_NEAR_CUT, where, max(left, 0.0), limit)


def number(woods: Sequence[Wood], template: Template) -> Iterator[Flag]:
    """The place of the order's number is covered by the layers in front of it, or on the back."""
    for depth, wood in enumerate(woods):
        for slot in _numbers(wood, template):
            bare = polygon(slot.zone)
            for cover in woods[depth + 1 :]:
                bare = without(bare, without(cover.outline, cover.openings))
            seen = area(bare)
            if seen > ENOUGH:
                yield Flag(kinds.NUMBER_UNCOVERED, wood.where("identity"), seen, ENOUGH)


def _numbers(wood: Wood, template: Template) -> list[Slot]:
    return [
        slot
        for slot in template.slots
        if (slot.layer, slot.field, slot.side) == (wood.layer.name, "order", "front")
    ]


def _clear(wood: Wood, made: str) -> tuple[float, float]:
    """By how much an edge comes nearer to a cut than it is drawn, and how near it may come."""
    kerf = wood.machine.kerf
    if made == "cut":
        return kerf, wood.limits.web.least
    return (kerf + wood.machine.dot) / 2, wood.limits.engraving_to_cut.least
