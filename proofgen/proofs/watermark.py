"""PROOF, faintly and slantwise over the scene."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Points
from proofgen.proofs.paint import Coat
from proofgen.proofs.palette import Mask
from proofgen.proofs.raster import patch, polygon_coverage
from proofgen.proofs.soft import WHOLE, Soft, nothing, shifted, soft
from proofgen.proofs.spelled import spelled
from proofgen.proofs.type import turned

SIZE, SLANT = 36.0, math.radians(28)
ACROSS, DOWN = 330, 170  # px from one word to the next
WHITE, DARK = 0.12, 0.08
SMALLER = 0.8  # where there are several pieces


def watermark(silhouette: Soft) -> Iterator[Coat]:
    """Over the whole scene, half as strong where the piece is not."""
    yield from part(silhouette.shape, (0, 0), silhouette)


def part(canvas: tuple[int, int], corner: tuple[int, int], silhouette: Soft) -> Iterator[Coat]:
    """The same over a part of the scene, whose left and top are the corner."""
    (left, top), (height, width) = corner, silhouette.shape
    yield from _coats(_mask(canvas)[top : top + height, left : left + width], silhouette)


def sparing(silhouette: Soft, lettered: Mask) -> Iterator[Coat]:
    """The same of smaller words, without those that would touch what is `lettered`."""
    found = nothing(lettered.shape)
    for polygons in _words(lettered.shape, SMALLER):
        box, amount = patch(polygons, lettered.shape)
        if not (lettered[box] & (amount > 0)).any():
            np.maximum(found[box], amount, out=found[box])
    yield from _coats(found, silhouette)


def _coats(mask: Soft, silhouette: Soft) -> Iterator[Coat]:
    amount = np.where(silhouette > WHOLE // 2, mask, mask // 2)
    yield Coat((20, 16, 12), shifted(amount, 1, 1), DARK)
    yield Coat((255, 255, 255), amount, WHITE)


@lru_cache(maxsize=4)
def _mask(shape: tuple[int, int]) -> Soft:
    """All words."""
    polygons = [polygon for word in _words(shape, 1.0) for polygon in word]
    return soft(polygon_coverage(polygons, shape))


def _words(shape: tuple[int, int], scale: float) -> Iterator[tuple[Points, ...]]:
    """The outlines of each word."""
    height, width = shape
    across, down = round(ACROSS * scale), round(DOWN * scale)
    word = spelled("PROOF", SIZE * scale)
    cos, sin = math.cos(SLANT), math.sin(SLANT)
    for row, y in enumerate(range(0, height + 2 * down, down)):
        for x in range(-across // 2 * (row % 2), width, across):
            yield turned(word, Affine(cos, -sin, sin, cos, x, y))
