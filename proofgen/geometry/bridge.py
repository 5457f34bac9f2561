"""A straight bar of wood that holds two parts together."""

from __future__ import annotations

import math
from dataclasses import dataclass

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path, polygon


@dataclass(frozen=True, slots=True)
class Bridge:
    """A bar of some width between two points that lie inside the parts it joins; millimetres."""

    start: Point
    end: Point
    width: float

    @property
    def length(self) -> float:
        """From end to end, with what is sunk into the parts."""
        return math.dist(self.start, self.end)

    def bar(self) -> Path:
        """Its outline."""
        (x0, y0), (x1, y1) = self.start, self.end
        share = self.width / 2 / self.length
        dx, dy = (y0 - y1) * share, (x1 - x0) * share
        return polygon(
            ((x0 + dx, y0 + dy), (x1 + dx, y1 + dy), (x1 - dx, y1 - dy), (x0 - dx, y0 - dy))
        )
