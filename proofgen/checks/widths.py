"""Findings about what is too narrow: webs, openings, engraved strokes and gaps."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.places import spot
from proofgen.checks.wood import Wood
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.narrow import narrowest
from proofgen.geometry.path import Path, join, polygon

NOTHING = Path()


def webs(wood: Wood) -> Iterator[Flag]:
    """Wood between cuts, as it is after the kerf."""
    width, place = narrowest(wood.outline, wood.openings)
    left, limit = width - wood.machine.kerf, wood.limits.web.least
    if place and left < limit:
        element = _outline_element(wood)
        yield Flag(kinds.WEB_TOO_NARROW, wood.where(element), left, limit, spot(place))


def openings(wood: Wood) -> Iterator[Flag]:
    """Openings as they are after the kerf."""
    for mark in wood.cuts:
        if mark.operation == "cut-inside":
            width, place = narrowest(mark.path, NOTHING)
            comes_out, limit = width + wood.machine.kerf, wood.limits.cut_opening.least
            if place and comes_out < limit:
                where = wood.where(mark.element)
                yield Flag(kinds.OPENING_TOO_NARROW, where, comes_out, limit, spot(place))


def engraving(wood: Wood) -> Iterator[Flag]:
    """Strokes of engraved areas and the gaps between them, as they come out."""
    for side in ("front", "back"):
        drawn = [m for m in wood.layer.marks if m.operation == "engrave-area" and m.side == side]
        if not drawn:
            continue
        art = join(mark.path for mark in drawn)
        stroke, stroke_at = narrowest(art, NOTHING)
        gap, gap_at = narrowest(_frame(art), art)
        dot, limits = wood.machine.dot, wood.limits
        found = (
            ("stroke", stroke + dot, limits.engraved_stroke.least, stroke_at),
            ("gap", gap - dot, limits.engraved_gap.least, gap_at),
        )
        for part, comes_out, limit, place in found:
            if place and comes_out < limit:
                where, subject = wood.where("engrave-area", side), f"{part} near {spot(place)}"
                yield Flag(kinds.ENGRAVING_TOO_FINE, where, comes_out, limit, subject)


def _frame(art: Path) -> Path:
    """So much ground round the art that its rim is no gap."""
    box, room = art.bounds(), 10.0
    left, top, right, bottom = box.left - room, box.top - room, box.right + room, box.bottom + room
    return polygon(((left, top), (right, top), (right, bottom), (left, bottom)))


def _outline_element(wood: Wood) -> str:
    return next(mark.element for mark in wood.cuts if mark.operation == "cut-outside")
