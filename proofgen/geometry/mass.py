"""Where the middle of a flat body lies, and the tab that it hangs by."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import polygons_of, to_shapely


def centroid(outline: Path, openings: Path) -> tuple[float, Point]:
    """Area (mm²) and centroid of what the outline fills outside the openings; 0 for nothing."""
    body = to_shapely(outline).difference(to_shapely(openings))
    middle = body.centroid
    return (body.area, (middle.x, middle.y)) if body.area else (0.0, (0.0, 0.0))


def tab_foot(outline: Path, hole: Point, disc: float) -> tuple[float, Point] | None:
    """The tab that holds the hole: the width of its foot (mm), and its direction from the body.

    A tab is what a disc of diameter `disc` cannot reach; None where the hole lies in no such part.
    """
    body = to_shapely(outline)
    core = body.buffer(-disc / 2).buffer(disc / 2)
    spot = shapely.Point(hole)
    tab = next((part for part in polygons_of(body.difference(core)) if part.covers(spot)), None)
    if tab is None or core.is_empty:
        return None
    foot = tab.boundary.intersection(core.boundary.buffer(1e-6))
    width = _span(foot)
    middle = foot.centroid
    return (width, (hole[0] - middle.x, hole[1] - middle.y)) if width else None


def _span(foot: BaseGeometry) -> float:
    """The greatest distance between two points of the foot's arc."""
    if foot.is_empty:
        return 0.0
    return float(shapely.minimum_bounding_radius(foot) * 2)
