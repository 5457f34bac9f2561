"""Polygons as arrays of corners (n, 2): convex hull and inset, by shapely."""

from __future__ import annotations

import numpy as np
import shapely

from proofgen.geometry.path import Points


def hull(points: Points) -> Points:
    """The corners of the convex hull of points (n, 2); ValueError where they span no area."""
    around = shapely.convex_hull(shapely.linestrings(points))
    if around.geom_type != "Polygon":
        raise ValueError("the points lie on a line")
    return _corners(around)


def inset(corners: Points, by: float) -> Points:
    """The polygon with `by` taken off all round; ValueError if it crosses itself or falls apart."""
    whole = shapely.Polygon(corners)
    if not whole.is_valid:
        raise ValueError("the polygon crosses itself")
    inner = shapely.simplify(shapely.buffer(whole, -by, join_style="mitre"), 0.0)
    if inner.geom_type != "Polygon" or inner.is_empty:
        raise ValueError("nothing, or more than one part, is left")
    return _corners(inner)


def _corners(polygon: shapely.Polygon) -> Points:
    return np.asarray(shapely.get_coordinates(polygon.exterior)[:-1])
