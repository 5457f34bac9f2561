"""Thin places of an outline made wider, and nothing else of it."""

from __future__ import annotations

import math

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.path import Path
from proofgen.geometry.polygons import from_shapely, polygons_of, to_shapely
from proofgen.geometry.weld import weld

# mm a side that a thin place gains at a time; what joins thicker parts should not become a knot.
STEP = 0.1
FLATNESS = 0.02  # mm, of curves and of what is added
ARC = 8  # segments of a quarter circle
GROWN = 1.006  # an arc of so many segments runs that much inside its circle
LEAST = 0.02  # mm; pieces that are narrower over the width are what flattening left


def thickened(path: Path, width: float, most: float) -> Path:
    """The outline, its strokes and necks made `width` wide, where at most `most` are wanting.

    What is added is straight-sided. Corners are left as they are: they are no strokes.
    """
    shape = to_shapely(path, FLATNESS)
    added: list[BaseGeometry] = []
    for _ in range(math.ceil(most / 2 / STEP - 1e-9)):
        opened = shape.buffer(-width / 2, quad_segs=ARC).buffer(width / 2 * GROWN, quad_segs=ARC)
        lost = polygons_of(shape.difference(opened))
        large = [piece for piece in lost if piece.area >= LEAST * width]
        thin = [piece for piece in large if _is_thin(piece, opened, width)]
        if not thin:
            break
        added.append(shapely.union_all(thin).buffer(STEP, quad_segs=ARC))
        shape = shape.union(added[-1])
    mends = polygons_of(shapely.union_all(added).simplify(FLATNESS))
    return weld([path, *map(from_shapely, mends)]) if mends else path


def _is_thin(piece: Polygon, opened: BaseGeometry, width: float) -> bool:
    """Whether a piece that no disc of the width reaches is a neck or a stroke, and no corner."""
    necks = len(polygons_of(piece.buffer(LEAST).intersection(opened)))
    left, top, right, bottom = piece.bounds
    return necks > 1 or max(right - left, bottom - top) > width
