"""Between paths and shapely polygons: the one file that builds and takes apart the latter.

shapely geometries are for the files of this room; other rooms call the measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.path import LINE, Contour, Path, Points

TOLERANCE = 0.01  # mm; a tenth of the dot that engraves


# An outline is measured in several ways one after the other.
@lru_cache(maxsize=64)
def to_shapely(path: Path, tolerance: float = TOLERANCE) -> Polygon | MultiPolygon:
    """What the path fills by the nonzero rule, curves flattened within `tolerance`.

    Open contours enclose nothing. The result is valid, and empty where nothing is filled.
    For use inside geometry/ only.
    """
    runs = zip(path.flatten(tolerance), path.kinds, strict=True)
    return _filled([run for run, (_, closed) in runs if closed])


def _filled(runs: Iterable[Points]) -> Polygon | MultiPolygon:
    # Four points are a triangle that ends where it starts: the least that has area.
    rings = [ring for ring in runs if len(ring) >= 4]
    if not rings:
        return Polygon()
    nested = _nested(rings)
    return nested if nested is not None and nested.is_valid else _arranged(rings)


def from_shapely(geometry: BaseGeometry) -> Path:
    """The polygons of a geometry as straight-sided contours, holes wound against their shells.

    Lines and points in it are left out. For use inside geometry/ only.
    """
    upright = shapely.orient_polygons(np.array(polygons_of(geometry), dtype=object))
    rings = shapely.get_rings(upright)
    sizes = shapely.get_num_coordinates(rings)
    # A ring ends at its start.
    kept = np.delete(shapely.get_coordinates(rings), np.cumsum(sizes) - 1, axis=0)
    return Path.of(kept, tuple([(LINE * (size - 2), True) for size in sizes.tolist()]))


def from_line(line: LineString) -> Contour:
    """A line as an open contour. For use inside geometry/ only."""
    return Contour.through(shapely.get_coordinates(line), closed=False)


def filled(rings: Sequence[Points]) -> NDArray[np.object_]:
    """What each ring (n, 2) of at least four points encloses. For use inside geometry/ only."""
    owner = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    lines = shapely.linearrings(np.concatenate(rings), indices=owner)
    return np.asarray(shapely.polygons(lines))


def polygons_of(geometry: BaseGeometry) -> list[Polygon]:
    """The polygons that a geometry is made of. For use inside geometry/ only."""
    parts = shapely.get_parts(geometry)
    if any(part.geom_type == "MultiPolygon" for part in parts):
        parts = shapely.get_parts(parts)
    return [part for part in parts if part.geom_type == "Polygon" and not part.is_empty]


def area(path: Path, tolerance: float = TOLERANCE) -> float:
    """Square millimetres that the path fills by the nonzero rule."""
    return float(to_shapely(path, tolerance).area)


def area_within(runs: Iterable[Points]) -> float:
    """Square millimetres that closed polylines (n, 2) fill by the nonzero rule."""
    return float(_filled(runs).area)


def distance(a: Path, b: Path, tolerance: float = TOLERANCE) -> float:
    """Millimetres between two paths: 0 where they meet, inf where either is empty.

    Closed contours count as filled, open ones as lines.
    """
    gap = float(shapely.distance(_drawn(a, tolerance), _drawn(b, tolerance)))
    return np.inf if np.isnan(gap) else gap


def clearance(shape: Path, lines: Path, tolerance: float = TOLERANCE) -> float:
    """Millimetres from what a path fills to lines, closed ones too: 0 where one meets it or is
    within, inf where either is empty.

    The same as their distance, but contours that overlap need not be made one first.
    """
    rings, (drawn, starts) = shape.flatten(tolerance), _lines(lines, tolerance)
    # Far quicker with the long lines first: most of their pieces are far from all of the others.
    gap = float(shapely.distance(drawn, polylines(rings)))
    if np.isnan(gap):
        return np.inf
    # A line that meets no border is all within or all without.
    wound = np.zeros(len(starts), dtype=int)
    for ring, near in zip(rings, _in_boxes(starts, rings), strict=True):
        if near.any():
            wound[near] += _winding(starts[near], ring)
    return 0.0 if wound.any() else gap


@lru_cache(maxsize=64)
def _lines(lines: Path, tolerance: float) -> tuple[BaseGeometry, Points]:
    """Lines as one geometry, and where each starts (n, 2)."""
    drawn = polylines(lines.flatten(tolerance))
    return drawn, shapely.get_coordinates(shapely.get_point(shapely.get_parts(drawn), 0))


def _in_boxes(points: Points, runs: Sequence[Points]) -> NDArray[np.bool_]:
    """Which of the points (n, 2) lie in the box round each run (m, n)."""
    firsts = np.cumsum([0, *map(len, runs[:-1])])
    corners = np.concatenate(runs)
    low, high = (np.asarray(reach.reduceat(corners, firsts)) for reach in (np.minimum, np.maximum))
    inside = (low[:, None] <= points) & (points <= high[:, None])
    return np.asarray(inside.all(axis=2))


def polylines(runs: Sequence[Points]) -> BaseGeometry:
    """Runs of points (n, 2) as one geometry. For use inside geometry/ only."""
    drawn = [run for run in runs if len(run) > 1]
    if not drawn:
        return shapely.MultiLineString()
    owner = np.repeat(np.arange(len(drawn)), [len(run) for run in drawn])
    return shapely.multilinestrings(shapely.linestrings(np.concatenate(drawn), indices=owner))


@lru_cache(maxsize=256)
def room_round(inner: Path, outline: Path, openings: Path, tolerance: float = TOLERANCE) -> float:
    """The least width of what lies between `inner` and the border of the outline or an opening.

    0 where `inner` reaches out of the outline or into an opening, inf where `inner` or the outline
    is empty.
    """
    hole, body = to_shapely(inner, tolerance), to_shapely(outline, tolerance)
    if hole.is_empty or body.is_empty:
        return np.inf
    body = shapely.difference(body, to_shapely(openings, tolerance))
    return float(hole.distance(body.boundary)) if body.covers(hole) else 0.0


# Large enough that what all rows of a design share outlasts the lettering of other designs' rows.
@lru_cache(maxsize=512)
def _drawn(path: Path, tolerance: float) -> BaseGeometry:
    lines = [LineString(c.flatten(tolerance)) for c in path.contours if not c.closed and c.degrees]
    return shapely.GeometryCollection([to_shapely(path, tolerance), *lines])


def _nested(rings: list[Points]) -> Polygon | MultiPolygon | None:
    """The filled area if no two rings cross; invalid, or None, if they might.

    Rings that do not cross lie side by side or inside one another, so the winding number
    changes at a ring by its own direction, from the sum of the rings round it.
    """
    polygons = filled(rings)
    if len(rings) == 1:
        return polygons[0]
    lines, areas = shapely.get_exterior_ring(polygons), shapely.area(polygons)
    signs = np.where(shapely.is_ccw(lines), 1, -1) * (areas > 0)
    firsts = shapely.points([ring[0] for ring in rings])
    shapely.prepare(polygons)
    around = shapely.contains(polygons[None, :], firsts[:, None])
    around &= areas[None, :] > areas[:, None]
    outside = around @ signs
    shell = (outside == 0) & (signs != 0)
    hole = (outside != 0) & (outside + signs == 0)
    if not np.all(shell | hole):
        return None
    # A hole belongs to the smallest shell round it, and comes after it.
    owner = np.cumsum(shell) - 1
    owner[hole] = np.where(around[hole][:, shell], areas[shell], np.inf).argmin(axis=1)
    order = np.lexsort((hole, owner))
    parts = shapely.polygons(lines[order], indices=owner[order])
    return parts[0] if len(parts) == 1 else shapely.multipolygons(parts)


def _arranged(rings: list[Points]) -> Polygon | MultiPolygon:
    """The filled area of any rings: cut the plane along all of them, keep what is wound round."""
    lines = shapely.node(shapely.multilinestrings([LineString(ring) for ring in rings]))
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    if not len(faces):
        return Polygon()
    inside = shapely.get_coordinates(shapely.point_on_surface(faces))
    wound = sum(_winding(inside, ring) for ring in rings)
    return shapely.union_all(faces[wound != 0])


def _winding(points: Points, ring: Points) -> NDArray[np.int64]:
    """How often the ring goes round each of the points (n, 2)."""
    x, y = points[:, :1], points[:, 1:]
    (x0, y0), (x1, y1) = ring[:-1].T, ring[1:].T
    left = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
    up = (y0 <= y) & (y1 > y) & (left > 0)
    down = (y0 > y) & (y1 <= y) & (left < 0)
    return np.asarray(up.sum(axis=1) - down.sum(axis=1))
