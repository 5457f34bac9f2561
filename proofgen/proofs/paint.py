"""Painting on a canvas: a float32 array (height, width, 3) of sRGB 0..255, changed in place."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from proofgen.proofs.raster import Floats
from proofgen.workshop.workshop import Colour

# A colour for all pixels, or one a pixel.
Paint = Colour | NDArray[Any]


def cover(canvas: Floats, paint: Paint, amount: Floats) -> None:
    """Lay paint over the canvas, `amount` 0..1 a pixel."""
    box = _box(amount)
    part = canvas[box]
    colour = np.asarray(paint, np.float32)
    wanted = np.subtract(colour[box] if colour.ndim == 3 else colour, part)
    wanted *= amount[box][..., None]
    part += wanted


def multiply(canvas: Floats, colour: Colour, amount: Floats) -> None:
    """Darken as a filter of that colour would, `amount` 0..1 a pixel."""
    lost = 1 - np.asarray(colour, np.float32) / 255
    box = _box(amount)
    canvas[box] *= 1 - lost * amount[box][..., None]


def ramp(colours: tuple[Colour, ...], places: tuple[float, ...], tone: Floats) -> Floats:
    """The colour at each tone 0..1, straight between the colours at their places."""
    levels = np.linspace(0, 1, 512)
    table = np.stack(
        [np.interp(levels, places, [colour[i] for colour in colours]) for i in range(3)], axis=1
    )
    index = np.clip(np.rint(tone * 511), 0, 511).astype(np.int16)
    return table.astype(np.float32)[index]


def _box(amount: Floats) -> tuple[slice, slice]:
    """The rows and columns that have any of it, so that the rest costs nothing."""
    rows = np.flatnonzero(amount.any(axis=1))
    columns = np.flatnonzero(amount.any(axis=0))
    if not len(rows):
        return slice(0), slice(0)
    return slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)
