"""Classes of turns, the least turned first: tilting saves sheets and costs time in engraving."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from proofgen.nesting.shape import Shape

UPRIGHT, HALF, TILTED, ANY = "upright", "half turns", "one common tilt", "any turns"
CLASSES = (UPRIGHT, HALF, TILTED, ANY)
STEP = 5  # degrees between two tilts that are tried
TILTS = tuple(float(tilt) for tilt in range(0, 180, STEP))


def limited(shape: Shape, allowed: frozenset[float]) -> Shape:
    """The shape with those of its turns that are allowed; else with the one nearest upright."""
    if shape.turns is None:
        return replace(shape, turns=tuple(sorted(allowed)))
    turns = tuple(turn for turn in shape.turns if turn in allowed)
    return replace(shape, turns=turns or (min(shape.turns, key=_lean),))


def upright(shape: Shape) -> Shape:
    """Not turned at all, where it may lie so."""
    return limited(shape, frozenset((0.0,)))


def half(shape: Shape) -> Shape:
    """As it is drawn or head down."""
    return limited(shape, frozenset((0.0, 180.0)))


def tilts_of(shapes: Sequence[Shape]) -> tuple[float, ...]:
    """The tilts other than upright that every one of the shapes may lie at."""
    common = set(TILTS)
    for shape in shapes:
        if shape.turns is not None:
            common &= set(shape.turns)
    return tuple(sorted(common - {0.0}))


def class_of(turns: Sequence[float]) -> str:
    """The least turned class that has all of these turns."""
    if all(turn % 360 == 0 for turn in turns):
        return UPRIGHT
    if all(turn % 180 == 0 for turn in turns):
        return HALF
    return TILTED if len({turn % 180 for turn in turns}) == 1 else ANY


def _lean(turn: float) -> float:
    return abs((turn + 180) % 360 - 180)
