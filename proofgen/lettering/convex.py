"""Convex zones: the largest size is a linear programme in (size, x, y).

Its dual has as many rows as there are free places plus one, and the bases that can be optimal
depend on the zone's normals alone. They are listed once a zone, so that fitting a text is a
product and a minimum.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.lettering.zone import Floats, Hold, Shape

FLAT = 1e-9

Numbers = NDArray[np.intp]


class ConvexZone:
    """The points p with normals @ p <= offsets; normals (m, 2) of length 1, offsets (m,)."""

    def __init__(self, corners: Floats) -> None:
        """Corners (m, 2) of a convex polygon, in either direction."""
        along = np.roll(corners, -1, axis=0) - corners
        x, y = corners.T
        turn = np.sign((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
        normals = turn * np.stack([along[:, 1], -along[:, 0]], axis=1)
        self.normals = normals / np.linalg.norm(normals, axis=1)[:, None]
        self.offsets = (self.normals * corners).sum(axis=1)
        self._bases = lru_cache(maxsize=4)(self._find_bases)
        self._room = lru_cache(maxsize=4)(self._find_room)

    def bound(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """The greatest size itself."""
        return self.largest(shape, hold, wanted)

    def largest(self, shape: Shape, hold: Hold, wanted: float) -> float:
        """The greatest size up to `wanted` at which the shape lies inside; 0 where none does."""
        x, y = hold.x or (None, 0.0), hold.y or (None, 0.0)
        have = self._room(x[0], y[0])
        if have is None:
            return 0.0
        grow = shape.support(self.normals) + self.normals @ (x[1], y[1])
        need = self._bases(x[0] is None, y[0] is None) @ grow
        limited = need > FLAT
        return min(wanted, float((have[limited] / need[limited]).min(initial=wanted)))

    def place(self, shape: Shape, hold: Hold, size: float, near: float) -> Point | None:
        """A quiet place for that size: x near the given one, y midway; None if it does not fit."""
        slack = self.offsets - size * shape.support(self.normals)
        low_x, high_x = self.reach(shape, hold, size)
        x = hold.x[0] + hold.x[1] * size if hold.x else min(max(near, low_x), high_x)
        low, high = _interval(self.normals[:, 1], slack - self.normals[:, 0] * x)
        y = hold.y[0] + hold.y[1] * size if hold.y else (low + high) / 2
        return (x, y) if low - FLAT <= y <= high + FLAT else None

    def reach(self, shape: Shape, hold: Hold, size: float) -> tuple[float, float]:
        """The range of x for which some y fits."""
        slack = self.offsets - size * shape.support(self.normals)
        if hold.y:
            nx, ny = self.normals.T
            return _interval(nx, slack - ny * (hold.y[0] + hold.y[1] * size))
        i, j, flat, slope = self._across
        ny = self.normals[:, 1]
        return _interval(slope, np.concatenate([slack[i] / ny[i] - slack[j] / ny[j], slack[flat]]))

    @cached_property
    def _across(self) -> tuple[Numbers, Numbers, Numbers, Floats]:
        """Every pair of sides above and below, the upright sides, and how x is held by them."""
        nx, ny = self.normals.T
        up, down = np.flatnonzero(ny > FLAT), np.flatnonzero(ny < -FLAT)
        flat = np.flatnonzero(np.abs(ny) <= FLAT)
        i, j = np.tile(up, len(down)), np.repeat(down, len(up))
        return i, j, flat, np.concatenate([nx[i] / ny[i] - nx[j] / ny[j], nx[flat]])

    def _find_room(self, x: float | None, y: float | None) -> Floats | None:
        """What room each base has where x or y is held from there; None where one has none."""
        held = self.normals @ (x or 0.0, y or 0.0)
        room = self._bases(x is None, y is None) @ (self.offsets - held)
        return None if (room < -FLAT).any() else np.asarray(room)

    def _find_bases(self, free_x: bool, free_y: bool) -> Floats:
        """Weights (n, m) of minimal sets of sides that balance each other."""
        columns = [axis for axis, free in enumerate((free_x, free_y)) if free]
        sides = self.normals[:, columns]
        found: list[Floats] = []
        for count in range(1, len(columns) + 2):
            for chosen in combinations(range(len(sides)), count):
                weights = _balance(sides[list(chosen)])
                if weights is not None:
                    found.append(np.zeros(len(sides)))
                    found[-1][list(chosen)] = weights
        return np.array(found)


def _balance(sides: Floats) -> list[float] | None:
    """Positive weights with sum 1 under which the sides cancel, where they are unique."""
    count, free = sides.shape
    if count == 1:
        return [1.0] if np.abs(sides).max(initial=0.0) <= FLAT else None
    if count == 2 and free == 1:
        a, b = float(sides[0, 0]), float(sides[1, 0])
        return _normal([-b, a]) if a * b < -FLAT else None
    if count == 2:
        parallel = abs(_cross(sides[0], sides[1])) <= FLAT and float(sides[0] @ sides[1]) < 0
        return [0.5, 0.5] if parallel else None
    a, b, c = sides
    return _normal([_cross(b, c), _cross(c, a), _cross(a, b)])


def _cross(a: Floats, b: Floats) -> float:
    return float(a[0] * b[1] - a[1] * b[0])


def _normal(weights: list[float]) -> list[float] | None:
    """The weights with sum 1 if all have one sign."""
    if min(weights) > FLAT or max(weights) < -FLAT:
        total = sum(weights)
        return [w / total for w in weights]
    return None


def _interval(slopes: Floats, room: Floats) -> tuple[float, float]:
    """The range of t with slopes * t <= room; its upper end is under the lower if there is none."""
    if (room[np.abs(slopes) <= FLAT] < -FLAT).any():
        return 1.0, -1.0
    rising, falling = slopes > FLAT, slopes < -FLAT
    high = float((room[rising] / slopes[rising]).min(initial=np.inf))
    low = float((room[falling] / slopes[falling]).max(initial=-np.inf))
    return low, high
