"""Thinnest stroke and narrowest gap of an outline.

The thinnest stroke is the smallest d at which eroding by d/2 changes the number of parts or
holes, or opening by d loses a piece longer than 1.5 d whose area exceeds 0.75 x d x its length
(a hairline of constant width scores about 1, a taper 0.5; the length is the diameter). So a
sharp corner is no stroke. The narrowest gap is the same of the background. Both go part by
part, or one part that vanishes could hide another that splits.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.path import Path
from proofgen.geometry.polygons import polygons_of, to_shapely
from proofgen.geometry.thickness import Thickness, thickness

# All of these are shares of the unit (an em, or the size of the thing).
LEAST, MOST = 0.004, 0.4  # widths looked for: a dot of 0.04 mm to a bar of 4 mm at 10 mm
FLAT = 5e-4  # chord error of curves
FINE = 1e-4  # to which the width is refined
SPACING = 0.03  # of thickness samples

STEP = 1.05  # ratio of the scan; a piece that is lost stays lost over a ratio of about 1.3
LONG, FULL = 1.5, 0.75  # what makes a lost piece a stroke: length / d, area / (d x length)
ARC = 12  # segments a quarter circle
SIMPLE = 40  # points of a ring, beyond which a ghost is too slight to matter
GROWN = 0.0015  # an arc of ARC segments runs up to 0.0011 r inside the circle


def thinnest_stroke(path: Path, unit: float) -> float:
    """Width of the thinnest stroke, in the path's units; inf if there is none up to 0.4 unit.

    `unit` is the size of an em, or of the thing, in the path's units.
    """
    return thinnest(to_shapely(path, FLAT * unit), unit)


def narrowest_gap(path: Path, unit: float) -> float:
    """Width of the narrowest gap inside or between the contours; inf as for strokes."""
    shape = to_shapely(path, FLAT * unit)
    if shape.is_empty:
        return math.inf
    return thinnest(_background(shape, unit), unit, framed=True)


def has_stroke(path: Path, width: float, unit: float) -> bool:
    """Whether the scan for the thinnest stroke would stop at its last step up to that width.

    Then `thinnest_stroke` is no wider, and that is known much sooner. False tells nothing.
    """
    return _stops(to_shapely(path, FLAT * unit), width, unit)


def has_gap(path: Path, width: float, unit: float) -> bool:
    """The same of a gap inside or between the contours, and `narrowest_gap`."""
    shape = to_shapely(path, FLAT * unit)
    return not shape.is_empty and _stops(_background(shape, unit), width, unit, framed=True)


def _stops(shape: Polygon | MultiPolygon, width: float, unit: float, framed: bool = False) -> bool:
    below, d = 0.0, LEAST * unit
    while d * STEP <= min(width, MOST * unit):
        below, d = d, d * STEP
    if d > width:
        return False
    parts = (part for part in polygons_of(shape) if part.area > (FLAT * unit) ** 2)
    uprights = ((_upright(part), framed and part.bounds == shape.bounds) for part in parts)
    return any(
        _has_stroke(upright, d) and _possible(_local(upright, unit, outer), below, d)
        for upright, outer in uprights
    )


def _background(shape: Polygon | MultiPolygon, unit: float) -> Polygon | MultiPolygon:
    return shapely.box(*shape.bounds).buffer(unit, join_style="mitre").difference(shape)


def thinnest(
    shape: Polygon | MultiPolygon, unit: float, framed: bool = False, limit: float = math.inf
) -> float:
    """The least over the parts, since each part is eroded and opened on its own; inf if none.

    Nothing of `limit` or more is looked for. For use inside geometry/ only.

    The frame round a background is too far off to be one side of a gap.
    """
    found = limit
    for part in polygons_of(shape):
        if part.area > (FLAT * unit) ** 2:  # less is dust that flattening left
            outer = framed and part.bounds == shape.bounds
            found = min(found, _of_part(part, unit, outer, found))
    return found if found < limit else math.inf


def _of_part(part: Polygon, unit: float, framed: bool, limit: float) -> float:
    """The smallest width below `limit` at which the part has a stroke, else inf."""
    upright = _upright(part)
    local = _local(upright, unit, framed)
    below, d = 0.0, LEAST * unit
    while below < min(limit, MOST * unit):
        if _possible(local, below, d) and _has_stroke(upright, d):
            return _refined(upright, below, d, FINE * unit)
        below, d = d, d * STEP
    return math.inf


def _upright(part: Polygon) -> Polygon:
    return _halved(shapely.orient_polygons(part))


def _local(upright: Polygon, unit: float, framed: bool) -> Thickness:
    rings = [upright.exterior, *upright.interiors][framed:]
    coords = [np.asarray(ring.coords) for ring in rings]
    return thickness(coords, SPACING * unit, MOST * STEP * unit)


def _possible(local: Thickness, below: float, d: float) -> bool:
    """Two sides share a stroke, so a third of its area and a fair mean are safe to ask."""
    return local.may_split(below, d) or local.may_lose(d, d * d / 4, 0.6 * d)


def _halved(part: Polygon) -> Polygon:
    """A simple shape with a point more in the middle of each edge.

    GEOS 3.14 leaves a ghost of an evenly shaped polygon (an octagon, say) that is eroded by
    up to 1.2 times its inscribed radius; with split edges nothing is left, as it should be.
    """
    ends = np.asarray(part.exterior.coords)
    if part.interiors or len(ends) > SIMPLE:
        return part
    middles = (ends[:-1] + ends[1:]) / 2
    return Polygon(np.concatenate((ends[:-1], middles), axis=1).reshape(-1, 2))


def _refined(part: Polygon, below: float, found: float, fine: float) -> float:
    while found - below > fine:
        middle = (below + found) / 2
        if _has_stroke(part, middle):
            found = middle
        else:
            below = middle
    return (below + found) / 2


def _has_stroke(part: Polygon, d: float) -> bool:
    """The definition at one width, for one part."""
    core = part.buffer(-d / 2, quad_segs=ARC)
    if core.geom_type != "Polygon" or core.is_empty:
        return True
    if len(core.interiors) != len(part.interiors):
        return True
    grown = d / 2 * (1 + GROWN)
    opened = core.buffer(grown, quad_segs=ARC)
    least = LONG * FULL * d * d
    if part.area - opened.area + part.length * GROWN * d / 2 < least:
        return False
    lost = part.difference(opened)
    return any(_is_stroke(piece, d) for piece in polygons_of(lost) if piece.area > least)


def _is_stroke(piece: Polygon, d: float) -> bool:
    length = _diameter(piece)
    return length > LONG * d and piece.area > FULL * d * length


def _diameter(shape: BaseGeometry) -> float:
    """The greatest distance between two points."""
    points = shapely.get_coordinates(shape.convex_hull)
    apart = points[:, None] - points[None, :]
    return float(np.hypot(apart[..., 0], apart[..., 1]).max())
