"""Findings about what is too narrow: webs, openings, engraved strokes and gaps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from proofgen.checks.places import spot
from proofgen.checks.wood import Wood
from proofgen.designs.design import Mark
from proofgen.designs.read_side import SIDES
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.affine import Point
from proofgen.geometry.linework import away
from proofgen.geometry.narrow import narrow_places
from proofgen.geometry.path import Path, join, polygon

NOTHING = Path()


def webs(wood: Wood) -> Iterator[Flag]:
    """Wood between cuts, as it is after the kerf; told at an opening that bounds it, if any."""
    kerf, limit = wood.machine.kerf, wood.limits.web.least
    for width, place in narrow_places(wood.outline, wood.openings, limit + kerf):
        where = wood.where(wood.nearest(place, width))
        yield Flag(kinds.WEB_TOO_NARROW, where, max(width - kerf, 0.0), limit, spot(place))


def openings(wood: Wood) -> Iterator[Flag]:
    """Openings as they are after the kerf."""
    kerf, limit = wood.machine.kerf, wood.limits.cut_opening.least
    for mark in wood.cuts:
        if mark.operation == "cut-inside":
            for width, place in narrow_places(mark.path, NOTHING, limit - kerf):
                where = wood.where(mark.element)
                yield Flag(kinds.OPENING_TOO_NARROW, where, width + kerf, limit, spot(place))


def engraving(wood: Wood) -> Iterator[Flag]:
    """Strokes of engraved areas and the gaps between them, as they come out."""
    dot, limits = wood.machine.dot, wood.limits
    for side in SIDES:
        drawn = [m for m in wood.layer.marks if m.operation == "engrave-area" and m.side == side]
        if not drawn:
            continue
        art = join(mark.path for mark in drawn)
        found = (
            ("stroke", art, NOTHING, limits.engraved_stroke.least, dot),
            ("gap", _frame(art), art, limits.engraved_gap.least, -dot),
        )
        for part, whole, less, limit, grows in found:
            for width, place in narrow_places(whole, less, limit - grows):
                where = wood.where(_nearest(place, drawn).element, side)
                subject = f"{part} near {spot(place)}"
                comes_out = max(width + grows, 0.0)
                yield Flag(kinds.ENGRAVING_TOO_FINE, where, comes_out, limit, subject)


def _frame(art: Path) -> Path:
    """So much ground round the art that its rim is no gap."""
    box, room = art.bounds(), 10.0
    left, top, right, bottom = box.left - room, box.top - room, box.right + room, box.bottom + room
    return polygon(((left, top), (right, top), (right, bottom), (left, bottom)))


def _nearest(place: Point, marks: Sequence[Mark]) -> Mark:
    return min(marks, key=lambda mark: away(place, mark.path))
