"""How long a sheet takes, by part, for each way of engraving its areas.

Reckoned from the workshop file's [motion]; whoever times two jobs of their own can fit it to them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from proofgen.geometry.along import length
from proofgen.geometry.path import Points
from proofgen.geometry.polygons import area
from proofgen.production.motion import CHORD, follow, rapid, row
from proofgen.production.steps import Plan, Step, is_cut
from proofgen.workshop.motion import Motion

SHEET, PIECE, CONTOUR = "raster per sheet", "raster per piece", "contour-parallel"

# How much longer a hatch takes than its length at the pace of the outline: inner lines are short
# and have moves between them. Measured on the lettering that ships, 1.49 to 1.64.
INNER = 1.55


@dataclass(frozen=True, slots=True)
class Times:
    """Seconds by part for one way of engraving.

    `acceptable` is False for the raster across the whole sheet where pieces are finished one by
    one: it would engrave on pieces that are loose.
    """

    way: str
    engraving: float
    cutting: float
    travel: float
    pierce: float
    acceptable: bool = True

    @property
    def total(self) -> float:
        """All of it."""
        return self.engraving + self.cutting + self.travel + self.pierce


@dataclass(frozen=True, slots=True)
class _Inked:
    """An area as its outlines, flattened once for all ways, and its square millimetres."""

    piece: int
    runs: tuple[Points, ...]
    area: float

    @staticmethod
    def of(step: Step) -> _Inked:
        return _Inked(step.piece, step.path.flatten(CHORD), area(step.path, CHORD))


def clock(plan: Plan, motion: Motion) -> tuple[Times, ...]:
    """Times of the raster per sheet, the raster per piece and the contour-parallel hatch.

    ValueError for a plan whose areas are lines already.
    """
    if plan.hatch:
        raise ValueError("the clock reckons with areas, not with their lines")
    areas = [_Inked.of(step) for step in plan.steps if step.operation == "engrave-area"]
    drawn = (step.path for step in plan.steps if step.operation == "engrave-line")
    lines = sum(_followed(path.flatten(CHORD), motion) for path in drawn)
    cutting, pierce = _cut([step for step in plan.steps if is_cut(step.operation)], motion)
    travel = sum(_rapid(math.dist(*move), motion) for move in plan.rapids())
    by_piece = groupby(sorted(areas, key=lambda s: s.piece), key=lambda s: s.piece)
    ways = (
        (SHEET, _raster(areas, motion), plan.manner == "operation"),
        (PIECE, sum(_raster(list(own), motion) for _, own in by_piece), True),
        (CONTOUR, sum(_hatched(each, motion) for each in areas), True),
    )
    return tuple(
        Times(way, (lines + seconds) * motion.engraving_factor, cutting, travel, pierce, fine)
        for way, seconds, fine in ways
    )


def recommended(times: Iterable[Times]) -> Times:
    """The quickest that is acceptable; the first of equals."""
    return min((each for each in times if each.acceptable), key=lambda each: each.total)


def _cut(steps: list[Step], motion: Motion) -> tuple[float, float]:
    runs = sum(len(step.path.contours) for step in steps)
    along = sum(length(step.path) for step in steps)
    factor = motion.passes * motion.cutting_factor
    return factor * along / motion.cut_speed, factor * runs * motion.pierce


def _rapid(distance: float, motion: Motion) -> float:
    return rapid(distance, motion.rapid_speed, motion.acceleration)


def _followed(runs: Iterable[Points], motion: Motion) -> float:
    """Along every line at engraving speed."""
    speed, deviation = motion.engraving_speed, motion.corner_deviation
    return sum(follow(run, speed, deviation, motion.acceleration) for run in runs)


def _raster(areas: list[_Inked], motion: Motion) -> float:
    """Rows across all areas at once, each from its first ink to its last, to and fro.

    Where there is no ink, no row is made: the head moves on to the next one that has some.
    """
    if not areas:
        return 0.0
    number, left, right = _rows([run for each in areas for run in each.runs], motion.pitch)
    sides = sum(
        row(span, motion.overscan, motion.engraving_speed, motion.acceleration)
        for span in (right - left).tolist()
    )
    down = (np.diff(number) * motion.pitch).tolist()
    return sides + sum(_rapid(step, motion) for step in down)


def _rows(runs: Iterable[Points], pitch: float) -> tuple[Points, Points, Points]:
    """Numbers of the rows that meet the outlines, and the leftmost and rightmost x on each."""
    x0, y0, x1, y1 = np.concatenate([np.hstack([run[:-1], run[1:]]) for run in runs]).T
    low, high = np.minimum(y0, y1) / pitch, np.maximum(y0, y1) / pitch
    first = np.ceil(low).astype(int)
    count = np.maximum(0, np.floor(high).astype(int) - first + 1)
    edge = np.repeat(np.arange(len(x0)), count)
    number = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count) + first[edge]
    rise = y1[edge] - y0[edge]
    share = (number * pitch - y0[edge]) / np.where(rise == 0, 1, rise)
    x = x0[edge] + np.clip(share, 0, 1) * (x1[edge] - x0[edge])
    rows, at = np.unique(number, return_inverse=True)
    left, right = np.full(len(rows), np.inf), np.full(len(rows), -np.inf)
    np.minimum.at(left, at, x)
    np.maximum.at(right, at, x)
    return rows, left, right


def _hatched(inked: _Inked, motion: Motion) -> float:
    """Inward offsets at the pitch: inked area / pitch is their length, driven as the outline is."""
    outline = sum(float(np.hypot(*np.diff(run, axis=0).T).sum()) for run in inked.runs)
    if not outline:
        return 0.0
    pace = outline / _followed(inked.runs, motion)
    return INNER * inked.area / motion.pitch / pace
