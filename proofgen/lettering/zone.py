"""Safe zones: how large a shape may be inside a simple polygon, and where it then lies.

A shape is given in ems about its own origin; placed at size s and (x, y) its point p lies at
s p + (x, y). Sizes and places are millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point

Floats = NDArray[np.float64]

# What the fit keeps free inside the zone: rounding of sizes and places and the flatness of
# outlines stay well under it.
KEEP_INSIDE = 0.01


class Shape(Protocol):
    """Text laid out in ems."""

    def support(self, directions: Floats) -> Floats:
        """The furthest extent (m,) of the outline along each direction (m, 2)."""

    def edges(self) -> Floats:
        """The flattened outline as edges (n, 4)."""


@dataclass(frozen=True, slots=True)
class Hold:
    """What a slot fixes: x and y move with the size as start + slope * size, or are free (None)."""

    x: tuple[float, float] | None
    y: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Place:
    """A size and the place of the origin."""

    size: float
    x: float
    y: float


class Zone(Protocol):
    """A polygon prepared for fitting."""

    def bound(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """A size that the greatest one does not exceed, found from the supports alone."""

    def largest(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """The greatest size up to `wanted` at which the shape lies inside; 0 where none does."""

    def place(self, shape: Shape, hold: Hold, size: float, near: float) -> Point | None:
        """A quiet place for that size: x near the given one, y midway; None if it does not fit."""
