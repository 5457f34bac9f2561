"""Outlines laid side by side: one simple polygon round a path, and how far apart things lie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
import shapely

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path, polygon
from proofgen.geometry.polygons import polygons_of, to_shapely
from proofgen.geometry.rect import Rect

Outline = tuple[Point, ...]

SLACK = 0.2  # mm by which a simpler outline may lie outside the true one
TINY = 1e-6  # mm


def around(path: Path) -> Outline:
    """A simple polygon of few corners that holds all that the path fills.

    At most twice SLACK outside it; separate parts are held together by their hull. ValueError for
    a path that fills nothing.
    """
    filled = to_shapely(path)
    if filled.is_empty:
        raise ValueError("there is nothing to go round")
    parts = polygons_of(filled)
    whole = parts[0] if len(parts) == 1 else shapely.convex_hull(filled)
    shell = shapely.Polygon(whole.exterior)
    simple = shapely.simplify(shapely.buffer(shell, SLACK, quad_segs=2), SLACK)
    return tuple((float(x), float(y)) for x, y in simple.exterior.coords[:-1])


def grown(outline: Outline, by: float) -> Outline:
    """The outline with all that is nearer to it than `by`, in mm."""
    wide = shapely.buffer(shapely.Polygon(outline), by, quad_segs=8)
    # The chords of an arc lie inside it.
    wide = shapely.buffer(wide, by * 0.005)
    return tuple((float(x), float(y)) for x, y in wide.exterior.coords[:-1])


def gap_between(one: Outline, other: Outline) -> float:
    """Millimetres between two filled outlines, 0 where they meet."""
    return float(shapely.distance(shapely.Polygon(one), shapely.Polygon(other)))


def outline_area(outline: Outline) -> float:
    """Square millimetres inside."""
    return float(shapely.area(shapely.Polygon(outline)))


def too_near(paths: Sequence[Path], gap: float) -> Iterator[tuple[int, int, float]]:
    """Each two of the paths that are nearer than `gap`: their places and the distance in mm."""
    shapes = [to_shapely(path) for path in paths]
    tree = shapely.STRtree(shapes)
    for one, other in tree.query(shapes, predicate="dwithin", distance=gap).T:
        if one < other:
            found = float(shapely.distance(shapes[one], shapes[other]))
            if found < gap - TINY:
                yield int(one), int(other), found


def outside(path: Path, room: Rect) -> float:
    """By how many millimetres the path leaves the room, 0 where it does not."""
    left, top, right, bottom = shapely.bounds(to_shapely(path))
    beyond = (room.left - left, room.top - top, right - room.right, bottom - room.bottom)
    found = max(*map(float, beyond), 0.0)
    return found if found > TINY else 0.0


def near_rect(path: Path, rect: Rect) -> float:
    """Millimetres between a path and a rectangle, 0 where they meet."""
    box = shapely.box(rect.left, rect.top, rect.right, rect.bottom)
    return float(shapely.distance(to_shapely(path), box))


def filled_path(outline: Iterable[Point]) -> Path:
    """The outline as a path."""
    return polygon(outline)


def turned(outline: Outline, degrees: float) -> Outline:
    """The outline turned about (0, 0), clockwise as seen."""
    angle = np.radians(degrees)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return tuple((float(x), float(y)) for x, y in np.array(outline) @ turn)
