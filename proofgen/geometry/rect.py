"""Upright rectangles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot


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

    def grown(self, by: float) -> Rect:
        """The box with so much more on all sides."""
        return Rect(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def apart(self, other: Rect) -> float:
        """How far the two are from each other, 0 where they meet."""
        across = max(self.left - other.right, other.left - self.right, 0.0)
        return hypot(across, max(self.top - other.bottom, other.top - self.bottom, 0.0))

    def union(self, other: Rect) -> Rect:
        """The smallest box that holds both."""
        return Rect(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )


def covered(rects: Sequence[Rect], room: Rect) -> float:
    """Square millimetres of the room that lie under the boxes, also where these overlap."""
    edges = {room.left, room.right, *(x for r in rects for x in (r.left, r.right))}
    columns = pairwise(sorted(x for x in edges if room.left <= x <= room.right))
    return sum((right - left) * _under(rects, room, left, right) for left, right in columns)


def _under(rects: Sequence[Rect], room: Rect, left: float, right: float) -> float:
    """How much of a column's height lies under the boxes; none of them ends within the column."""
    height, reached = 0.0, room.top
    for rect in sorted(rects, key=lambda rect: rect.top):
        if rect.left <= left and right <= rect.right:
            height += max(min(rect.bottom, room.bottom) - max(rect.top, reached), 0.0)
            reached = max(reached, min(rect.bottom, room.bottom))
    return height
