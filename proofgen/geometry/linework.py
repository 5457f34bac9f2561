"""Where drawn lines cross, and how far they run along each other."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path
from proofgen.geometry.polygons import TOLERANCE

NEAR = 0.02  # mm; lines closer than that are cut into one
RUN = 0.5  # mm; less is a crossing


def crosses_itself(path: Path) -> Point | None:
    """A place where a contour of the path crosses or touches itself, or another of its contours."""
    lines = [_line(contour) for contour in path.contours]
    for line in lines:
        if not line.is_simple:
            return _first(_own_crossing(line))
    return next(
        (place for i, a in enumerate(lines) for b in lines[:i] if (place := _meeting(a, b))), None
    )


def crossing(a: Path, b: Path) -> Point | None:
    """A place where the outlines of two paths cross or touch; lines on one another are none."""
    return _meeting(_lines(a), _lines(b))


def run_along(a: Path, b: Path) -> float:
    """Millimetres of `a` that lie within 0.02 mm of `b`, where they are more than a crossing is."""
    beside = _lines(a).intersection(_lines(b).buffer(NEAR, cap_style="flat"))
    merged = shapely.line_merge(beside) if beside.geom_type != "LineString" else beside
    runs = [part.length for part in shapely.get_parts(merged)]
    return float(sum(run for run in runs if run > RUN))


def nearest_line(place: Point, paths: Sequence[Path]) -> int:
    """Which of the paths has the outline that is nearest to a place."""
    return int(np.argmin(shapely.distance([_lines(path) for path in paths], shapely.Point(place))))


def _line(contour: Contour) -> LineString:
    return LineString(contour.flatten(TOLERANCE))


def _lines(path: Path) -> BaseGeometry:
    return shapely.multilinestrings([_line(contour) for contour in path.contours])


def _meeting(a: BaseGeometry, b: BaseGeometry) -> Point | None:
    met = a.intersection(b)
    points = [part for part in shapely.get_parts(met) if part.geom_type == "Point"]
    return _first(points[0]) if points else None


def _own_crossing(line: LineString) -> BaseGeometry:
    """Where a line meets itself: the point that most of its pieces, cut there, end in."""
    pieces = shapely.get_parts(shapely.node(line))
    ends: dict[tuple[float, float], int] = {}
    for piece in pieces:
        for x, y in (piece.coords[0], piece.coords[-1]):
            ends[(x, y)] = ends.get((x, y), 0) + 1
    return shapely.Point(max(ends, key=lambda end: ends[end]))


def _first(geometry: BaseGeometry) -> Point:
    x, y = shapely.get_coordinates(geometry)[0]
    return float(x), float(y)
