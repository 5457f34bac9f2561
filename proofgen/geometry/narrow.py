"""The narrowest place of an area: how wide it is, and where."""

from __future__ import annotations

import shapely
from shapely import MultiPolygon, Polygon

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import polygons_of, to_shapely
from proofgen.geometry.strokes import thinnest

UNIT = 10.0  # mm: widths from 0.04 to 4 mm are found, to a micrometre
TOLERANCE = 0.005  # mm
MOST = 4.0  # mm
OVER = 1.03  # a little more than the width, so that the place falls away


def narrowest(path: Path, without: Path) -> tuple[float, Point | None]:
    """The least width (mm) of what `path` fills outside `without`, and the middle of that place.

    Widths of strokes as `geometry.strokes` defines them, up to 4 mm; (inf, None) beyond.
    """
    shape = to_shapely(path, TOLERANCE).difference(to_shapely(without, TOLERANCE))
    width = thinnest(shape, UNIT)
    return width, _place(shape, width * OVER) if width < MOST else None


def _place(shape: Polygon | MultiPolygon, width: float) -> Point:
    """The middle of the largest piece that no disc of that width reaches."""
    opened = shape.buffer(-width / 2).buffer(width / 2 * 1.002)
    lost = polygons_of(shape.difference(opened)) or polygons_of(shape)
    spot = shapely.point_on_surface(max(lost, key=lambda piece: piece.area))
    return spot.x, spot.y
