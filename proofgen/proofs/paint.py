"""Painting on a canvas: a float32 array (3, height, width) of sRGB 0..255.

A picture is a sequence of coats. Each changes every pixel by itself, as a straight line does, so
what lies over some coat can be worked out before that coat is known: see `veil`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from proofgen.proofs.raster import Box, Floats
from proofgen.workshop.workshop import Colour

# A colour for all pixels, or one a pixel.
Paint = Colour | NDArray[Any]


@dataclass(frozen=True, slots=True)
class Coat:
    """Paint over the canvas, `amount` 0..1 a pixel; a `glass` one darkens as a filter would.

    `at` is the row and the column of the canvas where the amount begins.
    """

    paint: Paint
    amount: Floats
    glass: bool = False
    at: tuple[int, int] = (0, 0)

    def lay(self, canvas: Floats) -> None:
        """Change the canvas in place."""
        box = around(self.amount)
        part, amount = canvas[:, *_moved(box, self.at)], self.amount[box]
        paint = np.asarray(self.paint, np.float32)
        colour = paint[:, *box] if paint.ndim == 3 else paint[:, None, None]
        if self.glass:
            part *= 1 - (1 - colour / 255) * amount
            return
        wanted = colour - part
        wanted *= amount
        part += wanted


def lay(coats: Iterable[Coat], canvas: Floats) -> None:
    """All coats in their order."""
    for coat in coats:
        coat.lay(canvas)


def veil(coats: Iterable[Coat], shape: tuple[int, int]) -> tuple[Floats, Floats]:
    """What the coats do to any canvas: it is multiplied by the first and the second is added."""
    black = np.zeros((3, *shape), np.float32)
    white = np.full((3, *shape), 255, np.float32)
    for coat in coats:
        coat.lay(black)
        coat.lay(white)
    return np.asarray((white - black) / np.float32(255)), black


def ramp(colours: tuple[Colour, ...], places: tuple[float, ...], tone: Floats) -> Floats:
    """The colour at each tone 0..1, straight between the colours at their places."""
    levels = np.linspace(0, 1, 512)
    table = [np.interp(levels, places, [colour[i] for colour in colours]) for i in range(3)]
    index = np.clip(np.rint(tone * 511), 0, 511).astype(np.intp)
    return np.take(np.asarray(table, np.float32), index, axis=1)


def tinted(colour: Colour, tone: Floats) -> Floats:
    """The colour, lighter and darker by the tone, 1 being as it is."""
    return np.asarray(colour, np.float32)[:, None, None] * tone


def around(amount: Floats, reach: int = 0) -> Box:
    """The rows and columns that have any of it, and `reach` more on all sides."""
    rows = np.flatnonzero(amount.any(axis=1))
    columns = np.flatnonzero(amount.any(axis=0))
    if not len(rows):
        return slice(0, 0), slice(0, 0)
    return (
        slice(max(rows[0] - reach, 0), rows[-1] + 1 + reach),
        slice(max(columns[0] - reach, 0), columns[-1] + 1 + reach),
    )


def _moved(box: Box, at: tuple[int, int]) -> Box:
    rows, columns = box
    return (
        slice(rows.start + at[0], rows.stop + at[0]),
        slice(columns.start + at[1], columns.stop + at[1]),
    )
