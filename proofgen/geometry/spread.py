"""Accents set as far from their letter as small engraving needs."""

from __future__ import annotations

from itertools import combinations

from proofgen.geometry.affine import Affine
from proofgen.geometry.marks import shape_of, taken_apart
from proofgen.geometry.path import Path, join
from proofgen.geometry.weld import weld

# Marks are told from letters in mm: an em is drawn so large for that.
EM = 100.0
# Shares of the gap by which marks are moved at a time, and of their distances by which they part.
STEP, PART = 0.05, 0.02
# Marks are moved no more often than this: what is wanting then stays so.
TIMES = 60


def spread(letter: Path, gap: float) -> Path:
    """A letter whose marks keep at least `gap` ems from it and from one another; ems.

    Marks that have the room stay. A letter without marks is given back as it is.
    """
    if len(letter.contours) < 2:
        return letter
    parted = taken_apart(weld([letter.moved(Affine.scale(EM))]))
    groups = [_set_off(group, parted.body, gap * EM) for group in parted.groups]
    if all(new is old for new, old in zip(groups, parted.groups, strict=True)):
        return letter
    marks = (mark for group in groups for mark in group)
    return join((parted.body, *marks)).moved(Affine.scale(1 / EM))


def _set_off(group: tuple[Path, ...], body: Path, gap: float) -> tuple[Path, ...]:
    """The marks above or below a letter, parted about their middle, then moved off the letter."""
    middle = join(group).bounds().centre
    away = -1.0 if middle[1] < body.bounds().centre[1] else 1.0
    for number in range(TIMES):
        if _apart(group) >= gap:
            break
        factor = 1 + PART / (1 + PART * number)
        shifts = [_from(middle, mark.bounds().centre, factor - 1) for mark in group]
        group = tuple(mark.moved(at) for mark, at in zip(group, shifts, strict=True))
    for _ in range(TIMES):
        if shape_of(join(group)).distance(shape_of(body)) >= gap:
            break
        step = Affine.shift(0.0, away * STEP * gap)
        group = tuple(mark.moved(step) for mark in group)
    return group


def _apart(group: tuple[Path, ...]) -> float:
    pairs = combinations(map(shape_of, group), 2)
    return min((one.distance(other) for one, other in pairs), default=float("inf"))


def _from(middle: tuple[float, float], centre: tuple[float, float], share: float) -> Affine:
    return Affine.shift((centre[0] - middle[0]) * share, (centre[1] - middle[1]) * share)
