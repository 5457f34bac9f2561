"""The wall by how light it is, since all of it is of one hue: bare, and under a piece's shadow.

How light is told in levels of which TONE make one tone of the palette. A shadow is so soft that it
is made SMALL times smaller.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.proofs.backdrop import backdrop, cast
from proofgen.proofs.blur import larger
from proofgen.proofs.caption import inks
from proofgen.proofs.paint import Coat, Numbers
from proofgen.proofs.palette import BAYER, LUMA, Indices, luma
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Box, Floats
from proofgen.proofs.soft import Soft, amounts, around, most, nothing, reduced
from proofgen.proofs.still import ROWS, WALL_TONES
from proofgen.proofs.watermark import watermark

Levels = NDArray[np.uint16]
# 64 times as many as at the small size: enlarging counts eighths each way.
TONE = 16 * 64
SMALL = 4
THRESHOLDS = (BAYER * (TONE // 16)).astype(np.uint16)
FIRST = len(inks())  # of the wall's tones in a palette


@dataclass(frozen=True, slots=True)
class Wall:
    """The wall of a scene (height, width) in the tones of a palette, packed colours evenly spaced
    in luma, with or without the watermark.
    """

    canvas: tuple[int, int]
    tones: bytes
    marked: bool

    def levels(self, light: Floats, rows: slice) -> Levels:
        """How light those rows are, where the whole of it is as light, 0..255, at the small size;
        they begin at a whole number of SMALL.
        """
        low, scale, most = self._scale()
        # A row more at either end, since a part does not end as a wall does.
        first, last = rows.start // SMALL - 1, -(-rows.stop // SMALL) + 1
        part = light[np.clip(np.arange(first, last), 0, len(light) - 1)]
        level = np.rint(np.clip((part - low) * scale, 0, most) / 64).astype(np.uint16)
        found = larger(level, SMALL)[SMALL : SMALL + rows.stop - rows.start, : self.canvas[1]]
        return np.ascontiguousarray(found)

    def indices(self, levels: Levels, top: int) -> Indices:
        """The tones of these rows from `top` on, with the watermark, dithered."""
        found = levels.copy()
        if self.marked:
            self._mark(found.ravel(), top)
        wide = found.shape[1]
        for row, pattern in enumerate(np.tile(THRESHOLDS, -(-wide // SMALL))[:, :wide]):
            found[row::SMALL] += pattern
        found //= np.uint16(TONE)
        tones = found.astype(np.uint8)
        tones += np.uint8(FIRST)
        return tones

    def colours(self, levels: Levels) -> Floats:
        """The colours (3, n) of levels (n,), not dithered."""
        return _between(self.tones).take(levels, axis=1)

    def _mark(self, levels: Levels, top: int) -> None:
        """Lay the words on the levels (n,) of whole rows."""
        low, scale, most = self._scale()
        number, factor, added = _words(self.canvas)
        start = top * self.canvas[1]
        own = slice(*np.searchsorted(number, (start, start + len(levels))))
        at, by = number[own] - start, factor[own]
        marked = levels[at] * by + (added[own] - low * (1 - by)) * scale
        levels[at] = np.clip(marked, 0, most)

    def _colours(self) -> Indices:
        return np.frombuffer(self.tones, np.uint8).reshape(-1, 3)

    def _scale(self) -> tuple[float, float, int]:
        """The luma of level 0, levels a step of luma, and the greatest level."""
        table = self._colours()
        low, high = luma(table[0]), luma(table[-1])
        most = (len(table) - 1) * TONE
        return low, most / max(high - low, 1e-3), most


def wall(canvas: tuple[int, int], palette: Indices, marked: bool) -> Wall:
    """The wall in the colours of a palette."""
    return Wall(canvas, palette[FIRST : FIRST + WALL_TONES].tobytes(), marked)


@lru_cache(maxsize=32)
def _between(tones: bytes) -> Floats:
    """The colour (3, levels) of each level of packed tones."""
    table = np.frombuffer(tones, np.uint8).reshape(-1, 3).astype(np.float32)
    last = len(table) - 1
    place = np.arange(last * TONE + 1, dtype=np.float32) / TONE
    return np.stack([np.interp(place, np.arange(last + 1), each) for each in table.T])


@dataclass(frozen=True, slots=True)
class Bare:
    """A wall without a piece: its rows as indices into a palette, and packed."""

    index: Indices
    bands: tuple[Band, ...]


@lru_cache(maxsize=32)
def bare(on: Wall) -> Bare:
    """The wall with nothing before it, drawn but once."""
    index = on.indices(on.levels(_light(on.canvas), slice(0, on.canvas[0])), 0)
    rows = (index[row : row + ROWS] for row in range(0, len(index), ROWS))
    return Bare(index, tuple(band(each, kept=True) for each in rows))


@dataclass(frozen=True, slots=True)
class Shadow:
    """The shadow of a piece on the wall: the rows that it changes, their levels without the
    watermark, and its coats at the small size.
    """

    wall: Wall
    rows: slice
    levels: Levels
    coats: tuple[Coat, ...]

    def indices(self) -> Indices:
        """Its rows."""
        return self.wall.indices(self.levels, self.rows.start)

    def colours(self, box: Box, number: Numbers, rear: tuple[Coat, ...]) -> Floats:
        """The colours (3, n) of the wall in pixels of those numbers of a part of the scene; those
        of a strand behind the piece, which the shadow falls on too, where there is one.
        """
        found = self.wall.colours(self._levels(box).ravel()[number])
        for strand in rear:
            on = np.flatnonzero(strand.amount.ravel()[number])
            unlit = self.wall.levels(_light(self.wall.canvas), box[0])[:, box[1]]
            spots = self.wall.colours(unlit.ravel()[number[on]])
            strand.touch(spots, number[on])
            for coat in self.coats:
                replace(coat, amount=_whole(coat.amount, box)).touch(spots, number[on])
            found[:, on] = spots
        return found

    def _levels(self, box: Box) -> Levels:
        """The levels of a part of the scene."""
        rows, columns = box
        inner = slice(max(rows.start, self.rows.start), min(rows.stop, self.rows.stop))
        if inner == rows:
            own = slice(rows.start - self.rows.start, rows.stop - self.rows.start)
            return self.levels[own, columns]
        found = self.wall.levels(_light(self.wall.canvas), rows)
        part = self.levels[inner.start - self.rows.start : inner.stop - self.rows.start]
        found[inner.start - rows.start : inner.stop - rows.start] = part
        return found[:, columns]


def shadow(on: Wall, silhouette: Soft, corner: tuple[int, int], share: float) -> Shadow:
    """The shadow of a piece in a part of the scene, whose left and top are whole numbers of SMALL;
    it is `share` as large as in a proof picture.
    """
    height, width = on.canvas
    small = nothing((-(-height // SMALL), -(-width // SMALL)))
    part = reduced(silhouette, SMALL)
    left, top = (way // SMALL for way in corner)
    small[top : top + part.shape[0], left : left + part.shape[1]] = part
    coats = tuple(cast(small, share / SMALL))
    light = _light(on.canvas)
    reached = small
    for coat in coats:
        assert isinstance(coat.paint, tuple)
        dark = amounts(coat.amount) * np.float32(coat.strength)
        light = light + (np.float32(luma(coat.paint)) - light) * dark
        reached = most(reached, coat.amount)
    touched, _ = around(reached, 1) or (slice(0, 1), slice(0, 1))
    rows = slice(touched.start * SMALL, min(touched.stop * SMALL, height))
    return Shadow(on, rows, on.levels(light, rows), coats)


def _whole(amount: Soft, box: Box) -> Soft:
    """A part of a small mask at the size of the scene."""
    rows, columns = box
    size = columns.stop - columns.start, rows.stop - rows.start
    part = (columns.start, rows.start, columns.stop, rows.stop)
    box_of = tuple(way / SMALL for way in part)
    return np.asarray(Image.fromarray(amount).resize(size, Image.Resampling.BILINEAR, box_of))


@lru_cache(maxsize=2)
def _words(canvas: tuple[int, int]) -> tuple[Numbers, Floats, Floats]:
    """The pixels (n,) that the watermark's words touch where there is only wall: its luma is
    multiplied by the second and the third is added.
    """
    factor, added = np.ones(canvas, np.float32), np.zeros(canvas, np.float32)
    for coat in watermark(nothing(canvas)):
        assert isinstance(coat.paint, tuple)
        amount = amounts(coat.amount) * np.float32(coat.strength)
        factor *= 1 - amount
        added += (np.float32(luma(coat.paint)) - added) * amount
    number = np.flatnonzero(factor < 1)
    return number, factor.ravel()[number], added.ravel()[number]


@lru_cache(maxsize=2)
def _light(canvas: tuple[int, int]) -> Floats:
    """How light the bare wall is, 0..255, at the small size."""
    light = np.tensordot(LUMA, backdrop(canvas), 1)
    high, wide = (-way % SMALL for way in canvas)
    whole = np.pad(light, ((0, high), (0, wide)), "edge")
    parts = whole.reshape(whole.shape[0] // SMALL, SMALL, -1, SMALL)
    return np.asarray(parts.mean(axis=(1, 3)), np.float32)
