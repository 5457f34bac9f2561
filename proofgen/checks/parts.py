"""Findings about the parts that a design falls into when all its cuts are made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from proofgen.checks.places import spot
from proofgen.checks.wood import Wood
from proofgen.flags import about_layers as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.layered import inner_point, pieces
from proofgen.geometry.parts import overlap
from proofgen.geometry.path import Path, join
from proofgen.geometry.polygons import area

GLUED = 1.0  # mm² that two layers share; less holds nothing; from memory, no source

Part = tuple[Wood, Path]


def loose(woods: Sequence[Wood]) -> Iterator[Flag]:
    """Parts that neither wood nor glue joins to the rest, and layers that only glue holds.

    Nothing is told of a design with an outline made from lettering, which is not drawn.
    """
    if not all(wood.outline for wood in woods):
        return
    layers = [[(wood, part) for part in _pieces(wood)] for wood in woods]
    whole = _whole(layers)
    for wood, own in zip(woods, layers, strict=True):
        for _, part in (each for each in own if each not in whole):
            near = spot(inner_point(part))
            element = wood.nearest(part.contours[0].start)
            yield Flag(kinds.WOOD_LOOSE, wood.where(element), area(part), None, near)
        if not own:
            yield Flag(kinds.LAYER_EMPTY, wood.layer.file("front"))
        held = sum(each in whole for each in own)
        if held > 1:
            yield Flag(kinds.LAYER_IN_PARTS, wood.layer.file("front"), str(held))


def _pieces(wood: Wood) -> tuple[Path, ...]:
    inside = join(mark.path for mark in wood.cuts if mark.operation == "cut-inside")
    return pieces(wood.outline, inside, wood.hole)


def _whole(layers: Sequence[Sequence[Part]]) -> list[Part]:
    """The parts that hang together, from the largest on."""
    every = [part for own in layers for part in own]
    joined = [
        (a, b)
        for behind, before in pairwise(layers)
        for a in behind
        for b in before
        if overlap(a[1], b[1]) >= GLUED
    ]
    reached = sorted(every, key=lambda each: -area(each[1]))[:1]
    for here in reached:
        for a, b in joined:
            other = b if a is here else a if b is here else None
            if other and other not in reached:
                reached.append(other)
    return reached
