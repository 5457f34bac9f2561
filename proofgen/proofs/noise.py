"""Value noise: smooth random fields that are the same on every machine."""

from __future__ import annotations

import numpy as np

from proofgen.proofs.raster import Floats


class Noise:
    """A source of fields (height, width); the same seed gives the same fields in turn."""

    def __init__(self, seed: int, shape: tuple[int, int]) -> None:
        # The raw stream of a bit generator is what numpy promises to keep.
        self._bits = np.random.PCG64(seed)
        self._shape = shape

    def field(self, across: float, down: float) -> Floats:
        """Values -1..1 whose features are about `across` by `down` pixels."""
        height, width = self._shape
        rows, below, v = _between(height, down)
        columns, beside, u = _between(width, across)
        raw = self._bits.random_raw((int(below[-1]) + 1) * (int(beside[-1]) + 1))
        grid = (raw.astype(np.float64) / 2.0**63 - 1).astype(np.float32)
        grid = grid.reshape(int(below[-1]) + 1, int(beside[-1]) + 1)
        lines = grid[rows] * (1 - v[:, None]) + grid[below] * v[:, None]
        return np.asarray(lines[:, columns] * (1 - u) + lines[:, beside] * u)


def _between(length: int, step: float) -> tuple[np.ndarray, np.ndarray, Floats]:
    """The grid line before each pixel, the one after it, and the smoothed share of the latter."""
    place = np.arange(length) / step
    before = np.floor(place).astype(np.int64)
    t = (place - before).astype(np.float32)
    return before, before + 1, t * t * (3 - 2 * t)
