"""The wall that the piece hangs on, and the piece's shadow on it."""

from __future__ import annotations

import numpy as np

from proofgen.proofs.paint import cover
from proofgen.proofs.raster import Floats
from proofgen.proofs.soft import blurred, shifted
from proofgen.proofs.stage import SCENE, WIDTH
from proofgen.workshop.workshop import Colour

ABOVE = (240, 237, 232)
BELOW = (219, 213, 205)
# Blur, shift right, shift down, colour, strength: the light comes from the top left.
SHADOWS: tuple[tuple[float, int, int, Colour, float], ...] = (
    (34, 20, 34, (92, 78, 66), 0.50),
    (9, 7, 11, (70, 56, 46), 0.48),
)


def backdrop() -> Floats:
    """The bare wall, (SCENE, WIDTH, 3)."""
    down = np.linspace(0, 1, SCENE, dtype=np.float32)[:, None, None]
    across = np.linspace(-1, 1, WIDTH, dtype=np.float32)[None, :, None]
    wall = np.asarray(ABOVE, np.float32) * (1 - down) + np.asarray(BELOW, np.float32) * down
    return np.asarray(wall * (1 - 0.035 * across**2), np.float32)


def cast(canvas: Floats, silhouette: Floats) -> None:
    """The shadow of what hangs before the wall."""
    for blur, right, down, colour, strength in SHADOWS:
        cover(canvas, colour, blurred(shifted(silhouette, right, down), blur) * strength)
