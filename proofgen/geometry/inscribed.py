"""Simple polygons within an outline."""

from __future__ import annotations

from shapely import Polygon, orient_polygons

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path

DECIMALS = 6
LEAST_AREA = 1.0  # mm²


def inscribed(path: Path, tolerance: float) -> tuple[Point, ...]:
    """Corners of a simple polygon inside one closed outline, turning from x towards y.

    Straight edges stay as they are where the outline is straight or convex, since the chords of a
    convex curve lie within it; else the polygon is drawn in by the tolerance. ValueError, whose
    text ends a sentence, for what is not one simple outline.
    """
    if len(path.contours) != 1 or not path.contours[0].closed:
        raise ValueError("is not one closed outline")
    contour = path.contours[0]
    drawn = contour.flatten(tolerance)
    if len(drawn) < 4 or not Polygon(drawn).is_valid:
        raise ValueError("has an outline that crosses or touches itself")
    polygon = Polygon(drawn)
    curved = any(len(segment) > 1 for segment in contour.segments)
    if curved and polygon.convex_hull.area - polygon.area > 1e-6:
        polygon = polygon.buffer(-tolerance, join_style="mitre")
    if polygon.geom_type != "Polygon" or polygon.area < LEAST_AREA:
        raise ValueError(f"is too narrow, or smaller than {LEAST_AREA:g} mm²")
    corners = orient_polygons(polygon.simplify(0)).exterior.coords[:-1]
    return tuple((round(x, DECIMALS), round(y, DECIMALS)) for x, y in corners)
