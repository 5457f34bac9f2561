"""Findings about lines: outlines missing, cuts crossing or doubled, art outside, other units."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from proofgen.checks.wood import Wood
from proofgen.designs.design import Mark, Template
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.affine import Point
from proofgen.geometry.linework import crosses_itself, crossing, run_along

ENOUGH = 0.01  # mm that nobody sees


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
    """Cuts that cross themselves or each other."""
    for mark in wood.cuts:
        place = crosses_itself(mark.path)
        if place:
            yield _crosses(wood, mark, place, "itself")
    for a, b in combinations(wood.cuts, 2):
        place = crossing(a.path, b.path)
        if place and not run_along(a.path, b.path):
            yield _crosses(wood, b, place, f"'{a.element}'")


def doubled(wood: Wood) -> Iterator[Flag]:
    """Cuts that run along each other."""
    for a, b in combinations(wood.cuts, 2):
        length = run_along(a.path, b.path)
        if length:
            where = wood.where(b.element)
            yield Flag(kinds.LINE_DOUBLED, where, length, None, f"'{a.element}'")


def outside(wood: Wood, template: Template) -> Iterator[Flag]:
    """What reaches out of the drawing."""
    width, height = template.size
    for mark in wood.layer.marks:
        box = mark.path.bounds()
        out = max(-box.left, -box.top, box.right - width, box.bottom - height)
        if out > ENOUGH:
            yield Flag(kinds.ART_OUTSIDE, wood.where(mark.element, mark.side), out)


def _crosses(wood: Wood, mark: Mark, place: Point, other: str) -> Flag:
    at = f"{place[0]:.2f}, {place[1]:.2f}"
    return Flag(kinds.CUT_CROSSES, wood.where(mark.element), at, None, other)
