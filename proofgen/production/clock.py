"""How long a sheet takes, by part, for each way of engraving its areas.

Reckoned from the workshop file's [motion]; whoever times two jobs of their own can fit it to them.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from proofgen.geometry.along import length
from proofgen.geometry.path import Points, join
from proofgen.geometry.polygons import area_within
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
    """An area as its outlines, flattened once for all ways."""

    piece: int
    runs: tuple[Points, ...]


def clock(plan: Plan, motion: Motion) -> tuple[Times, ...]:
    """Times of the raster per sheet, the raster per piece and the contour-parallel hatch.

    ValueError for a plan whose areas are lines already.
    """
    if plan.hatch:
        raise ValueError("the clock reckons with areas, not with their lines")
    areas = _inked([step for step in plan.steps if step.operation == "engrave-area"])
    drawn = join(step.path for step in plan.steps if step.operation == "engrave-line")
    lines = float(_followed(drawn.flatten(CHORD), motion).sum())
    cutting, pierce = _cut([step for step in plan.steps if is_cut(step.operation)], motion)
    travel = sum(_rapid(math.dist(*move), motion) for move in plan.rapids())
    by_piece = groupby(sorted(areas, key=lambda s: s.piece), key=lambda s: s.piece)
    ways = (
        (SHEET, _raster(areas, motion), plan.manner == "operation"),
        (PIECE, sum(_raster(list(own), motion) for _, own in by_piece), True),
        (CONTOUR, _hatched(areas, motion), True),
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


def _inked(steps: list[Step]) -> list[_Inked]:
    """All flattened together, which takes much less time than one by one."""
    runs = iter(join(step.path for step in steps).flatten(CHORD))
    return [_Inked(s.piece, tuple(next(runs) for _ in s.path.contours)) for s in steps]


def _followed(runs: Sequence[Points], motion: Motion) -> Points:
    """Along every line at engraving speed."""
    return follow(runs, motion.engraving_speed, motion.corner_deviation, motion.acceleration)


def _raster(areas: list[_Inked], motion: Motion) -> float:
    """Rows across all areas at once, each from its first ink to its last, to and fro.

    Where there is no ink, no row is made: the head moves on to the next one that has some.
    """
    if not areas:
        return 0.0
    number, left, right = _rows([run for each in areas for run in each.runs], motion.pitch)
    # A row takes a time that is linear in its span.
    span = float((right - left).mean())
    mean = row(span, motion.overscan, motion.engraving_speed, motion.acceleration)
    down = Counter(np.diff(number).tolist())
    return mean * len(number) + sum(
        count * _rapid(step * motion.pitch, motion) for step, count in down.items()
    )


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


def _hatched(areas: list[_Inked], motion: Motion) -> float:
    """Inward offsets at the pitch: inked area / pitch is their length, driven as the outline is."""
    runs = [run for each in areas for run in each.runs]
    lengths = np.array([np.hypot(*np.diff(run, axis=0).T).sum() for run in runs])
    owner = np.repeat(np.arange(len(areas)), [len(each.runs) for each in areas])
    outline = np.bincount(owner, lengths, len(areas))
    seconds = np.bincount(owner, _followed(runs, motion), len(areas))
    inked = np.array([area_within(each.runs) for each in areas])
    drawn = outline > 0
    return float((INNER * inked / motion.pitch * seconds)[drawn] @ (1 / outline[drawn]))
