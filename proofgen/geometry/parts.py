"""The connected parts of what a path fills, curves kept."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.path import Contour, Path
from proofgen.geometry.polygons import TOLERANCE, filled, to_shapely
from proofgen.geometry.weld import weld

# mm²; welding may leave specks along edges that nearly coincide, and no wood is that small.
SPECK = 1e-3
# Points of the least ring that has area: a triangle that ends where it starts.
RING = 4


def parts(path: Path, tolerance: float = TOLERANCE) -> tuple[Path, ...]:
    """The connected parts, each its outer contour followed by its holes.

    They are in order of the top, then the left of their outer contours. Parts and holes of less
    than 0.001 mm² are left out; parts that only meet in a point are two.
    """
    return parts_of_welded(weld([path]), tolerance)


def parts_of_welded(path: Path, tolerance: float = TOLERANCE) -> tuple[Path, ...]:
    """The same of a path that comes from welding."""
    drawn = [
        (contour, points)
        for contour, points in zip(path.contours, path.flatten(tolerance), strict=True)
        if len(points) >= RING
    ]
    if not drawn:
        return ()
    rings = filled([points for _, points in drawn])
    areas = shapely.area(rings)
    kept = np.flatnonzero(areas >= SPECK)
    if not len(kept):
        return ()
    # Welding winds holes against their shells, and nothing lies round the largest contour.
    turns = shapely.is_ccw(shapely.get_exterior_ring(rings))
    shell = turns == turns[np.argmax(areas)]
    found = {int(i): [drawn[i][0]] for i in kept[shell[kept]]}
    shells = list(found)
    for i in kept[~shell[kept]]:
        owner = shells[0] if len(shells) == 1 else _owner(int(i), shells, rings)
        if owner is not None:
            found[owner].append(drawn[i][0])
    return tuple(Path(tuple(own)) for own in found.values())


def hold_disc(
    contours: Sequence[Contour], diameter: float, tolerance: float = TOLERANCE
) -> tuple[Contour, ...]:
    """Those closed contours inside which a disc of that diameter fits."""
    drawn = Path(tuple(contours)).flatten(tolerance)
    own = [i for i, points in enumerate(drawn) if len(points) >= RING]
    if not own:
        return ()
    rings = filled([drawn[i] for i in own])
    # No disc is larger than what it lies in, and one about the middle of mass is often enough.
    large = shapely.area(rings) >= math.pi / 4 * max(diameter - tolerance, 0.0) ** 2
    middle = shapely.centroid(rings)
    room = 2 * shapely.distance(shapely.boundary(rings), middle)
    fits = large & shapely.contains(rings, middle) & (room >= diameter)
    for i in np.flatnonzero(large & ~fits):
        inscribed = shapely.maximum_inscribed_circle(rings[i], tolerance)
        fits[i] = 2 * inscribed.length >= diameter - tolerance
    return tuple(contours[i] for i, yes in zip(own, fits, strict=True) if yes)


def _owner(hole: int, shells: list[int], rings: NDArray[np.object_]) -> int | None:
    """The smallest shell round a hole."""
    area = shapely.area(rings[hole])
    larger = [i for i in shells if shapely.area(rings[i]) > area]
    if not larger:
        return None
    spot = shapely.point_on_surface(rings[hole].buffer(0))
    inside = shapely.contains(np.array([rings[i] for i in larger]), spot)
    around = [i for i, yes in zip(larger, inside, strict=True) if yes]
    return min(around, key=lambda i: shapely.area(rings[i]), default=None)


def overlap(a: Path, b: Path, tolerance: float = TOLERANCE) -> float:
    """Square millimetres that both paths fill."""
    return float(to_shapely(a, tolerance).intersection(to_shapely(b, tolerance)).area)
