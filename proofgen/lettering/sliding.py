"""Zones that are not convex: the shape slides up and down at one x. Exact in y; the size, and an x
that is free, are bracketed.
"""

from __future__ import annotations

from typing import Protocol

import numpy as np

from proofgen.geometry.affine import Point
from proofgen.lettering.convex import ConvexZone
from proofgen.lettering.zone import Floats, Hold, Shape

# The scan down from the hull's bound, where it gives up, and where the bracket is closed.
SCAN = 0.985
SMALLEST = 0.2
BRACKET = 0.0005
TRIES_ACROSS = 17

Interval = tuple[float, float]


class Border(Protocol):
    """The polygon's border, against which a shape slides."""

    def free(self, edges: Floats, x: float) -> list[Interval]:
        """Intervals of y at which the shape with these edges (n, 4), moved by (x, y), is inside."""


class SlidingZone:
    """A simple polygon's border; its convex hull, corners (m, 2), bounds the size from above."""

    def __init__(self, border: Border, hull: Floats) -> None:
        self._border = border
        self._hull = ConvexZone(hull)

    def largest(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """The greatest size up to `wanted` found inside, closed to 0.05 %; 0 where none is."""
        high = self._hull.largest(shape, hold, wanted)
        if high <= 0 or self._fits(shape, hold, high):
            return high
        low, floor = high * SCAN, high * SMALLEST
        while not self._fits(shape, hold, low):
            low, high = low * SCAN, low
            if low < floor:
                return 0.0
        while high / low > 1 + BRACKET:
            middle = (low + high) / 2
            low, high = (middle, high) if self._fits(shape, hold, middle) else (low, middle)
        return low

    def place(self, shape: Shape, hold: Hold, size: float, near: float) -> Point | None:
        """The tried place nearest to the given x, with the most room up and down there."""
        edges = shape.edges() * size
        for x in self._across(shape, hold, size, near):
            free = self._border.free(edges, x)
            if hold.y:
                y = hold.y[0] + hold.y[1] * size
                if any(low <= y <= high for low, high in free):
                    return x, y
            elif free:
                low, high = max(free, key=lambda interval: interval[1] - interval[0])
                return x, (low + high) / 2
        return None

    def _fits(self, shape: Shape, hold: Hold, size: float) -> bool:
        low, high = self._hull.reach(shape, hold, size)
        return self.place(shape, hold, size, (low + high) / 2) is not None

    def _across(self, shape: Shape, hold: Hold, size: float, near: float) -> list[float]:
        if hold.x:
            return [hold.x[0] + hold.x[1] * size]
        low, high = self._hull.reach(shape, hold, size)
        tries = [min(max(near, low), high), *map(float, np.linspace(low, high, TRIES_ACROSS))]
        return sorted(tries, key=lambda x: abs(x - near))
