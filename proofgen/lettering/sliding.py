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
TRIES_ACROSS = 25
# The last step across, as a share of the size.
NARROWEST = 0.001

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

    def bound(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """What the hull allows."""
        return self._hull.largest(shape, hold, wanted)

    def largest(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """The greatest size up to `wanted` found inside, closed to 0.05 %; 0 where none is."""
        return self._search(shape, hold, wanted)[0]

    def place(self, shape: Shape, hold: Hold, size: float, near: float) -> Point | None:
        """The tried place nearest to the given x, with the most room up and down there."""
        edges = shape.edges() * size
        for x in self._across(shape, hold, size, near):
            y = self._down(edges, hold, size, x)
            if y is not None:
                return x, y
        for wanted in (size, np.inf):
            x = self._search(shape, hold, wanted)[1]
            y = self._down(edges, hold, size, x)
            if y is not None:
                return x, y
        return None

    def _down(self, edges: Floats, hold: Hold, size: float, x: float) -> float | None:
        free = self._border.free(edges, x)
        if hold.y:
            y = hold.y[0] + hold.y[1] * size
            return y if any(low <= y <= high for low, high in free) else None
        widest = max(free, key=lambda interval: interval[1] - interval[0], default=None)
        return (widest[0] + widest[1]) / 2 if widest else None

    def _search(self, shape: Shape, hold: Hold, wanted: float) -> tuple[float, float]:
        """The greatest size and the x at which it was found; size 0 where there is none."""
        high = self._hull.largest(shape, hold, wanted)
        low, right = self._hull.reach(shape, hold, high)
        for x in self._across(shape, hold, high, (low + right) / 2):
            if self._fits(shape, hold, high, x):
                return high, x
        size, floor = high * SCAN, high * SMALLEST
        while size > floor:
            found = self._fitting(shape, hold, size)
            if found and hold.x:
                return self._grown(shape, hold, size, found[0], high)
            if found:
                return self._climbed(shape, hold, found, size, high)
            size *= SCAN
        return 0.0, 0.0

    def _climbed(
        self, shape: Shape, hold: Hold, found: list[float], size: float, high: float
    ) -> tuple[float, float]:
        """The top of the highest hill of those that rise above a little less than `size`."""
        less = size * SCAN * SCAN
        low, right = self._hull.reach(shape, hold, less)
        step = (right - low) / TRIES_ACROSS
        starts = [(x, size) for x in found]
        starts += [(x, less) for x in self._fitting(shape, hold, less)]
        hills: list[list[tuple[float, float]]] = []
        for x, fits in sorted(starts):
            if hills and x - hills[-1][-1][1] < 2 * step:
                hills[-1].append((fits, x))
            else:
                hills.append([(fits, x)])
        return max(self._climb(shape, hold, max(hill), step, high) for hill in hills)

    def _climb(
        self, shape: Shape, hold: Hold, start: tuple[float, float], step: float, high: float
    ) -> tuple[float, float]:
        """Ever smaller steps across to where the size is greatest."""
        size, x = self._grown(shape, hold, *start, high)
        while step > size * NARROWEST and size < high:
            for aside in (x - step, x + step):
                if self._fits(shape, hold, size * (1 + BRACKET), aside):
                    size, x = self._grown(shape, hold, size * (1 + BRACKET), aside, high)
                    break
            else:
                step /= 2
        return size, x

    def _grown(
        self, shape: Shape, hold: Hold, size: float, x: float, high: float
    ) -> tuple[float, float]:
        """The size that fits at x, made as great as it may be there."""
        rise = 1 + BRACKET
        while size * rise < high and self._fits(shape, hold, size * rise, x):
            size, rise = size * rise, 1 + 2 * (rise - 1)
        top = min(size * rise, high)
        while top / size > 1 + BRACKET:
            middle = (size + top) / 2
            size, top = (middle, top) if self._fits(shape, hold, middle, x) else (size, middle)
        return size, x

    def _fits(self, shape: Shape, hold: Hold, size: float, x: float) -> bool:
        x = hold.x[0] + hold.x[1] * size if hold.x else x
        return self._down(shape.edges() * size, hold, size, x) is not None

    def _fitting(self, shape: Shape, hold: Hold, size: float) -> list[float]:
        """The tried x at which the size fits, from the left."""
        low, high = self._hull.reach(shape, hold, size)
        tries = sorted(self._across(shape, hold, size, (low + high) / 2))
        return [x for x in tries if self._fits(shape, hold, size, x)]

    def _across(self, shape: Shape, hold: Hold, size: float, near: float) -> list[float]:
        if hold.x:
            return [hold.x[0] + hold.x[1] * size]
        low, high = self._hull.reach(shape, hold, size)
        tries = [min(max(near, low), high), *map(float, np.linspace(low, high, TRIES_ACROSS))]
        return sorted(tries, key=lambda x: abs(x - near))
