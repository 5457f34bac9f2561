"""Where two layers of wood touch, and how much of that keeps away from every edge."""

from __future__ import annotations

import shapely
from shapely import MultiPolygon, Polygon

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import TOLERANCE, from_shapely, polygons_of, to_shapely

LEAST = 1.0  # mm²; less than that holds nothing
QUARTER = 32  # chords of a quarter circle round a corner
FINE = 0.1  # mm, how exactly the widest place is found


def glued(one: Path, other: Path, inset: float) -> tuple[Path, float, float]:
    """Where glue goes between two layers that are what these paths fill by the nonzero rule.

    It keeps `inset` mm from every edge of either layer. Also the areas in mm² of that and of all
    that touches.
    """
    touching = shapely.intersection(to_shapely(one), to_shapely(other))
    # Flattening, chords and thinning out move the edge, each by no more than the tolerance or so.
    inner = shapely.buffer(touching, -(inset + 4 * TOLERANCE), quad_segs=QUARTER)
    inner = inner.simplify(TOLERANCE)
    kept = [part for part in polygons_of(inner) if part.area >= LEAST]
    return from_shapely(MultiPolygon(kept)), sum(part.area for part in kept), touching.area


def without(path: Path, openings: Path) -> Path:
    """What the path fills outside what the openings fill, straight-sided."""
    return from_shapely(shapely.difference(to_shapely(path), to_shapely(openings)))


def widest(path: Path) -> tuple[Point, float]:
    """The middle and the radius in mm of a largest circle in what the path fills.

    ValueError where it fills nothing.
    """
    parts = polygons_of(to_shapely(path))
    if not parts:
        raise ValueError("nothing is filled")
    found = [_circle(part) for part in parts]
    return max(found, key=lambda each: each[1])


def _circle(part: Polygon) -> tuple[Point, float]:
    line = shapely.maximum_inscribed_circle(part, tolerance=FINE)
    (x, y), _ = line.coords
    return (x, y), line.length
