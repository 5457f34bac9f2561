"""A pen in the manner of fontTools that draws into a Path."""

from __future__ import annotations

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path, Segment


class SegmentPen:
    """Collects closed contours, scaled by `scale` and with y turned downwards."""

    def __init__(self, scale: float) -> None:
        self._scale = scale
        self._contours: list[Contour] = []
        self._start: Point = (0.0, 0.0)
        self._segments: list[Segment] = []

    def moveTo(self, point: Point) -> None:  # noqa: N802 - the protocol's names
        """Start a contour."""
        self._start = self._point(point)
        self._segments = []

    def lineTo(self, point: Point) -> None:  # noqa: N802
        """A straight line."""
        self._add(point)

    def qCurveTo(self, *points: Point) -> None:  # noqa: N802
        """One quadratic curve: HarfBuzz resolves implied points itself."""
        self._add(*points)

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        """One cubic curve."""
        self._add(*points)

    def closePath(self) -> None:  # noqa: N802
        """End a contour; one without any extent is left out."""
        if self._segments:
            self._contours.append(Contour(self._start, tuple(self._segments)))
        self._segments = []

    def path(self) -> Path:
        """What was drawn."""
        return Path(tuple(self._contours))

    def _point(self, point: Point) -> Point:
        return (point[0] * self._scale, -point[1] * self._scale)

    def _add(self, *points: Point) -> None:
        self._segments.append(tuple(map(self._point, points)))
