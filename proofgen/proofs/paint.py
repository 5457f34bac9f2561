"""Painting. A picture is a sequence of coats, and each changes every pixel by itself as a straight
line does, so what lies over some coat can be worked out before that coat is known: see `veil`.

A canvas is a float32 array (3, height, width) of sRGB 0..255. What is painted anew for each picture
is painted on an 8-bit image instead, by `brush`, which takes a fifth of the time.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.proofs.raster import Box, Floats
from proofgen.proofs.soft import Soft, amounts
from proofgen.workshop.workshop import Colour

# A colour for all pixels, or one a pixel: as floats (3, height, width) or as an 8-bit image.
Paint = Colour | NDArray[Any] | Image.Image


@dataclass(frozen=True, slots=True)
class Coat:
    """Paint over the canvas, as much a pixel as `amount` times `strength` says; a `glass` one,
    which is of one colour, darkens as a filter would.

    `at` is the row and the column of the canvas where the amount begins.
    """

    paint: Paint
    amount: Soft
    strength: float = 1.0
    glass: bool = False
    at: tuple[int, int] = (0, 0)

    def lay(self, canvas: Floats) -> None:
        """Change the canvas in place."""
        box = self.amount.getbbox()
        if box is None:
            return
        left, top, right, bottom = box
        down, along = self.at
        part = canvas[:, top + down : bottom + down, left + along : right + along]
        amount = amounts(self.amount.crop(box)) * np.float32(self.strength)
        paint = self.paint
        if isinstance(paint, Image.Image):
            colour = np.asarray(paint.crop(box), np.float32).transpose(2, 0, 1)
        elif isinstance(paint, np.ndarray):
            colour = paint[:, top:bottom, left:right]
        else:
            colour = np.asarray(paint, np.float32)[:, None, None]
        if self.glass:
            part *= 1 - (1 - colour / 255) * amount
            return
        wanted = colour - part
        wanted *= amount
        part += wanted

    def brush(self, image: Image.Image) -> None:
        """Change the RGB image in place."""
        box = self.amount.getbbox()
        if box is None:
            return
        left, top, right, bottom = box
        to = (left + self.at[1], top + self.at[0], right + self.at[1], bottom + self.at[0])
        mask = self.amount.crop(box)
        if self.strength != 1:
            mask = mask.point([round(i * self.strength) for i in range(256)])
        paint = self.paint
        if isinstance(paint, np.ndarray):
            image.paste(picture(paint[:, top:bottom, left:right]), to, mask)
        elif isinstance(paint, Image.Image):
            image.paste(paint.crop(box), to, mask)
        elif self.glass:
            tinted = image.crop(to).point([round(i * c / 255) for c in paint for i in range(256)])
            image.paste(tinted, to, mask)
        else:
            image.paste(paint, to, mask)


def lay(coats: Iterable[Coat], canvas: Floats) -> None:
    """All coats in their order."""
    for coat in coats:
        coat.lay(canvas)


def brush(coats: Iterable[Coat], image: Image.Image) -> None:
    """All coats in their order, on an RGB image."""
    for coat in coats:
        coat.brush(image)


def veil(coats: Iterable[Coat], shape: tuple[int, int]) -> tuple[Floats, Floats]:
    """What the coats do to any canvas: it is multiplied by the first and the second is added."""
    black = np.zeros((3, *shape), np.float32)
    white = np.full((3, *shape), 255, np.float32)
    for coat in coats:
        coat.lay(black)
        coat.lay(white)
    return np.asarray((white - black) / np.float32(255)), black


def picture(canvas: NDArray[Any]) -> Image.Image:
    """The canvas as an 8-bit RGB image."""
    pixels = np.clip(np.rint(canvas), 0, 255).astype(np.uint8)
    return Image.fromarray(np.ascontiguousarray(pixels.transpose(1, 2, 0)))


def ramp(colours: tuple[Colour, ...], places: tuple[float, ...], tone: Floats) -> Floats:
    """The colour at each tone 0..1, straight between the colours at their places."""
    levels = np.linspace(0, 1, 512)
    table = [np.interp(levels, places, [colour[i] for colour in colours]) for i in range(3)]
    index = np.clip(np.rint(tone * 511), 0, 511).astype(np.intp)
    return np.take(np.asarray(table, np.float32), index, axis=1)


def shaded(light: Colour, dark: Colour, tone: Soft) -> Image.Image:
    """From the first colour where the tone is nothing to the second where it is all."""
    steps = np.linspace(light, dark, 256)
    tables = np.rint(steps).astype(int).T.tolist()
    return Image.merge("RGB", [tone.point(table) for table in tables])


def tinted(colour: Colour, tone: Floats) -> Floats:
    """The colour, lighter and darker by the tone, 1 being as it is."""
    return np.asarray(colour, np.float32)[:, None, None] * tone


def around(amount: Floats, reach: int = 0) -> Box:
    """The rows and columns that have any of it, and `reach` more on all sides."""
    rows = np.flatnonzero(amount.any(axis=1))
    columns = np.flatnonzero(amount.any(axis=0))
    if not len(rows):
        return slice(0, 0), slice(0, 0)
    height, width = amount.shape
    return (
        slice(max(rows[0] - reach, 0), min(rows[-1] + 1 + reach, height)),
        slice(max(columns[0] - reach, 0), min(columns[-1] + 1 + reach, width)),
    )


def corners(box: Box) -> tuple[int, int, int, int]:
    """The same box as left, top, right and bottom."""
    rows, columns = box
    return columns.start, rows.start, columns.stop, rows.stop
