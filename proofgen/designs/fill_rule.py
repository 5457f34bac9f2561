"""Even-odd filling expressed by the direction of contours."""

from __future__ import annotations

import numpy as np

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path, Points

TOLERANCE = 0.01  # mm, of the polylines that decide what lies in what


def as_nonzero(path: Path) -> Path:
    """The same area under the nonzero rule, for contours that do not cross each other.

    A contour that lies in an odd number of others runs against those that lie in an even number.
    """
    outlines = path.flatten(TOLERANCE)
    turned = []
    for contour, outline in zip(path.contours, outlines, strict=True):
        depth = sum(_inside(contour.start, other) for other in outlines if other is not outline)
        forward = signed_area(outline) > 0
        turned.append(contour if forward == (depth % 2 == 0) else contour.reversed())
    return Path(tuple(turned))


def signed_area(points: Points) -> float:
    """The area of a polygon (n, 2); positive where it turns from x towards y."""
    x, y = points.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def _inside(point: Point, outline: Points) -> bool:
    """Even-odd test of a point against a closed polyline (n, 2)."""
    x, y = point
    a, b = outline[:-1], outline[1:]
    spans = (a[:, 1] > y) != (b[:, 1] > y)
    a, b = a[spans], b[spans]
    crossing = a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return bool(np.count_nonzero(crossing > x) % 2)
