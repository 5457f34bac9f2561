"""A line drawn with a pen of some width, as an outline; by shapely."""

from __future__ import annotations

import shapely

from proofgen.geometry.path import Path
from proofgen.geometry.polygons import TOLERANCE, from_shapely


def stroked(path: Path, width: float, tolerance: float = TOLERANCE) -> Path:
    """What a round pen of that width covers along all contours, open and closed."""
    lines = [shapely.LineString(p) for p in path.flatten(tolerance) if len(p) > 1]
    return from_shapely(shapely.buffer(shapely.MultiLineString(lines), width / 2, quad_segs=6))
