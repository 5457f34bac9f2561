"""Whether drawn edges stay inside a polygon, by shapely."""

from __future__ import annotations

import shapely

from proofgen.geometry.path import Points


class Region:
    """A simple polygon, corners (m, 2), prepared for many questions."""

    def __init__(self, corners: Points) -> None:
        self._polygon = shapely.Polygon(corners)
        shapely.prepare(self._polygon)

    def holds(self, edges: Points) -> bool:
        """Whether all edges (n, 4) lie inside or on the border."""
        lines = shapely.linestrings(edges.reshape(-1, 2, 2))
        return bool(shapely.covers(self._polygon, lines).all())
