"""Blurring and enlarging 8-bit masks in whole numbers, a row or a column of them at a time."""

from __future__ import annotations

from functools import lru_cache
from itertools import chain
from math import ceil, exp

import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]
Words = NDArray[np.uint16]

REACH = 2.7  # standard deviations: what is further weighs 0.7 % together
# What the row before, the row itself and the row after weigh in those it becomes.
SPREAD = {2: ((1, 3, 0), (0, 3, 1)), 4: ((3, 5, 0), (1, 7, 0), (0, 7, 1), (0, 5, 3))}


def gaussian(mask: Bytes, deviation: float) -> Bytes:
    """The mask (h, w) blurred by that standard deviation, px; beyond its border it goes on."""
    weights = _weights(round(deviation, 3))
    return _along(_along(mask, weights, 0), weights, 1)


def larger(rows: Words, by: int) -> Words:
    """Values (h, w) at `by` times the size, straight between their middles; they come out (2 by)²
    times as great, which has to be under 65536.
    """
    return _spread(_spread(rows, by, 1), by, 0)


@lru_cache(maxsize=64)
def _weights(deviation: float) -> tuple[int, ...]:
    """The middle of a Gaussian and one side of it, of 256 parts."""
    far = max(ceil(REACH * deviation), 1)
    heights = [exp(-0.5 * (i / max(deviation, 0.1)) ** 2) for i in range(far + 1)]
    scale = 256 / (2 * sum(heights) - heights[0])
    side = [round(height * scale) for height in heights[1:]]
    return (256 - 2 * sum(side), *side)


def _along(mask: Bytes, weights: tuple[int, ...], axis: int) -> Bytes:
    far = len(weights) - 1
    wide = _padded(mask, far, axis)
    size = mask.shape[axis]
    found = _part(wide, far, size, axis) * np.uint16(weights[0])
    found += np.uint16(128)
    pair = np.empty_like(found)
    for i, weight in enumerate(weights[1:], start=1):
        np.add(_part(wide, far - i, size, axis), _part(wide, far + i, size, axis), out=pair)
        pair *= np.uint16(weight)
        found += pair
    found >>= np.uint16(8)
    return found.astype(np.uint8)


def _spread(rows: Words, by: int, axis: int) -> Words:
    size = rows.shape[axis]
    wide = _padded(rows, 1, axis)
    weighed = {weight: wide * np.uint16(weight) for weight in {*chain(*SPREAD[by])} - {0}}
    high, across = rows.shape
    found = np.empty((high, by, across) if axis == 0 else (high, across, by), np.uint16)
    for i, weights in enumerate(SPREAD[by]):
        one, other = (
            _part(weighed[weight], j, size, axis) for j, weight in enumerate(weights) if weight
        )
        np.add(one, other, out=found[:, i] if axis == 0 else found[:, :, i])
    return found.reshape((high * by, across) if axis == 0 else (high, across * by))


def _padded(rows: Bytes | Words, by: int, axis: int) -> Words:
    """With so many more at either end that are as the last one; numpy's own takes longer."""
    high, wide = rows.shape
    if axis:
        found = np.empty((high, wide + 2 * by), np.uint16)
        found[:, by:-by] = rows
        found[:, :by], found[:, -by:] = rows[:, :1], rows[:, -1:]
        return found
    found = np.empty((high + 2 * by, wide), np.uint16)
    found[by:-by] = rows
    found[:by], found[-by:] = rows[:1], rows[-1:]
    return found


def _part(rows: Words, start: int, size: int, axis: int) -> Words:
    return rows[start : start + size] if axis == 0 else rows[:, start : start + size]
