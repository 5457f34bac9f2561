"""Upright rectangles."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rect:
    """The box from (left, top) to (right, bottom); y grows downwards."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Extent along x."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent along y."""
        return self.bottom - self.top

    @property
    def centre(self) -> tuple[float, float]:
        """The middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def union(self, other: Rect) -> Rect:
        """The smallest box that holds both."""
        return Rect(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )
