"""The least distance between neighbours in a row of outlines.

It is found for all of them together: calling numpy for each costs more than the points.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.path import Points

# Of so many corners of each outline a first bound of their distance is taken.
SOME = 24

Numbers = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Row:
    """At least one outline: edges (n, 4) that follow each other, and how many each has (k,)."""

    edges: Points
    sizes: Numbers

    @cached_property
    def gap(self) -> float:
        """The least distance between two neighbours, infinite for one outline; 0 where they cross.

        Only edges that lie within what is known already can be nearest.
        """
        if math.isinf(self.gap_at_most):
            return math.inf
        ahead, back = self._facing(self.gap_at_most)
        owner = np.repeat(np.arange(len(self.sizes)), self.sizes)
        left, right = owner[ahead], owner[back] - 1
        here = np.zeros((2, len(self.sizes)), dtype=bool)
        here[0, left] = here[1, right] = True
        both = here[0] & here[1]
        pairs = (
            _joined(self.edges[near], number, both)
            for near, number in ((ahead, left), (back, right))
        )
        return float(shapely.distance(*pairs).min(initial=self.gap_at_most))

    @cached_property
    def gap_at_most(self) -> float:
        """What `gap` does not exceed: the least distance between some of the corners."""
        if len(self.sizes) < 2:
            return math.inf
        some = self._firsts[:, None] + np.arange(SOME) * self.sizes[:, None] // SOME
        x, y = self.edges[some, 0], self.edges[some, 1]
        across = x[:-1, :, None] - x[1:, None, :]
        down = y[:-1, :, None] - y[1:, None, :]
        return math.sqrt(float((across * across + down * down).min()))

    @cached_property
    def _firsts(self) -> Numbers:
        return np.asarray(np.cumsum(self.sizes) - self.sizes)

    def _facing(self, bound: float) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        """Which edges (n,) come within the bound of the box round the next outline, and which of
        that round the last one.
        """
        ahead, back = np.ones((2, len(self.edges)), dtype=bool)
        ahead[self._firsts[-1] :] = False
        back[: self.sizes[0]] = False
        for start, end in zip(self.edges.T[:2], self.edges.T[2:], strict=True):
            low, high = np.minimum(start, end), np.maximum(start, end)
            least = np.minimum.reduceat(low, self._firsts) - bound
            most = np.maximum.reduceat(high, self._firsts) + bound
            for near, by in ((ahead, -1), (back, 1)):
                near &= high >= np.repeat(np.roll(least, by), self.sizes)
                near &= low <= np.repeat(np.roll(most, by), self.sizes)
        return ahead, back


def _joined(edges: Points, number: Numbers, wanted: NDArray[np.bool_]) -> NDArray[np.object_]:
    """The edges of each wanted number as one geometry."""
    kept = wanted[number]
    lines = shapely.linestrings(edges[kept].reshape(-1, 2, 2))
    indices = (np.cumsum(wanted) - 1)[number[kept]]
    return np.asarray(shapely.multilinestrings(lines, indices=indices))
