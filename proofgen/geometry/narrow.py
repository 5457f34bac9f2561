"""The narrow places of an area: how wide they are, and where."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import islice

import numpy as np
import shapely
from shapely import Polygon

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import polygons_of, to_shapely
from proofgen.geometry.strokes import thinnest

UNIT = 10.0  # mm: widths from 0.04 to 4 mm are found, to a micrometre
TOLERANCE = 0.005  # mm
ALIKE = 4  # decimals of a mm to which parts are alike
OVER = 1.03  # a little more than the width, so that the place falls away
MOST = 6  # places that are told of one area
# mm of edges from which on it is one place: each takes as long as measuring all of them again.
LONG = 5_000.0


def narrow_places(path: Path, without: Path, limit: float) -> tuple[tuple[float, Point], ...]:
    """The places where what `path` fills outside `without` is less than `limit` mm wide.

    Each is (its width in mm, its middle): strokes as `geometry.strokes` defines them, of up to
    4 mm. No more than six, and one where there are more than 5 m of edges.
    """
    shape = to_shapely(path, TOLERANCE).difference(to_shapely(without, TOLERANCE))
    most = MOST if shape.length <= LONG else 1
    return tuple(islice(_of_parts(polygons_of(shape), limit), most))


def _of_parts(parts: list[Polygon], limit: float) -> Iterator[tuple[float, Point]]:
    """Part by part; a part that is found wide enough is not measured again where it is repeated."""
    wide = set()
    for part in parts:
        points = shapely.get_coordinates(part)
        form = np.round(points - points[0], ALIKE).tobytes()
        if form not in wide:
            width = math.inf
            for width, spot in _of_part(part, limit):
                yield width, spot
            if width == math.inf:
                wide.add(form)


def _of_part(part: Polygon, limit: float) -> Iterator[tuple[float, Point]]:
    """The narrowest place first; it is then widened, so that the next one shows."""
    while (width := thinnest(part, UNIT, limit=limit)) < limit:
        spot = shapely.point_on_surface(max(_thin(part, width * OVER), key=lambda p: p.area))
        yield width, (spot.x, spot.y)
        own = min(_thin(part, limit * OVER), key=spot.distance)
        part = shapely.union(part, own.buffer(limit * OVER / 2))


def _thin(part: Polygon, width: float) -> list[Polygon]:
    """The pieces that no disc of that width reaches; all of it where none fits in."""
    opened = part.buffer(-width / 2).buffer(width / 2 * 1.002)
    return polygons_of(part.difference(opened)) or [part]
