"""Borders that every upright line meets at most twice, as almost every drawn zone's: a roof above
and a floor below, each a function of x. What reaches into the shape is a corner of either that
turns inwards; everything else is met by the shape's own corners.
"""

from __future__ import annotations

import numpy as np

from proofgen.lettering.zone import Floats

# A few of the shape's corners tell of most places that they are no good.
SPARSE = 16


class MonotoneBorder:
    """Roof and floor, points (n, 2) each, x rising strictly, between the same two ends."""

    def __init__(self, roof: Floats, floor: Floats) -> None:
        self._roof, self._floor = roof, floor
        self._roof_teeth = roof[1:-1][_bends(roof) < 0]
        self._floor_teeth = floor[1:-1][_bends(floor) > 0]

    def free(self, edges: Floats, x: float) -> list[tuple[float, float]]:
        """The y at which the shape with these edges (n, 4), moved by (x, y), is inside, if any."""
        low, high = self._room(edges[::SPARSE], x)
        if low > high:
            return []
        low, high = self._room(edges, x)
        for tooth in self._roof_teeth:
            if low > high:
                return []
            low = max(low, float(tooth[1]) - _extent(edges, tooth[0] - x, np.minimum, np.inf))
        for tooth in self._floor_teeth:
            if low > high:
                return []
            high = min(high, float(tooth[1]) - _extent(edges, tooth[0] - x, np.maximum, -np.inf))
        return [(low, high)] if low <= high else []

    def _room(self, edges: Floats, x: float) -> tuple[float, float]:
        """The y between which the edges' starts are inside; crossed where there are none."""
        across, down = edges[:, 0] + x, edges[:, 1]
        if across.min() < self._roof[0, 0] or across.max() > self._roof[-1, 0]:
            return 1.0, -1.0
        low = (np.interp(across, *self._roof.T) - down).max()
        high = (np.interp(across, *self._floor.T) - down).min()
        return float(low), float(high)


def monotone(corners: Floats) -> MonotoneBorder | None:
    """The border of that polygon, corners (m, 2), if every upright line meets it at most twice."""
    start = int(np.lexsort((corners[:, 1], corners[:, 0]))[0])
    ring = np.vstack([np.roll(corners, -start, axis=0), corners[start]])
    right = int(ring[:, 0].argmax())
    one, other = _without_walls(ring[: right + 1]), _without_walls(ring[right:][::-1])
    if min(np.diff(one[:, 0]).min(initial=1), np.diff(other[:, 0]).min(initial=1)) <= 0:
        return None
    middle = (one[0, 0] + one[-1, 0]) / 2
    above = np.interp(middle, *one.T) < np.interp(middle, *other.T)
    return MonotoneBorder(one, other) if above else MonotoneBorder(other, one)


def _without_walls(chain: Floats) -> Floats:
    """The chain without the upright stretches at its two ends."""
    xs = chain[:, 0]
    first = int(np.nonzero(xs == xs[0])[0][-1])
    last = int(np.nonzero(xs == xs[-1])[0][0])
    return chain[first : last + 1]


def _bends(chain: Floats) -> Floats:
    """How the chain turns at each inner point: positive where it bulges upwards (y is down)."""
    a, b = np.diff(chain[:-1], axis=0), np.diff(chain[1:], axis=0)
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _extent(edges: Floats, x: float, furthest: np.ufunc, nothing: float) -> float:
    """The furthest y of the shape at x; `nothing` where it does not reach there."""
    x1, y1, x2, y2 = edges[(edges[:, 0] - x) * (edges[:, 2] - x) <= 0].T
    run = x2 - x1
    share = np.divide(x - x1, run, out=np.zeros_like(x1), where=run != 0)
    at = y1 + share * (y2 - y1)
    return float(furthest.reduce(np.where(run != 0, at, furthest(y1, y2)), initial=nothing))
