"""The connected parts of what a path fills, curves kept."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely import Polygon

from proofgen.geometry.path import Contour, Path, Points
from proofgen.geometry.polygons import TOLERANCE, to_shapely
from proofgen.geometry.weld import weld

# mm²; welding may leave specks along edges that nearly coincide, and no wood is that small.
SPECK = 1e-3


def parts(path: Path, tolerance: float = TOLERANCE) -> tuple[Path, ...]:
    """The connected parts, each its outer contour followed by its holes.

    They are in order of the top, then the left of their outer contours. Parts and holes of less
    than 0.001 mm² are left out; parts that only meet in a point are two.
    """
    return parts_of_welded(weld([path]), tolerance)


def parts_of_welded(path: Path, tolerance: float = TOLERANCE) -> tuple[Path, ...]:
    """The same of a path that comes from welding."""
    contours = path.contours
    rings = [_ring(points) for points in path.flatten(tolerance)]
    kept = [i for i, ring in enumerate(rings) if ring.area >= SPECK]
    if not kept:
        return ()
    # Welding winds holes against their shells, and nothing lies round the largest contour.
    turns = {i: shapely.is_ccw(rings[i].exterior) for i in kept}
    outer = turns[max(kept, key=lambda i: rings[i].area)]
    found = {i: [contours[i]] for i in kept if turns[i] == outer}
    for i in kept:
        if turns[i] != outer and (owner := _owner(i, list(found), rings)) is not None:
            found[owner].append(contours[i])
    return tuple(Path(tuple(own)) for own in found.values())


def holds_disc(contour: Contour, diameter: float, tolerance: float = TOLERANCE) -> bool:
    """Whether a disc of that diameter fits inside a closed contour."""
    ring = _ring(contour.flatten(tolerance))
    # No disc is larger than what it lies in, and most small contours tell by that.
    if ring.area < math.pi / 4 * max(diameter - tolerance, 0.0) ** 2:
        return False
    # One about the middle of mass is enough in most others.
    middle = ring.centroid
    if ring.contains(middle) and 2 * ring.exterior.distance(middle) >= diameter:
        return True
    inscribed = shapely.maximum_inscribed_circle(ring, tolerance)
    return bool(2 * inscribed.length >= diameter - tolerance)


def _ring(points: Points) -> Polygon:
    return Polygon(points) if len(points) >= 4 else Polygon()


def _owner(hole: int, shells: list[int], rings: list[Polygon]) -> int | None:
    """The smallest shell round a hole."""
    area = rings[hole].area
    larger = [i for i in shells if rings[i].area > area]
    if not larger:
        return None
    spot = shapely.point_on_surface(rings[hole].buffer(0))
    inside = shapely.contains(np.array([rings[i] for i in larger]), spot)
    around = [i for i, yes in zip(larger, inside, strict=True) if yes]
    return min(around, key=lambda i: rings[i].area, default=None)


def overlap(a: Path, b: Path, tolerance: float = TOLERANCE) -> float:
    """Square millimetres that both paths fill."""
    return float(to_shapely(a, tolerance).intersection(to_shapely(b, tolerance)).area)
