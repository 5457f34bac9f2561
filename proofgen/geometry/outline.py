"""What contours and paths are: points that are never changed, compared and sent on by value."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, Self

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Affine
from proofgen.geometry.curves import Points
from proofgen.geometry.rows import Kind

Number = float | NDArray[np.float64]


@dataclass(frozen=True, init=False, eq=False, repr=False)
class Outline:
    """The points (n, 2) of contours of these kinds, one after the other, as `rows` has them."""

    points: Points
    kinds: tuple[Kind, ...]

    @classmethod
    def of(cls, points: Points, kinds: tuple[Kind, ...]) -> Self:
        """The outline that has these points, which are the caller's no more."""
        made = cls.__new__(cls)
        made._hold(points, kinds)
        return made

    def _hold(self, points: Points, kinds: tuple[Kind, ...]) -> None:
        points.flags.writeable = False
        self.__dict__.update(points=points, kinds=kinds)

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self).of, (self.points, self.kinds)

    def __eq__(self, other: object) -> bool:
        return self is other or (
            isinstance(other, Outline)
            and type(self) is type(other)
            and self.kinds == other.kinds
            and np.array_equal(self.points, other.points)
        )

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        # Nought has two signs, which are equal.
        return hash(((self.points + 0.0).tobytes(), self.kinds))

    def moved(self, affine: Affine) -> Self:
        """The same under an affine map."""
        m = affine
        return self.of(mapped(self.points, m.a, m.b, m.c, m.d, m.e, m.f), self.kinds)


def mapped(
    points: Points, a: Number, b: Number, c: Number, d: Number, e: Number, f: Number
) -> Points:
    """The points (n, 2) under one affine map, or under one each."""
    x, y = points.T
    found = np.empty((len(points), 2))
    found[:, 0] = a * x + c * y + e
    found[:, 1] = b * x + d * y + f
    return found
