"""Outlines laid side by side: one simple polygon round a path, and how far apart things lie."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import TOLERANCE, polygons_of, polylines, to_shapely
from proofgen.geometry.rect import Rect

Outline = tuple[Point, ...]
Mask = NDArray[np.bool_]

SLACK = 0.2  # mm by which a simpler outline may lie outside the true one
TINY = 1e-6  # mm
FEW = 40  # corners
FINE = 0.001  # mm, how exactly curves are followed where gaps are judged


@lru_cache(maxsize=1024)
def around(path: Path) -> Outline:
    """A simple polygon of few corners that holds all that the path fills.

    Few straight sides are kept as they are, other outlines are followed at most about twice SLACK
    outside. Separate parts are held together by their hull. ValueError for a path that fills
    nothing.
    """
    filled = to_shapely(path)
    if filled.is_empty:
        raise ValueError("there is nothing to go round")
    parts = polygons_of(filled)
    whole = parts[0] if len(parts) == 1 else shapely.convex_hull(filled)
    straight = all(len(each) == 1 for contour in path.contours for each in contour.segments)
    if straight and len(whole.exterior.coords) <= FEW:
        return tuple((float(x), float(y)) for x, y in whole.exterior.coords[:-1])
    # Sides with sharp corners, so that taking corners off cannot cut into what they go round.
    shell = shapely.Polygon(whole.exterior)
    wide = shapely.buffer(shell, SLACK + TOLERANCE, join_style="mitre", mitre_limit=2)
    simple = shapely.simplify(shapely.Polygon(wide.exterior), SLACK)
    return tuple((float(x), float(y)) for x, y in simple.exterior.coords[:-1])


def outline_area(outline: Outline) -> float:
    """Square millimetres inside."""
    return float(shapely.area(shapely.Polygon(outline)))


def turned(outline: Outline, degrees: float) -> Outline:
    """The outline turned about (0, 0), clockwise as seen."""
    angle = np.radians(degrees)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return tuple((float(x), float(y)) for x, y in np.array(outline) @ turn)


def clearance(outline: Outline, shifts: Sequence[Point]) -> float:
    """Millimetres from the outline to the nearest of its own copies moved so, 0 where they meet."""
    one = shapely.Polygon(outline)
    copies = np.array(outline)[None] + np.array(shifts)[:, None]
    return float(shapely.distance(one, shapely.polygons(copies)).min())


def cells(outline: Outline, grown: float, cell: float) -> tuple[Mask, tuple[int, int]]:
    """Which squares of a raster are touched by the outline grown by that much, in mm.

    `cell` is the raster's pitch; the mask (rows, columns) begins at that (row, column). A few
    squares more are counted, none fewer.
    """
    # Whatever touches a square is nearer to its middle than half its diagonal.
    wide = shapely.buffer(shapely.Polygon(outline), (grown + cell * 0.7072) * 1.002, quad_segs=8)
    left, top, right, bottom = np.array(shapely.bounds(wide)) / cell
    column, row = int(np.floor(left)), int(np.floor(top))
    columns, rows = np.arange(column, np.ceil(right)), np.arange(row, np.ceil(bottom))
    x, y = np.meshgrid((columns + 0.5) * cell, (rows + 0.5) * cell)
    shapely.prepare(wide)
    return shapely.intersects_xy(wide, x, y), (row, column)


def too_near(paths: Sequence[Path], gap: float) -> Iterator[tuple[int, int, float]]:
    """Each two of the paths that are nearer than `gap`: their places and the distance in mm."""
    shapes = [to_shapely(path, FINE) for path in paths]
    tree = shapely.STRtree(shapes)
    for one, other in tree.query(shapes, predicate="dwithin", distance=gap).T:
        if one < other:
            found = float(shapely.distance(shapes[one], shapes[other]))
            if found < gap - FINE:
                yield int(one), int(other), found


def lines_meet(paths: Sequence[Path]) -> Iterator[tuple[int, int]]:
    """Each two of the paths whose lines meet; one that lies all inside another does not."""
    lines = np.array([_lines(path) for path in paths], dtype=object)
    for one, other in shapely.STRtree(lines).query(lines, predicate="intersects").T:
        if one < other:
            yield int(one), int(other)


def line_enters(path: Path, rect: Rect) -> bool:
    """Whether a line of the path goes into the rectangle or along its border."""
    return bool(shapely.intersects(_lines(path), _box(rect)))


def _lines(path: Path) -> shapely.Geometry:
    return polylines(path.flatten(FINE))


def outside(path: Path, room: Rect) -> float:
    """By how many millimetres the path leaves the room, 0 where it does not."""
    bounds = path.bounds()
    beyond = (
        room.left - bounds.left,
        room.top - bounds.top,
        bounds.right - room.right,
        bounds.bottom - room.bottom,
    )
    found = max(*beyond, 0.0)
    return found if found > FINE else 0.0


def near_rect(path: Path, rect: Rect) -> float:
    """Millimetres between a path and a rectangle, 0 where they meet."""
    return float(shapely.distance(to_shapely(path, FINE), _box(rect)))


def depths(
    paths: Sequence[Path], rects: Sequence[Rect], room: Rect, gap: float, step: float
) -> tuple[NDArray[np.float64], ...]:
    """How far one may go into a room before coming nearer than `gap` to a path or a rectangle.

    From the left and from the right, for each row of height `step`; from the top and from the
    bottom, for each such column. All in mm.
    """
    found = [*(to_shapely(path, FINE) for path in paths), *(_box(rect) for rect in rects)]
    filled = shapely.buffer(shapely.union_all(found), gap)
    rows, columns = np.arange(room.top, room.bottom, step), np.arange(room.left, room.right, step)
    # What only touches a row from outside is not in it.
    across = shapely.box(room.left, rows + TINY, room.right, rows + step - TINY)
    down = shapely.box(columns + TINY, room.top, columns + step - TINY, room.bottom)
    left, _, right, _ = shapely.bounds(shapely.intersection(filled, across)).T
    _, top, _, bottom = shapely.bounds(shapely.intersection(filled, down)).T
    # Nothing there: as far as the other side.
    return (
        np.nan_to_num(left - room.left, nan=room.width),
        np.nan_to_num(room.right - right, nan=room.width),
        np.nan_to_num(top - room.top, nan=room.height),
        np.nan_to_num(room.bottom - bottom, nan=room.height),
    )


def _box(rect: Rect) -> shapely.Polygon:
    return shapely.box(rect.left, rect.top, rect.right, rect.bottom)
