"""A line that text follows, by arc length."""

from __future__ import annotations

import numpy as np

from proofgen.geometry.path import Path
from proofgen.lettering.zone import Floats

# A chord leaves the line by at most this, mm; letters are asked to lie within 0.01.
FLATNESS = 1e-4


class Curve:
    """The first contour of a path, from its start to its end; lengths in millimetres."""

    def __init__(self, path: Path) -> None:
        points = path.contours[0].flatten(FLATNESS)
        steps = np.hypot(*np.diff(points, axis=0).T)
        keep = np.concatenate([[True], steps > 0])
        self._points = points[keep]
        self._at = np.concatenate([[0.0], np.cumsum(steps[steps > 0])])
        self._turns = _directions(self._points)

    @property
    def length(self) -> float:
        """From start to end."""
        return float(self._at[-1])

    def seats(self, along: Floats, middles: Floats, size: float) -> Floats:
        """Each takes a letter in ems to its place: its middle on the line, its foot along it.

        Maps (n, 6), for letters whose middles, in ems (n,), lie so far along the line (n,).
        """
        turns = np.interp(along, self._at, self._turns)
        x, y = (np.interp(along, self._at, axis) for axis in self._points.T)
        c, s = np.cos(turns) * size, np.sin(turns) * size
        return np.stack([c, s, -s, c, x - c * middles, y - s * middles], axis=1)


def _directions(points: np.ndarray) -> np.ndarray:
    """The direction at every point, the mean of the steps on its two sides; without jumps."""
    steps = np.diff(points, axis=0)
    angles = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    return np.concatenate([angles[:1], (angles[:-1] + angles[1:]) / 2, angles[-1:]])
