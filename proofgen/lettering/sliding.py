"""Zones that are not convex: the shape slides up and down at one x, and every pair of an edge of
its outline and an edge of the zone forbids one interval of y. Exact in y; size and a free x are
bracketed.
"""

from __future__ import annotations

import numpy as np

from proofgen.geometry.affine import Point
from proofgen.lettering.convex import ConvexZone
from proofgen.lettering.zone import Floats, Hold, Shape

# The scan down from the hull's bound, and where the bracket is closed.
SCAN = 0.985
BRACKET = 0.0005
TRIES_ACROSS = 17


class SlidingZone:
    """A simple polygon, corners (m, 2); its convex hull bounds the size from above."""

    def __init__(self, corners: Floats, hull: Floats) -> None:
        self._edges = np.hstack([corners, np.roll(corners, -1, axis=0)])
        self._hull = ConvexZone(hull)

    def largest(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """The greatest size up to `wanted` found inside, closed to 0.05 %; 0 where none is."""
        high = self._hull.largest(shape, hold, wanted)
        if high <= 0 or self._fits(shape, hold, high):
            return high
        low = high * SCAN
        floor = high / 8
        while low > floor and not self._fits(shape, hold, low):
            low, high = low * SCAN, low
        if low <= floor:
            return 0.0
        while high / low > 1 + BRACKET:
            middle = (low + high) / 2
            low, high = (middle, high) if self._fits(shape, hold, middle) else (low, middle)
        return low

    def place(self, shape: Shape, hold: Hold, size: float, near: Point) -> Point | None:
        """The tried place with the most room up and down; those nearest to the given x first."""
        best: tuple[float, Point] | None = None
        for x in self._across(shape, hold, size, near):
            for low, high in self._free(shape, size, x):
                y = hold.y[0] + hold.y[1] * size if hold.y else (low + high) / 2
                if low <= y <= high and (best is None or high - low > best[0]):
                    best = high - low, (x, y)
            if best is not None and x == near[0]:
                break
        return best and best[1]

    def _fits(self, shape: Shape, hold: Hold, size: float) -> bool:
        return self.place(shape, hold, size, self._hull_centre(shape, hold, size)) is not None

    def _hull_centre(self, shape: Shape, hold: Hold, size: float) -> Point:
        low, high = self._hull.reach(shape, hold, size)
        return (low + high) / 2, 0.0

    def _across(self, shape: Shape, hold: Hold, size: float, near: Point) -> list[float]:
        if hold.x:
            return [hold.x[0] + hold.x[1] * size]
        low, high = self._hull.reach(shape, hold, size)
        tries = [float(x) for x in np.linspace(low, high, TRIES_ACROSS)]
        inside = [near[0]] if low <= near[0] <= high else []
        return inside + sorted(tries, key=lambda x: abs(x - near[0]))

    def _free(self, shape: Shape, size: float, x: float) -> list[tuple[float, float]]:
        """Intervals of y at which no edge meets the zone's border and all of it is inside."""
        outline = shape.edges() * size + np.array([x, 0.0, x, 0.0])
        low, high = self._forbidden(outline)
        order = np.argsort(low)
        starts, reached = low[order], np.maximum.accumulate(high[order])
        gaps = np.nonzero(starts[1:] >= reached[:-1])[0]
        free = [(float(reached[i]), float(starts[i + 1])) for i in gaps]
        return [(a, b) for a, b in free if self._inside(outline, (a + b) / 2)]

    def _forbidden(self, outline: Floats) -> tuple[Floats, Floats]:
        """For every pair that overlaps in x, the y at which the two edges meet: lowest, highest."""
        zone = self._edges
        left = np.maximum(_least(outline)[:, None], _least(zone)[None, :])
        right = np.minimum(_most(outline)[:, None], _most(zone)[None, :])
        i, j = np.nonzero(left <= right)
        first = _meeting(outline[i], zone[j], left[i, j])
        last = _meeting(outline[i], zone[j], right[i, j])
        return np.minimum(first[0], last[0]), np.maximum(first[1], last[1])

    def _inside(self, outline: Floats, y: float) -> bool:
        """Whether every edge's start, moved down by y, lies in the polygon (even-odd crossings)."""
        px, py = outline[:, 0], outline[:, 1] + y
        x1, y1, x2, y2 = self._edges.T
        spans = (y1[None, :] > py[:, None]) != (y2[None, :] > py[:, None])
        with np.errstate(divide="ignore", invalid="ignore"):
            cut = x1 + (py[:, None] - y1) * (x2 - x1) / (y2 - y1)
        return bool(((spans & (px[:, None] < cut)).sum(axis=1) % 2 == 1).all())


def _least(edges: Floats) -> Floats:
    return np.minimum(edges[:, 0], edges[:, 2])


def _most(edges: Floats) -> Floats:
    return np.maximum(edges[:, 0], edges[:, 2])


def _meeting(outline: Floats, zone: Floats, x: Floats) -> tuple[Floats, Floats]:
    """How far down the outline's edges must move to meet the zone's at x: the least, the most."""
    top, bottom = _span(outline, x)
    high, low = _span(zone, x)
    return high - bottom, low - top


def _span(edges: Floats, x: Floats) -> tuple[Floats, Floats]:
    """The least and the greatest y of each edge at x; they differ where an edge is upright."""
    x1, y1, x2, y2 = edges.T
    upright = x1 == x2
    share = np.divide(x - x1, x2 - x1, out=np.zeros_like(x), where=~upright)
    y = y1 + share * (y2 - y1)
    return np.where(upright, np.minimum(y1, y2), y), np.where(upright, np.maximum(y1, y2), y)
