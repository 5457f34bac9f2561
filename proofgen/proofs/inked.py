"""Text as pixels, put together from letters that are drawn once for many captions."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from proofgen.proofs.raster import Box, patch
from proofgen.proofs.soft import Soft, nothing
from proofgen.proofs.type import Letter, Words

STEPS = 4  # places of a letter between one pixel and the next, which the eye does not tell apart


def inked(
    said: Words, at: tuple[float, float], scale: float, shape: tuple[int, int]
) -> tuple[Box, Soft]:
    """The rows and columns of a (height, width) that the words touch, from a point on their
    baseline, and how much of each pixel in them.
    """
    placed = []
    for letter, x, y in said.letters:
        right, across = divmod(round((at[0] + x * scale) * STEPS), STEPS)
        down, below = divmod(round((at[1] + y * scale) * STEPS), STEPS)
        left, top, amount = _inked(letter, scale, across, below)
        if amount.size:
            placed.append((left + right, top + down, amount))
    if not placed:
        return (slice(0, 0), slice(0, 0)), nothing((0, 0))
    left, top = min(x for x, _, _ in placed), min(y for _, y, _ in placed)
    right = max(x + amount.shape[1] for x, _, amount in placed)
    bottom = max(y + amount.shape[0] for _, y, amount in placed)
    found = nothing((bottom - top, right - left))
    for x, y, amount in placed:
        part = found[y - top : y - top + amount.shape[0], x - left : x - left + amount.shape[1]]
        np.maximum(part, amount, out=part)
    rows = slice(min(max(top, 0), shape[0]), max(min(bottom, shape[0]), 0))
    columns = slice(min(max(left, 0), shape[1]), max(min(right, shape[1]), 0))
    seen = found[rows.start - top : rows.stop - top, columns.start - left : columns.stop - left]
    return (rows, columns), seen


@lru_cache(maxsize=2048)
def _inked(letter: Letter, scale: float, across: int, below: int) -> tuple[int, int, Soft]:
    """Left and top of a letter so many steps beyond a pixel, and how much of each pixel there."""
    lines = [line * scale + (across / STEPS, below / STEPS) for line in letter.polygons]
    if not lines:
        return 0, 0, nothing((0, 0))
    points = np.concatenate(lines)
    left, top = np.floor(points.min(axis=0)).astype(int)
    right, bottom = np.ceil(points.max(axis=0)).astype(int) + 1
    _, amount = patch((line - (left, top) for line in lines), (bottom - top, right - left))
    return int(left), int(top), amount
