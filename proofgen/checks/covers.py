"""Findings about layers that lie over one another: holes closed, zones hidden, places that show."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist

from proofgen.checks.places import placed
from proofgen.checks.wood import Wood
from proofgen.designs.design import Template
from proofgen.flags import about_layers as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.layered import length_beyond
from proofgen.geometry.parts import overlap
from proofgen.geometry.path import Path, polygon
from proofgen.geometry.polygons import area
from proofgen.geometry.weld import without
from proofgen.orders.order import ORDER

ENOUGH = 0.5  # mm² that no eye finds
CENTRED = 0.1  # mm between the holes of two layers; the kerf hides less
PLACING = "placing"  # how the names of such lines begin
SHOWN = 0.5  # mm of such a line


def holes(woods: Sequence[Wood]) -> Iterator[Flag]:
    """The hole goes through every layer that lies there, and round one middle."""
    holed = [wood for wood in woods if wood.hole and wood.layer.hole]
    for a, b in combinations(holed, 2):
        if a.layer.hole and b.layer.hole:
            apart = dist(a.layer.hole, b.layer.hole)
            if apart > CENTRED:
                yield Flag(kinds.HOLES_APART, b.where("hole"), apart, CENTRED, a.layer.name)
    if holed:
        for other in woods:
            closed = overlap(holed[-1].hole, _wood(other))
            if other not in holed and closed > ENOUGH:
                where = holed[-1].where("hole")
                yield Flag(kinds.HOLE_CLOSED, where, closed, None, other.layer.name)


def zones(woods: Sequence[Wood], template: Template) -> Iterator[Flag]:
    """Zones that another layer hides; letters that stand reach beyond theirs."""
    for depth, wood in enumerate(woods):
        for place in placed(wood, template):
            if place.field == ORDER or place.made == "stand":
                continue
            zone = polygon(place.zone).moved(wood.seen(place.side))
            for cover in _over(woods, depth, place.side):
                hidden = overlap(zone, _wood(cover))
                if hidden > ENOUGH:
                    where = wood.where(place.element, place.side)
                    yield Flag(kinds.ZONE_COVERED, where, hidden, None, cover.layer.name)


def number(woods: Sequence[Wood], template: Template) -> Iterator[Flag]:
    """The place of the order's number is covered by the layers in front of it, or on the back."""
    for depth, wood in enumerate(woods):
        for place in placed(wood, template):
            if (place.field, place.side) == (ORDER, "front"):
                bare = polygon(place.zone)
                for cover in _over(woods, depth, "front"):
                    bare = without(bare, _wood(cover))
                seen = area(bare)
                if seen > ENOUGH:
                    where = wood.where(place.element)
                    yield Flag(kinds.NUMBER_UNCOVERED, where, seen, ENOUGH)


def placing(woods: Sequence[Wood]) -> Iterator[Flag]:
    """Lines that mark where another layer is glued on are not seen afterwards."""
    for depth, wood in enumerate(woods):
        for mark in wood.layer.marks:
            if mark.operation == "engrave-line" and mark.name.startswith(PLACING):
                covers = tuple((w.outline, w.openings) for w in _over(woods, depth, mark.side))
                shown = length_beyond(mark.path.moved(wood.seen(mark.side)), covers)
                if shown > SHOWN:
                    where = wood.where(mark.element, mark.side)
                    yield Flag(kinds.PLACING_SHOWS, where, shown, SHOWN)


def _over(woods: Sequence[Wood], depth: int, side: str) -> Sequence[Wood]:
    """The layers that lie on that side of the one at this depth."""
    return woods[depth + 1 :] if side == "front" else woods[:depth]


def _wood(wood: Wood) -> Path:
    return without(wood.outline, wood.openings)
