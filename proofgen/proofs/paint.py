"""Painting. A picture is a sequence of coats, and each changes every pixel by itself as a straight
line does, so what lies over some coat can be worked out before that coat is known: see `veil`.

A canvas is a float32 array of sRGB 0..255: (3, height, width), or (3, n) for some pixels only.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from proofgen.proofs.raster import Box, Floats
from proofgen.proofs.soft import Soft, amounts, around
from proofgen.workshop.workshop import Colour

Numbers = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Board:
    """Paint that differs from pixel to pixel: the colours (256, 3) of a tone, and coats on them."""

    table: Floats
    tone: Soft
    coats: tuple[Coat, ...] = ()

    def canvas(self) -> Floats:
        """All of it (3, height, width)."""
        found = self._of(self.tone)
        lay(self.coats, found)
        return found

    def at(self, local: Numbers) -> Floats:
        """Its pixels of those numbers (3, n)."""
        found = self._of(self.tone.ravel().take(local))
        for coat in self.coats:
            coat.touch(found, local)
        return found

    def _of(self, tone: Soft) -> Floats:
        # numpy takes rows of colours from a table that lies so several times as fast.
        return np.ascontiguousarray(self.table.T).take(tone, axis=1)


# A colour for all pixels, or one a pixel, as floats (3, height, width) or a board.
Paint = Colour | NDArray[Any] | Board


@dataclass(frozen=True, slots=True)
class Coat:
    """Paint over the canvas, as much a pixel as `amount` times `strength` says; a `glass` one
    darkens as a filter would.

    `at` is the row and the column of the canvas where the amount begins.
    """

    paint: Paint
    amount: Soft
    strength: float = 1.0
    glass: bool = False
    at: tuple[int, int] = (0, 0)

    def lay(self, canvas: Floats) -> None:
        """Change a canvas (3, height, width) in place."""
        for box, colour, amount in self._part():
            self._mix(canvas[:, *box], colour, amount)

    def veil(self, factor: Floats, added: Floats) -> None:
        """Change what canvases (3, height, width) are multiplied by, and what is added then."""
        for box, colour, amount in self._part():
            self._mix(added[:, *box], colour, amount)
            factor[:, *box] *= 1 - (1 - colour / 255) * amount if self.glass else 1 - amount

    def _part(self) -> Iterator[tuple[Box, Floats, Floats]]:
        """Where on a canvas it is, its colour there, and how much of it; nothing if nowhere."""
        box = around(self.amount)
        if box is None:
            return
        paint = self.paint.canvas() if isinstance(self.paint, Board) else self.paint
        if isinstance(paint, np.ndarray):
            colour = paint[:, *box]
        else:
            colour = np.asarray(paint, np.float32)[:, None, None]
        rows, columns = (
            slice(way.start + by, way.stop + by) for way, by in zip(box, self.at, strict=True)
        )
        yield (rows, columns), colour, amounts(self.amount[box]) * np.float32(self.strength)

    def touch(self, canvas: Floats, local: Numbers) -> None:
        """Change a canvas (3, n) in place, whose pixels have these numbers in the amount."""
        amount = self.amount.ravel().take(local)
        hit = np.flatnonzero(amount > 0)
        if not len(hit):
            return
        # Taking pixels out and putting them back costs as much as changing twice as many.
        few = 2 * len(hit) < len(amount)
        part = canvas.take(hit, axis=1) if few else canvas
        if few:
            local, amount = local[hit], amount[hit]
        if isinstance(self.paint, Board):
            colour = self.paint.at(local)
        elif isinstance(self.paint, np.ndarray):
            colour = self.paint.reshape(3, -1).take(local, axis=1)
        else:
            colour = np.asarray(self.paint, np.float32)[:, None]
        self._mix(part, colour, amount * np.float32(self.strength / 255))
        if few:
            put(canvas, hit, part)

    def _mix(self, part: Floats, colour: Floats, amount: Floats) -> None:
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


@dataclass(frozen=True, slots=True)
class Spots:
    """Some pixels of a part of the canvas: their numbers (n,), ascending, and colours (3, n)."""

    number: Numbers
    canvas: Floats

    def lay(self, coats: Iterable[Coat]) -> None:
        """All coats in their order, each as large as that part."""
        for coat in coats:
            coat.touch(self.canvas, self.number)

    def mix(self, at: Numbers, colours: Floats, amount: Floats) -> None:
        """Lay the colours (3, m) on those of the pixels, as much as the amount (m,), 0..1, says."""
        part = self.canvas.take(at, axis=1)
        part += (colours - part) * amount
        put(self.canvas, at, part)

    def lay_at(self, number: Numbers, local: Numbers, coats: Iterable[Coat]) -> None:
        """Lay coats on the pixels of these numbers (m,), as far as they are known, which have the
        `local` numbers in the amounts.
        """
        if not len(self.number) or not len(number):
            return
        at = np.minimum(np.searchsorted(self.number, number), len(self.number) - 1)
        known = np.flatnonzero(self.number.take(at) == number)
        at, local = at.take(known), local.take(known)
        part = self.canvas.take(at, axis=1)
        for coat in coats:
            coat.touch(part, local)
        put(self.canvas, at, part)


def put(canvas: Floats, at: Numbers, part: Floats) -> None:
    """Change pixels of a canvas (3, n); numpy's own way takes twice as long."""
    for plane, changed in zip(canvas, part, strict=True):
        plane[at] = changed


def veil(coats: Iterable[Coat], shape: tuple[int, int]) -> tuple[Floats, Floats]:
    """What the coats do to any canvas: it is multiplied by the first and the second is added."""
    factor, added = np.ones((3, *shape), np.float32), np.zeros((3, *shape), np.float32)
    for coat in coats:
        coat.veil(factor, added)
    return factor, added


@lru_cache(maxsize=64)
def ramp(colours: tuple[Colour, ...], places: tuple[float, ...]) -> Floats:
    """The colour (256, 3) at each tone, straight between the colours at their places 0..1."""
    levels = np.linspace(0, 1, 256)
    table = [np.interp(levels, places, [colour[i] for colour in colours]) for i in range(3)]
    found = np.asarray(table, np.float32).T
    found.flags.writeable = False
    return found


def tinted(colour: Colour, tone: Floats) -> Floats:
    """The colour, lighter and darker by the tone, 1 being as it is."""
    return np.asarray(colour, np.float32)[:, None, None] * tone
