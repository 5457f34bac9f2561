"""The wall that the piece hangs on, and the piece's shadow on it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from proofgen.proofs.paint import Coat, tinted
from proofgen.proofs.raster import Floats
from proofgen.proofs.soft import Soft, blurred, shifted
from proofgen.workshop.workshop import Colour

ABOVE = (240, 237, 232)
BELOW = (219, 213, 205)
# Blur, shift right, shift down, colour, strength: the light comes from the top left.
SHADOWS: tuple[tuple[float, int, int, Colour, float], ...] = (
    (34, 20, 34, (92, 78, 66), 0.50),
    (9, 7, 11, (70, 56, 46), 0.48),
)


def backdrop(shape: tuple[int, int]) -> Floats:
    """The bare wall, (3, height, width)."""
    height, width = shape
    down = np.linspace(0, 1, height, dtype=np.float32)[:, None]
    across = np.linspace(-1, 1, width, dtype=np.float32)[None, :]
    return (tinted(ABOVE, 1 - down) + tinted(BELOW, down)) * (1 - 0.035 * across**2)


def cast(silhouette: Soft, share: float) -> Iterator[Coat]:
    """The shadow of what hangs before the wall, by the share of a proof picture that it has."""
    for blur, right, down, colour, strength in SHADOWS:
        moved = shifted(silhouette, right * share, down * share)
        yield Coat(colour, blurred(moved, blur * share), strength)
