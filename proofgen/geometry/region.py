"""Drawn edges against a polygon and against each other, by shapely."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.path import Points


class Region:
    """A simple polygon, corners (m, 2), prepared for many questions."""

    def __init__(self, corners: Points) -> None:
        self._polygon = shapely.Polygon(corners)
        shapely.prepare(self._polygon)

    def holds(self, edges: Points) -> bool:
        """Whether all edges (n, 4) lie inside or on the border."""
        return bool(shapely.covers(self._polygon, _lines(edges)).all())


def apart(a: Points, b: Points) -> float:
    """The distance between two outlines, given as edges (n, 4) each; 0 where they cross."""
    first, second = (shapely.multilinestrings(_lines(edges)) for edges in (a, b))
    return float(shapely.distance(first, second))


def _lines(edges: Points) -> NDArray[np.object_]:
    return np.asarray(shapely.linestrings(edges.reshape(-1, 2, 2)))
