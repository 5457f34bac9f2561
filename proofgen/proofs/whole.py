"""A piece whose letters are cut: its outline is the buyer's own, so all of it is drawn anew.

It is painted on an 8-bit image, and takes its colours from a swatch of the same wood that is drawn
once.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np
from PIL import Image

from proofgen.artwork.artwork import Layer
from proofgen.designs.design import Mark
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.proofs.backdrop import backdrop, cast
from proofgen.proofs.caption import inks
from proofgen.proofs.paint import Coat, Spots
from proofgen.proofs.palette import LUMA, Indices, dithered, luma, nearest, whole
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Floats
from proofgen.proofs.ribbon import HOLE_FIELD
from proofgen.proofs.scene import Scene
from proofgen.proofs.shelf import shelved
from proofgen.proofs.soft import Soft, graded
from proofgen.proofs.stage import Stage
from proofgen.proofs.still import ROWS, WALL_TONES
from proofgen.proofs.view import layer, shadings, view
from proofgen.proofs.watermark import watermark

SWATCH = (100.0, 90.0)  # mm
EDGE, OPENING, BAR = 6.0, 14.0, 6.0  # mm, of the swatch: a layer beyond the next, slots, between


def drawn_whole(piece: Scene, place: Stage) -> tuple[Indices, tuple[Band, ...]]:
    """The colours (n, 3) and the rows of the scene, packed."""
    seen = view(piece, place)
    shadows = tuple(cast(seen.silhouette, place.share))
    marks = tuple(watermark(seen.silhouette)) if piece.watermark else ()
    palette = shelved(swatch(piece), ()).palette
    before = len(inks())
    index = dithered(
        _wall(place.canvas, (*shadows, *marks)), palette[before : before + WALL_TONES]
    ) + np.uint8(before)
    other = ~shadings(seen)[0]
    spots = Spots(other, _bare(place.canvas))
    spots.lay((*seen.rear, *shadows))
    for depth in range(len(seen.masks)):
        spots.lay(layer(seen, depth))
    spots.lay((*seen.front, *marks))
    index[other] = nearest(palette[before:])(whole(spots.canvas.T)) + np.uint8(before)
    return palette, tuple(band(index[row : row + ROWS]) for row in range(0, len(index), ROWS))


def swatch(piece: Scene) -> Scene:
    """Boards of the same wood, slotted and engraved, that hang on the same."""
    layers = tuple(
        replace(layer, marks=tuple(_marks(depth, piece.hanger.hole if piece.hanger else 0.0)))
        for depth, layer in enumerate(piece.layers)
    )
    return replace(piece, layers=tuple(map(_plain, layers)), size=SWATCH)


def _plain(layer: Layer) -> Layer:
    """Without what does not show."""
    return replace(layer, material="", rotation=(), shared=False)


def _marks(depth: int, hole: float) -> Iterator[Mark]:
    width, height = SWATCH
    near = EDGE * depth
    if hole:
        yield Mark("cut-inside", circle((width / 2, height / 4), hole / 2), HOLE_FIELD)
    slots = np.arange(near + BAR, height / 2 - OPENING / 2, OPENING / 2 + BAR)
    left, right = near + BAR, width / 2 - BAR - hole
    yield Mark("cut-inside", join(_box(left, y, right, y + OPENING / 2) for y in slots))
    lines = np.arange(height / 2 + BAR, height - near - BAR, BAR)
    yield Mark("engrave-area", join(_box(left, y, width - left, y + BAR / 3) for y in lines))
    yield Mark("cut-outside", _box(near, near, width - near, height - near))


def _box(left: float, top: float, right: float, bottom: float) -> Path:
    return polygon([(left, top), (right, top), (right, bottom), (left, bottom)])


def _wall(canvas: tuple[int, int], coats: tuple[Coat, ...]) -> Soft:
    """How light the wall is, 0..255, under coats of one colour each: it is all of one hue."""
    image = _light(canvas).copy()
    for coat in coats:
        assert isinstance(coat.paint, tuple)
        image.paste(round(luma(coat.paint)), (0, 0), graded(coat.amount, coat.strength, 0))
    return image


@lru_cache(maxsize=2)
def _light(canvas: tuple[int, int]) -> Soft:
    return Image.fromarray(np.rint(np.tensordot(LUMA, _bare(canvas), 1)).astype(np.uint8))


@lru_cache(maxsize=2)
def _bare(canvas: tuple[int, int]) -> Floats:
    return backdrop(canvas)
