"""Findings about lines: outlines missing, cuts that meet or are doubled, art outside, units."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from proofgen.checks.wood import Wood
from proofgen.designs.design import Mark, Template
from proofgen.designs.read_side import SIDES
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag, FlagKind
from proofgen.geometry.affine import Point
from proofgen.geometry.linework import Meeting, crosses_itself, meetings

ENOUGH = 0.01  # mm that nobody sees
ITSELF = "itself"


def units(template: Template) -> Iterator[Flag]:
    """A note for each drawing whose size is not given in millimetres."""
    width, height = template.size
    for layer in template.layers:
        for file in layer.files:
            if file.unit != "mm":
                size = f"{width:.2f} by {height:.2f}"
                yield Flag(kinds.UNITS_READ, file.name, size, None, file.unit)


def outline(wood: Wood) -> Iterator[Flag]:
    """A layer needs an outline, unless it is made from lettering."""
    if not wood.outline and not wood.layer.backing:
        yield Flag(kinds.OUTLINE_MISSING, wood.layer.file("front"))


def crossings(wood: Wood) -> Iterator[Flag]:
    """Cuts that cross themselves or each other, share a part of their lines, or are drawn twice."""
    cuts = wood.cuts
    for mark in cuts:
        place = crosses_itself(mark.path)
        if place:
            yield _crosses(wood, mark, place, ITSELF)
    for met in meetings([mark.path for mark in cuts]):
        if met.place:
            yield _crosses(wood, cuts[met.b], met.place, _other(cuts, met))
        if met.run:
            kind = kinds.LINE_DOUBLED if met.twice else kinds.CUTS_SHARE_LINE
            yield _along(wood, cuts, met, kind)


def engraved_twice(wood: Wood) -> Iterator[Flag]:
    """Engraved lines that run along each other."""
    for side in SIDES:
        drawn = [m for m in wood.layer.marks if (m.operation, m.side) == ("engrave-line", side)]
        for met in meetings([mark.path for mark in drawn]):
            if met.run:
                yield _along(wood, drawn, met, kinds.LINE_DOUBLED)


def outside(wood: Wood, template: Template) -> Iterator[Flag]:
    """What reaches out of the drawing."""
    width, height = template.size
    for mark in wood.layer.marks:
        box = mark.path.bounds()
        out = max(-box.left, -box.top, box.right - width, box.bottom - height)
        if out > ENOUGH:
            yield Flag(kinds.ART_OUTSIDE, wood.where(mark.element, mark.side), out)


def _along(wood: Wood, marks: Sequence[Mark], met: Meeting, kind: FlagKind) -> Flag:
    mark = marks[met.b]
    where = wood.where(mark.element, mark.side)
    return Flag(kind, where, met.run, None, _other(marks, met))


def _other(marks: Sequence[Mark], met: Meeting) -> str:
    return ITSELF if met.a == met.b else f"'{marks[met.a].element}'"


def _crosses(wood: Wood, mark: Mark, place: Point, other: str) -> Flag:
    at = f"{place[0]:.2f}, {place[1]:.2f}"
    return Flag(kinds.CUT_CROSSES, wood.where(mark.element), at, None, other)
