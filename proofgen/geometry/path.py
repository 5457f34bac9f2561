"""Outlines made of lines, quadratic and cubic Bézier curves."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import chain, pairwise

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.rect import Rect

# What a segment adds to the current point: its control points, then its end.
# One point is a line, two a quadratic curve, three a cubic one.
Segment = tuple[Point, ...]
Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Contour:
    """One run of segments; a closed one returns to its start by a line if it ends elsewhere."""

    start: Point
    segments: tuple[Segment, ...]
    closed: bool = True
    _hash: int = field(default=0, init=False, repr=False, compare=False)

    def __hash__(self) -> int:
        # Kept: caches ask the same outlines for it again and again, and their points are many.
        if not self._hash:
            object.__setattr__(self, "_hash", hash((self.start, self.segments, self.closed)))
        return self._hash

    def moved(self, affine: Affine) -> Contour:
        """The same contour under an affine map."""
        # Written out: this is where most points of a sheet pass through.
        a, b, c, d, e, f = affine.a, affine.b, affine.c, affine.d, affine.e, affine.f
        segments = tuple(
            [
                tuple([(a * x + c * y + e, b * x + d * y + f) for x, y in segment])
                for segment in self.segments
            ]
        )
        return Contour(affine(self.start), segments, self.closed)

    def reversed(self) -> Contour:
        """The same contour walked the other way."""
        points = [self.start, *(segment[-1] for segment in self.segments)]
        back = tuple(
            (*reversed(segment[:-1]), start)
            for start, segment in zip(reversed(points[:-1]), reversed(self.segments), strict=True)
        )
        return Contour(points[-1], back, self.closed)

    def flatten(self, tolerance: float) -> Points:
        """Points (n, 2) of a polyline within `tolerance`; a closed one ends at its start."""
        return _flat((self,), tolerance)[0]

    def drawn(self) -> tuple[Segment, ...]:
        """The segments, with the line that closes them where one is needed."""
        if self.closed and self.segments and self.segments[-1][-1] != self.start:
            return (*self.segments, (self.start,))
        return self.segments


@dataclass(frozen=True, slots=True)
class Path:
    """Contours that are filled together by the nonzero rule."""

    contours: tuple[Contour, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.contours)

    def moved(self, affine: Affine) -> Path:
        """The same path under an affine map."""
        return Path(tuple(contour.moved(affine) for contour in self.contours))

    def flatten(self, tolerance: float) -> tuple[Points, ...]:
        """One polyline (n, 2) a contour, within `tolerance` of the curves."""
        return _flat(self.contours, tolerance)

    def bounds(self) -> Rect:
        """The tight box round the drawn outline; ValueError for an empty path."""
        drawn = [
            np.array([contour.start, *(segment[-1] for segment in contour.segments)])
            for contour in self.contours
        ]
        points = np.concatenate(drawn) if drawn else np.empty((0, 2))
        box = (*points.min(axis=0).tolist(), *points.max(axis=0).tolist())
        # Most curves stay within the box of all ends.
        for contour in self.contours:
            box = _stretched(box, contour)
        return Rect(*box)


def join(paths: Iterable[Path]) -> Path:
    """All contours of several paths as one path; nothing is welded."""
    return Path(tuple(chain.from_iterable(path.contours for path in paths)))


def polygon(points: Iterable[Point]) -> Path:
    """A closed path of straight lines."""
    first, *rest = points
    return Path((Contour(first, tuple((point,) for point in rest)),))


def circle(centre: Point, radius: float) -> Path:
    """A circle as four cubic curves; radial error at most 2.8e-4 of the radius."""
    x, y = centre
    k = 0.5522847 * radius
    r = radius
    segments = (
        ((x + r, y + k), (x + k, y + r), (x, y + r)),
        ((x - k, y + r), (x - r, y + k), (x - r, y)),
        ((x - r, y - k), (x - k, y - r), (x, y - r)),
        ((x + k, y - r), (x + r, y - k), (x + r, y)),
    )
    return Path((Contour((x + r, y), segments),))


# An outline is measured and drawn in several ways one after the other.
@lru_cache(maxsize=64)
def _flat(contours: tuple[Contour, ...], tolerance: float) -> tuple[Points, ...]:
    """Of each contour its start and points on its segments, at uniform steps.

    Curves of one degree are computed together: calling numpy for each costs more than the points.
    """
    if not contours:
        return ()
    runs = [contour.drawn() for contour in contours]
    given = _coordinates(runs)
    degrees = np.array([len(segment) for run in runs for segment in run], dtype=int)
    lengths = np.array([len(run) for run in runs], dtype=int)
    number = np.repeat(np.arange(len(runs)), lengths)
    last = np.cumsum(degrees) - 1
    ends = given[last]
    origins = np.array([contour.start for contour in contours])
    starts = np.empty_like(ends)
    starts[1:] = ends[:-1]
    heads = (np.cumsum(lengths) - lengths)[lengths > 0]
    starts[heads] = origins[lengths > 0]
    steps = np.ones(len(degrees), dtype=int)
    groups = []
    for degree in set(degrees.tolist()) - {1}:
        own = np.flatnonzero(degrees == degree)
        inner = given[last[own][:, None] + np.arange(1 - degree, 1)]
        control = np.concatenate([starts[own][:, None], inner], axis=1)
        steps[own] = _steps(control, tolerance)
        groups.append((own, control))
    # Each contour has one point more than steps, its start.
    first = np.cumsum(steps) - steps + number
    sizes = 1 + np.bincount(number, steps, len(runs)).astype(int)
    borders = np.cumsum(sizes)
    points = np.empty((int(borders[-1]), 2))
    points[borders - sizes] = origins
    points[first + steps] = ends
    for at, control in groups:
        count = steps[at]
        each = np.repeat(np.arange(len(at)), count)
        step = 1 + np.arange(len(each)) - np.repeat(np.cumsum(count) - count, count)
        points[first[at][each] + step] = points_on(control[each], (step / count[each])[:, None])
    points.flags.writeable = False
    return tuple(points[end - size : end] for end, size in zip(borders, sizes, strict=True))


def _coordinates(runs: list[tuple[Segment, ...]]) -> Points:
    """All points (n, 2) of all segments in a row."""
    flat = chain.from_iterable
    return np.fromiter(flat(flat(flat(runs))), np.float64).reshape(-1, 2)


def _steps(control: Points, tolerance: float) -> NDArray[np.int64]:
    """How many chords each curve (n, degree + 1, 2) needs: the second difference bounds the error.

    A line needs one.
    """
    degree = control.shape[1] - 1
    if degree == 1:
        return np.ones(len(control), dtype=np.int64)
    second = control[:, :-2] - 2 * control[:, 1:-1] + control[:, 2:]
    bend = np.hypot(second[..., 0], second[..., 1]).max(axis=1) * degree * (degree - 1)
    return np.asarray(np.maximum(1, np.ceil(np.sqrt(bend / (8 * tolerance)))), dtype=np.int64)


def points_on(control: Points, t: Points) -> Points:
    """One Bézier curve (degree + 1, 2), or one each (n, degree + 1, 2), at parameters t (n, 1)."""
    u = 1 - t
    p = [control[..., i, :] for i in range(control.shape[-2])]
    if len(p) == 2:
        return np.asarray(u * p[0] + t * p[1])
    if len(p) == 3:
        return np.asarray(u * u * p[0] + 2 * u * t * p[1] + t * t * p[2])
    return np.asarray(u**3 * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2] + t**3 * p[3])


Box = tuple[float, float, float, float]


def _stretched(box: Box, contour: Contour) -> Box:
    """The box (left, top, right, bottom) made to hold the points where a curve turns."""
    left, top, right, bottom = box
    here = contour.start
    for segment in contour.segments:
        if len(segment) > 1 and not all(
            left <= x <= right and top <= y <= bottom for x, y in segment[:-1]
        ):
            control = (here, *segment)
            turns = [t for axis in zip(*control, strict=True) for t in _turns(axis)]
            for x, y in points_on(np.array(control), np.array(turns)[:, None]).tolist():
                left, top, right, bottom = min(left, x), min(top, y), max(right, x), max(bottom, y)
        here = segment[-1]
    return left, top, right, bottom


def _turns(values: tuple[float, ...]) -> list[float]:
    """Parameters in (0, 1) where one coordinate's derivative is zero."""
    d = [b - a for a, b in pairwise(values)]
    if len(d) == 2:
        roots = _roots(0.0, d[1] - d[0], d[0])
    else:
        roots = _roots(d[0] - 2 * d[1] + d[2], 2 * (d[1] - d[0]), d[0])
    return [t for t in roots if 0 < t < 1]


def _roots(a: float, b: float, c: float) -> list[float]:
    """Real roots of a t^2 + b t + c, in the form that keeps its digits."""
    if abs(a) <= 1e-12 * (abs(b) + abs(c)):
        return [-c / b] if b else []
    inside = b * b - 4 * a * c
    if inside < 0:
        return []
    q = -(b + math.copysign(math.sqrt(inside), b)) / 2
    return [q / a, c / q] if q else [0.0]
