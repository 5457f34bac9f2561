"""An outline made from lettering itself: what lies behind it and shows all round."""

from __future__ import annotations

import math

import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.path import Path
from proofgen.geometry.polygons import TOLERANCE, from_shapely, polygons_of, to_shapely
from proofgen.geometry.spanning import SLACK, Asked, spanning

# Notches are filled with discs of the neck's size, then of twice that size, and so on.
DOUBLINGS = 5


def backing(path: Path, grow: float, neck: float) -> Path:
    """The outline grown by `grow` mm all round, as one part without holes, straight-sided.

    Notches are filled until it is nowhere narrower than `neck`; parts that stay apart are joined
    by necks of that width where they come nearest. Within 0.01 mm; empty for an empty path.
    """
    # Nothing is left of what is within an outline.
    shape = _filled(to_shapely(path))
    if shape.is_empty:
        return Path()
    # Grown by at least half a neck, what is one part needs no bar.
    if isinstance(shape, MultiPolygon) or grow < neck / 2:
        shape, grow = _one(_filled(_offset(shape, grow)), neck), 0.0
    for doubling in range(DOUBLINGS):
        closed = _closed(shape, grow, neck / 2 * 2**doubling)
        if _stays_one(closed, neck):
            break
    return from_shapely(closed)


def _one(shape: BaseGeometry, neck: float) -> BaseGeometry:
    """The parts with bars between them, as many as make them one."""
    found = polygons_of(shape)
    bridges = spanning(found, Asked(neck, neck, math.inf))
    return shapely.union_all([*found, *(to_shapely(bridge.bar()) for bridge in bridges)])


def _closed(shape: BaseGeometry, grow: float, radius: float) -> BaseGeometry:
    """The shape grown, with all notches and holes filled that a disc of that radius does not enter
    from without.
    """
    closed = _filled(_offset(_offset(shape, grow + radius), -radius))
    return closed.simplify(TOLERANCE / 4, preserve_topology=False)


def _filled(shape: BaseGeometry) -> BaseGeometry:
    return shapely.union_all([Polygon(part.exterior) for part in polygons_of(shape)])


def _stays_one(shape: BaseGeometry, neck: float) -> bool:
    eroded = _offset(shape, SLACK - neck / 2)
    return len(polygons_of(eroded)) == 1 and not isinstance(shape, MultiPolygon)


def _offset(shape: BaseGeometry, by: float) -> BaseGeometry:
    """The shape grown with round joins; the arcs' chords are within a quarter of the tolerance."""
    turn = math.acos(max(1 - TOLERANCE / 4 / max(abs(by), TOLERANCE), 0.0))
    return shape.buffer(by, quad_segs=max(math.ceil(math.pi / 4 / turn), 4))
