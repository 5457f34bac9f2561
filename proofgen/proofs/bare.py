"""The wall by how light it is, since all of it is of one hue: bare, and under a piece's shadow."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from PIL import Image

from proofgen.proofs.backdrop import backdrop, cast
from proofgen.proofs.caption import inks
from proofgen.proofs.paint import Coat, Numbers, corners
from proofgen.proofs.palette import LUMA, Indices, dithered, luma
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Box, Floats
from proofgen.proofs.soft import Soft, amounts, graded, most, nothing
from proofgen.proofs.still import ROWS, WALL_TONES
from proofgen.proofs.watermark import watermark

# Shadows are soft enough to be made so many times smaller.
SMALL = 4
FIRST = len(inks())  # of the wall's tones in a palette


@dataclass(frozen=True, slots=True)
class Bare:
    """A scene without a piece: its rows as indices into a palette, and packed."""

    index: Indices
    bands: tuple[Band, ...]


def bare(canvas: tuple[int, int], palette: Indices, marked: bool) -> Bare:
    """That of a palette, with or without the watermark; drawn but once."""
    return _bare(canvas, palette[FIRST : FIRST + WALL_TONES].tobytes(), marked)


@lru_cache(maxsize=32)
def _bare(canvas: tuple[int, int], tones: bytes, marked: bool) -> Bare:
    light = _marked(_light(canvas, 1).copy(), (0, 0), canvas, marked)
    index = dithered(light, np.frombuffer(tones, np.uint8).reshape(-1, 3)) + np.uint8(FIRST)
    rows = (index[row : row + ROWS] for row in range(0, len(index), ROWS))
    return Bare(index, tuple(band(each, kept=True) for each in rows))


@dataclass(frozen=True, slots=True)
class Shadow:
    """The shadow of a piece on the wall: what part of the scene it changes, how light (0..255) the
    wall is there, and its coats, SMALL times smaller than the scene.
    """

    box: Box
    light: Soft
    coats: tuple[Coat, ...]

    def tones(self, palette: Indices, canvas: tuple[int, int], marked: bool) -> Indices:
        """The part as indices into the palette."""
        corner = self.box[1].start, self.box[0].start
        light = _marked(self.light.copy(), corner, canvas, marked)
        return dithered(light, palette[FIRST : FIRST + WALL_TONES]) + np.uint8(FIRST)

    def seen(self, canvas: tuple[int, int], box: Box) -> Behind:
        """What is seen of the wall in a part of the scene."""
        rows, columns = box
        bare = _light(canvas, 1).crop(corners(box))
        light = bare.copy()
        down, along = (mine.start - its.start for mine, its in zip(self.box, box, strict=True))
        light.paste(self.light, (along, down))
        return Behind(bare, light, self.coats, (columns.start / SMALL, rows.start / SMALL))


@dataclass(frozen=True, slots=True)
class Behind:
    """A part of the wall: how light it is bare and in the shadow, and the shadow's small coats,
    in which it begins at the corner.
    """

    bare: Soft
    light: Soft
    coats: tuple[Coat, ...]
    corner: tuple[float, float]

    def colours(self, number: Numbers, rear: tuple[Coat, ...], palette: Indices) -> Floats:
        """The colours (3, n) of the pixels of those numbers, with a strand in the shadow too."""
        tones = palette[FIRST : FIRST + WALL_TONES].astype(np.float64)
        levels = np.arange(256)
        table = np.stack([np.interp(levels, tones @ LUMA, each) for each in tones.T])
        found = table.astype(np.float32)[:, np.asarray(self.light).ravel()[number]]
        for strand in rear:
            on = np.flatnonzero(np.asarray(strand.amount).ravel()[number])
            spots = table.astype(np.float32)[:, np.asarray(self.bare).ravel()[number[on]]]
            strand.touch(spots, number[on])
            for coat in self.coats:
                replace(coat, amount=self._whole(coat.amount)).touch(spots, number[on])
            found[:, on] = spots
        return found

    def _whole(self, amount: Soft) -> Soft:
        (left, top), (width, height) = self.corner, self.bare.size
        box = left, top, left + width / SMALL, top + height / SMALL
        return amount.resize((width, height), Image.Resampling.BILINEAR, box)


def shadow(
    silhouette: Soft, corner: tuple[int, int], canvas: tuple[int, int], share: float
) -> Shadow:
    """The shadow of a piece in a part of the scene, whose left and top are whole numbers of SMALL;
    it is `share` as large as in a proof picture.
    """
    height, width = canvas
    small = nothing((-(-height // SMALL), -(-width // SMALL)))
    small.paste(silhouette.reduce(SMALL), (corner[0] // SMALL, corner[1] // SMALL))
    coats = tuple(cast(small, share / SMALL))
    light = np.asarray(_light(canvas, SMALL), np.float32)
    reached = small
    for coat in coats:
        assert isinstance(coat.paint, tuple)
        dark = amounts(coat.amount) * np.float32(coat.strength)
        light = light + (np.float32(luma(coat.paint)) - light) * dark
        reached = most(reached, coat.amount)
    left, top, right, bottom = reached.getbbox() or (0, 0, 1, 1)
    part = left, top, min(right, width / SMALL), min(bottom, height / SMALL)
    size = round((part[2] - left) * SMALL), round((part[3] - top) * SMALL)
    whole = Image.fromarray(np.rint(light).astype(np.uint8))
    box = (
        slice(top * SMALL, top * SMALL + size[1]),
        slice(left * SMALL, left * SMALL + size[0]),
    )
    return Shadow(box, whole.resize(size, Image.Resampling.BILINEAR, part), coats)


def _marked(light: Soft, corner: tuple[int, int], canvas: tuple[int, int], marked: bool) -> Soft:
    """With the words of the watermark, where they lie in that part of the scene."""
    (left, top), (width, height) = corner, light.size
    for coat in _words(canvas) if marked else ():
        assert isinstance(coat.paint, tuple)
        amount = coat.amount.crop((left, top, left + width, top + height))
        light.paste(round(luma(coat.paint)), (0, 0), amount)
    return light


@lru_cache(maxsize=2)
def _words(canvas: tuple[int, int]) -> tuple[Coat, ...]:
    """The coats of the watermark on the wall, at their strength."""
    coats = watermark(nothing(canvas))
    return tuple(Coat(each.paint, graded(each.amount, each.strength, 0)) for each in coats)


@lru_cache(maxsize=4)
def _light(canvas: tuple[int, int], small: int) -> Soft:
    light: Floats = np.tensordot(LUMA, backdrop(canvas), 1)
    whole = Image.fromarray(np.rint(light).astype(np.uint8))
    return whole.reduce(small) if small > 1 else whole
