"""Findings about zones on their own layer: too near a cut, on engraved art, on each other."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from proofgen.checks.places import placed, spot
from proofgen.checks.wood import Wood, drawn
from proofgen.designs.design import Template
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.along import corners
from proofgen.geometry.parts import overlap
from proofgen.geometry.path import polygon
from proofgen.geometry.polygons import distance, room_round

ENOUGH = 0.5  # mm² that two zones may share
TURN = 12.0  # degrees that a text may turn between two letters; from memory, no source


def kinks(wood: Wood, template: Template) -> Iterator[Flag]:
    """Lines that a text follows have no corners."""
    for slot in template.slots:
        if slot.layer == wood.layer.name and slot.path:
            for place, turn in corners(slot.path.contours[0]):
                if turn > TURN:
                    where = wood.where(f"path.{slot.field}", slot.side)
                    yield Flag(kinds.PATH_KINKED, where, turn, TURN, spot(place))


def near_cuts(wood: Wood, template: Template) -> Iterator[Flag]:
    """Zones inside their layer and clear of its cuts; letters that stand reach out of it."""
    for place in placed(wood, template):
        if place.made == "stand":
            continue
        zone = polygon(place.zone).moved(wood.seen(place.side))
        grows, limit = wood.clear(place.made)
        left = max(room_round(zone, wood.outline, wood.openings) - grows, 0.0)
        if left < limit:
            where = wood.where(place.element, place.side)
            yield Flag(kinds.ZONE_NEAR_CUT, where, left, limit)


def on_art(wood: Wood, template: Template) -> Iterator[Flag]:
    """Engraved art comes no nearer to engraved letters than two engraved things may be apart."""
    limit, dot = wood.limits.engraved_gap.least, wood.machine.dot
    for place in placed(wood, template):
        for mark in wood.layer.marks:
            alike = place.made == "engrave" and mark.side == place.side
            if alike and mark.operation.startswith("engrave"):
                left = max(distance(polygon(place.zone), drawn(mark)) - dot, 0.0)
                if left < limit:
                    where = wood.where(place.element, place.side)
                    yield Flag(kinds.ZONE_ON_ART, where, left, limit, f"'{mark.element}'")


def on_each_other(wood: Wood, template: Template) -> Iterator[Flag]:
    """Two zones on one side of a layer share no place, but for letters that stand; nor does one on
    the back with letters that are cut.
    """
    places = [place for place in placed(wood, template) if place.made != "stand"]
    for a, b in combinations(places, 2):
        if a.side == b.side or "cut" in (a.made, b.made):
            first, second = (polygon(z.zone).moved(wood.seen(z.side)) for z in (a, b))
            shared = overlap(first, second)
            if shared > ENOUGH:
                where = wood.where(b.element, b.side)
                yield Flag(kinds.ZONES_OVERLAP, where, shared, ENOUGH, f"'{a.element}'")
