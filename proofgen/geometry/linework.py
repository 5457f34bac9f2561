"""Where drawn lines cross, and how far they run along each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path
from proofgen.geometry.polygons import TOLERANCE

NEAR = 0.02  # mm; lines closer than that are cut into one
RUN = 0.5  # mm; less is a crossing


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where lines of the paths numbered `a` and `b`, which may be one path, cross or run along.

    `place` is one where they cross or touch, None where they only lie on one another; `run` is how
    many millimetres they do that, `twice` whether they do it all along, as what is drawn twice.
    """

    a: int
    b: int
    place: Point | None
    run: float
    twice: bool


def crosses_itself(path: Path) -> Point | None:
    """A place where a contour of the path crosses or touches itself."""
    lines = (_line(contour) for contour in path.contours)
    return next((_first(_own_crossing(line)) for line in lines if not line.is_simple), None)


def meetings(paths: Sequence[Path]) -> tuple[Meeting, ...]:
    """Every two paths whose contours meet, and every path whose contours meet each other.

    Lines within 0.02 mm of each other for more than 0.5 mm lie on one another.
    """
    owners = [i for i, path in enumerate(paths) for _ in path.contours]
    lines = [_line(contour) for path in paths for contour in path.contours]
    if not lines:
        return ()
    tree = shapely.STRtree(lines)
    close = tree.query(lines, predicate="dwithin", distance=NEAR).T
    found: dict[tuple[int, int], Meeting] = {}
    for i, j in sorted((int(i), int(j)) for i, j in close if i < j):
        key = owners[i], owners[j]
        run, place = _run_along(lines[j], lines[i]), _meeting(lines[i], lines[j])
        before = found.get(key, Meeting(*key, None, 0.0, True))
        place = before.place or (None if run else place)
        if run or place:
            twice = before.twice and lines[i].hausdorff_distance(lines[j]) <= NEAR
            found[key] = Meeting(*key, place, before.run + run, twice)
    return tuple(found[key] for key in sorted(found))


def away(place: Point, path: Path) -> float:
    """Millimetres from a place to the nearest outline of the path."""
    return float(shapely.Point(place).distance(_lines(path)))


def _run_along(a: LineString, b: LineString) -> float:
    """Millimetres of `a` that lie within 0.02 mm of `b`, where they are more than a crossing is."""
    beside = a.intersection(b.buffer(NEAR, cap_style="flat"))
    merged = shapely.line_merge(beside) if beside.geom_type != "LineString" else beside
    runs = [part.length for part in shapely.get_parts(merged)]
    return float(sum(run for run in runs if run > RUN))


def _line(contour: Contour) -> LineString:
    return LineString(contour.flatten(TOLERANCE))


def _lines(path: Path) -> BaseGeometry:
    return shapely.multilinestrings([_line(contour) for contour in path.contours])


def _meeting(a: BaseGeometry, b: BaseGeometry) -> Point | None:
    met = a.intersection(b)
    return None if met.is_empty else _first(met)


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
