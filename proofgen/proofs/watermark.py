"""PROOF, faintly and slantwise over the scene."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from proofgen.geometry.affine import Affine
from proofgen.proofs.paint import Coat
from proofgen.proofs.raster import polygon_coverage
from proofgen.proofs.soft import Soft, graded, shifted, soft, times
from proofgen.proofs.spelled import spelled
from proofgen.proofs.type import turned

SIZE, SLANT = 36.0, math.radians(28)
ACROSS, DOWN = 330, 170  # px from one word to the next
WHITE, DARK = 0.12, 0.08
OFF_PIECE = 0.5


def watermark(silhouette: Soft) -> Iterator[Coat]:
    """Over the whole scene, fainter where the piece is not."""
    amount = graded(silhouette, 1 - OFF_PIECE, OFF_PIECE)
    width, height = silhouette.size
    mask, moved = _mask((height, width))
    yield Coat((20, 16, 12), times(moved, amount), DARK)
    yield Coat((255, 255, 255), times(mask, amount), WHITE)


@lru_cache(maxsize=4)
def _mask(shape: tuple[int, int]) -> tuple[Soft, Soft]:
    """The words, and the same a pixel further right and down."""
    height, width = shape
    word = spelled("PROOF", SIZE)
    cos, sin = math.cos(SLANT), math.sin(SLANT)
    polygons = [
        polygon
        for row, y in enumerate(range(0, height + 2 * DOWN, DOWN))
        for x in range(-ACROSS // 2 * (row % 2), width, ACROSS)
        for polygon in turned(word, Affine(cos, -sin, sin, cos, x, y))
    ]
    mask = soft(polygon_coverage(polygons, shape))
    return mask, shifted(mask, 1, 1)
