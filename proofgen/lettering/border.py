"""The border of any simple polygon: every pair of an edge of the shape and an edge of the border
forbids one interval of y.
"""

from __future__ import annotations

import numpy as np

from proofgen.lettering.zone import Floats


class AnyBorder:
    """A simple polygon with corners (m, 2)."""

    def __init__(self, corners: Floats) -> None:
        self._edges = np.hstack([corners, np.roll(corners, -1, axis=0)])

    def free(self, edges: Floats, x: float) -> list[tuple[float, float]]:
        """Intervals of y at which the shape with these edges (n, 4), moved by (x, y), is inside."""
        outline = edges + np.array([x, 0.0, x, 0.0])
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
