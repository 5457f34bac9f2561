"""Which contours lie inside which, and whether straight moves pass over outlines."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.path import Contour, Path, Points
from proofgen.geometry.polygons import TOLERANCE, to_shapely

# mm; a move that touches an outline at its end is not over it.
TOUCH = 0.2
# mm; outlines this coarse are good enough to keep off.
COARSE = 0.1


def depths(contours: Sequence[Contour], tolerance: float = TOLERANCE) -> tuple[int, ...]:
    """Round each contour, the number of other closed ones; contours do not cross.

    Of contours that lie on one another, the later one counts as inside the earlier.
    """
    runs = Path(tuple(contours)).flatten(tolerance)
    rings = [i for i, c in enumerate(contours) if c.closed and len(runs[i]) >= 4 and c.segments]
    found = np.zeros(len(contours), dtype=int)
    if not rings:
        return tuple(found.tolist())
    polygons = shapely.polygons([shapely.linearrings(runs[i]) for i in rings])
    areas = np.zeros(len(contours))
    areas[rings] = shapely.area(polygons)
    spots = shapely.points([_middle_of_chord(run) for run in runs])
    # `within` of a point is `contains` of the polygon: what only touches the border is not inside.
    inner, outer = shapely.STRtree(polygons).query(spots, predicate="within")
    owner = np.array(rings)[outer]
    larger = (areas[owner] > areas[inner]) & (owner != inner)
    np.add.at(found, inner[larger], 1)
    return tuple(found.tolist())


def passes_over(moves: Points, outlines: Sequence[Path]) -> NDArray[np.bool_]:
    """Which of the straight moves (n, 4) pass over which outlines (m): an array (n, m).

    A move that only starts or ends on the border of an outline does not pass over it.
    """
    over = np.zeros((len(moves), len(outlines)), dtype=bool)
    if not len(moves) or not outlines:
        return over
    lines = shapely.linestrings(np.asarray(moves, dtype=float).reshape(-1, 2, 2))
    bodies = np.array([to_shapely(outline, COARSE) for outline in outlines])
    shapely.prepare(bodies)
    move, body = shapely.STRtree(bodies).query(lines, predicate="intersects")
    inside = shapely.length(shapely.intersection(lines[move], bodies[body]))
    long = inside > TOUCH
    over[move[long], body[long]] = True
    return over


def clear_by(line: Points, others: Sequence[Contour], tolerance: float = TOLERANCE) -> float:
    """Millimetres between a polyline (n, 2) and the nearest of other contours, inf if none."""
    if not others:
        return np.inf
    runs = shapely.multilinestrings(list(Path(tuple(others)).flatten(tolerance)))
    return float(shapely.distance(shapely.linestrings(line), runs))


def _middle_of_chord(run: Points) -> Points:
    """A point of the contour that is none of its corners."""
    return np.asarray((run[0] + run[1]) / 2 if len(run) > 1 else run[0])
