"""Drawn edges against a polygon and against each other, by shapely."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.path import Points

# Of so many corners of each outline a first bound of their distance is taken.
SOME = 48


class Region:
    """A simple polygon, corners (m, 2), prepared for many questions."""

    def __init__(self, corners: Points) -> None:
        self._polygon = shapely.Polygon(corners)
        shapely.prepare(self._polygon)

    def holds(self, edges: Points) -> bool:
        """Whether all edges (n, 4) lie inside or on the border."""
        return bool(shapely.covers(self._polygon, _lines(edges)).all())

    def holds_hulls(self, hulls: list[Points]) -> bool | None:
        """The same for outlines that are known by the corners (n, 2) of their convex hulls.

        None where that does not tell: a hull may reach where its outline does not.
        """
        corners = np.concatenate(hulls)
        if not shapely.intersects_xy(self._polygon, *corners.T).all():
            return False
        owner = np.repeat(np.arange(len(hulls)), [len(each) for each in hulls])
        rings = shapely.linearrings(corners, indices=owner)
        return True if shapely.covers(self._polygon, rings).all() else None


def least_gap(pairs: Sequence[tuple[Points, Points]], bound: float) -> float:
    """The least distance between the two outlines of a pair, or the bound where none come nearer;
    0 where they cross. Outlines are edges (n, 4) each.

    Only edges that lie within what is known already can be nearest.
    """
    bound = min([bound, *(_between_some(a, b) for a, b in pairs)])
    for one, other in ((_Boxed.of(a), _Boxed.of(b)) for a, b in pairs):
        left, right = one.near(other, bound), other.near(one, bound)
        if len(left) and len(right):
            lines = (shapely.multilinestrings(_lines(edges)) for edges in (left, right))
            bound = min(bound, float(shapely.distance(*lines)))
    return bound


@dataclass(frozen=True, slots=True)
class _Boxed:
    """Edges (n, 4) and the least and greatest x and y (2, n) of each."""

    edges: Points
    low: Points
    high: Points

    @staticmethod
    def of(edges: Points) -> _Boxed:
        start, end = edges.T[:2], edges.T[2:]
        return _Boxed(edges, np.minimum(start, end, order="C"), np.maximum(start, end, order="C"))

    def near(self, other: _Boxed, bound: float) -> Points:
        """The edges that come within the bound of the box round the other outline."""
        (left, top), (right, bottom) = other.low.min(axis=1), other.high.max(axis=1)
        near = (self.high[0] >= left - bound) & (self.low[0] <= right + bound)
        near &= (self.high[1] >= top - bound) & (self.low[1] <= bottom + bound)
        return np.asarray(self.edges[near])


def _between_some(a: Points, b: Points) -> float:
    """The least distance between some of the corners, which the outlines' own does not exceed."""
    some_a, some_b = (edges[:: max(len(edges) // SOME, 1), :2] for edges in (a, b))
    x = some_a[:, None, 0] - some_b[None, :, 0]
    y = some_a[:, None, 1] - some_b[None, :, 1]
    return math.sqrt(float((x * x + y * y).min()))


def _lines(edges: Points) -> NDArray[np.object_]:
    return np.asarray(shapely.linestrings(edges.reshape(-1, 2, 2)))
