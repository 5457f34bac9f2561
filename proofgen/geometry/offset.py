"""A contour moved sideways, as the width of a cut asks for."""

from __future__ import annotations

import shapely

from proofgen.geometry.path import Contour, Path
from proofgen.geometry.polygons import from_shapely, to_shapely

# mm; finer than the wood, so that the offset and not the flattening decides the size.
FINE = 0.002
# Chords of a quarter circle round a corner: half a kerf of 0.25 mm is kept to 1e-5 mm.
QUARTER = 32


def offset(contour: Contour, by: float, tolerance: float = FINE) -> Path:
    """What a closed contour surrounds, grown by `by` mm, or shrunk where `by` is negative.

    Corners are rounded where it grows, as the beam rounds them. Straight-sided; several contours
    where a shrinking one falls apart, none where nothing is left.
    """
    body = to_shapely(Path((contour,)), tolerance)
    moved = shapely.buffer(body, by, quad_segs=QUARTER)
    return from_shapely(shapely.simplify(moved, tolerance / 2))
