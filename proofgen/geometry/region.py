"""Drawn edges against a polygon, by shapely."""

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

    def holds_hulls(self, corners: Points, sizes: NDArray[np.intp]) -> bool | None:
        """The same for outlines that are known by the corners (n, 2) of their convex hulls, which
        follow each other; `sizes` (k,) says how many each has.

        None where that does not tell: a hull may reach where its outline does not.
        """
        if not shapely.intersects_xy(self._polygon, *corners.T).all():
            return False
        rings = shapely.linearrings(corners, indices=np.repeat(np.arange(len(sizes)), sizes))
        return True if shapely.covers(self._polygon, rings).all() else None


def _lines(edges: Points) -> NDArray[np.object_]:
    return np.asarray(shapely.linestrings(edges.reshape(-1, 2, 2)))
