"""A short way through many places: the nearest next, then parts of the way turned round (2-opt)."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Points

# mm; a change that saves less is noise.
LEAST = 1e-6


def short_way(ends: Points, start: Point) -> list[tuple[int, bool]]:
    """In which order, and whether backwards, to visit runs with these ends (n, 2, 2).

    The way begins at `start` and may end anywhere. A closed run has its place at both ends.
    """
    if not len(ends):
        return []
    order, turned = _nearest(ends, start)
    _untangle(ends, np.array(start), order, turned)
    return [(int(index), bool(back)) for index, back in zip(order, turned, strict=True)]


def _nearest(ends: Points, start: Point) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    left = np.ones(len(ends), dtype=bool)
    order, turned = np.zeros(len(ends), dtype=int), np.zeros(len(ends), dtype=bool)
    here = np.array(start)
    for place in range(len(ends)):
        away = _apart(ends, here)
        away[~left] = np.inf
        index, end = divmod(int(np.argmin(away)), 2)
        order[place], turned[place] = index, end == 1
        left[index] = False
        here = ends[index, 1 - end]
    return order, turned


def _untangle(
    ends: Points, start: Points, order: NDArray[np.int64], turned: NDArray[np.bool_]
) -> None:
    """Turn stretches of the way round, in place, for as long as one of them makes it shorter."""
    better = True
    while better:
        better = False
        for first in range(len(order)):
            into, out = _in_and_out(ends, order, turned)
            before = out[first - 1] if first else start
            # Turning first..last joins `before` to the end of last, and first's start to what
            # comes after last; nothing comes after the whole way.
            saved = _apart(before, into[first]) - _apart(before, out[first:])
            after = into[first + 1 :]
            saved[:-1] += _apart(out[first:-1], after) - _apart(into[first], after)
            last = int(np.argmax(saved))
            if saved[last] > LEAST:
                stretch = slice(first, first + last + 1)
                order[stretch] = order[stretch][::-1].copy()
                turned[stretch] = ~turned[stretch][::-1]
                better = True


def _in_and_out(
    ends: Points, order: NDArray[np.int64], turned: NDArray[np.bool_]
) -> tuple[Points, Points]:
    back = turned.astype(int)
    return ends[order, back], ends[order, 1 - back]


def _apart(a: Points, b: Points) -> Points:
    return np.asarray(np.hypot(a[..., 0] - b[..., 0], a[..., 1] - b[..., 1]))
