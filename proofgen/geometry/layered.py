"""Flat bodies that lie on one another: the parts they fall into, and what reaches out of them."""

from __future__ import annotations

from itertools import chain

import numpy as np
import shapely
from shapely import MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.affine import Point
from proofgen.geometry.doubled import undoubled
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import TOLERANCE, from_shapely, polygons_of, to_shapely

STEP = 1.0  # mm between the places of a line that are looked at


class Body:
    """What an outline fills outside its openings, prepared for many questions."""

    def __init__(self, outline: Path, openings: Path) -> None:
        self._body = to_shapely(outline).difference(to_shapely(openings))
        shapely.prepare(self._body)

    def reach_beyond(self, path: Path) -> float:
        """How far the lines of `path` go out of the body, mm."""
        lines = _lines(path)
        if self._body.covers(lines):
            return 0.0
        out = shapely.segmentize(lines.difference(self._body), STEP)
        away = shapely.distance(shapely.points(shapely.get_coordinates(out)), self._body)
        return float(np.max(away, initial=0.0))


def pieces(outline: Path, openings: Path, hole: Path) -> tuple[Path, ...]:
    """What comes apart when every contour is cut, the largest first; waste is left out.

    Contours do not cross, and share no lines unless they are drawn twice, to be cut once. What
    lies in an even number of outlines, or in an odd number of openings, is waste, whichever way
    they run: so an opening in an opening leaves an island. The hanger's hole always is.
    """
    wood = _even_odd(outline).difference(_even_odd(openings)).difference(to_shapely(hole))
    found = sorted(polygons_of(wood), key=lambda part: -part.area)
    return tuple(from_shapely(part) for part in found)


def inner_point(path: Path) -> Point:
    """A point within what the path fills."""
    spot = shapely.point_on_surface(to_shapely(path))
    return spot.x, spot.y


def length_beyond(path: Path, covers: tuple[tuple[Path, Path], ...]) -> float:
    """Millimetres of the lines of `path` under none of the covers, (outline, openings) each."""
    bare = _lines(path)
    for outline, openings in covers:
        bare = bare.difference(to_shapely(outline).difference(to_shapely(openings)))
    return float(bare.length)


def _even_odd(path: Path) -> BaseGeometry:
    """What lies in an odd number of contours, none of which cross."""
    once = chain.from_iterable(undoubled(path.contours))
    rings = [c.flatten(TOLERANCE) for c in once if c.closed]
    rings = [ring for ring in rings if len(ring) >= 4]
    if not rings:
        return Polygon()
    filled = shapely.polygons([shapely.linearrings(ring) for ring in rings])
    tree = shapely.STRtree(filled)
    firsts = shapely.points([ring[0] for ring in rings])
    inner, outer = tree.query(firsts, predicate="within")
    depth = np.bincount(inner, minlength=len(rings))
    holes: dict[int, list[int]] = {int(i): [] for i in np.flatnonzero(depth % 2 == 0)}
    for i, around in zip(inner, outer, strict=True):
        if depth[i] % 2 and depth[around] == depth[i] - 1:
            holes[int(around)].append(int(i))
    return shapely.multipolygons(
        [Polygon(rings[i], [rings[hole] for hole in own]) for i, own in holes.items()]
    )


def _lines(path: Path) -> BaseGeometry:
    return MultiLineString([c.flatten(TOLERANCE) for c in path.contours])
