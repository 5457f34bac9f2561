"""The 256 colours of a picture.

Soft shadings get a tone curve of their own with ordered dither, which hides the steps; everything
else gets the colours that suit it best, without.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.proofs.raster import Floats
from proofgen.workshop.workshop import Colour

LUMA = np.array([0.299, 0.587, 0.114], np.float32)  # ITU-R BT.601
BAYER = np.array([[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]])
DITHER = (BAYER - 7.5) / 16
SAMPLE = 7  # every so manieth pixel is enough to choose tones by
ENOUGH = 60_000  # pixels to choose colours by

Indices = NDArray[np.uint8]
Mask = NDArray[np.bool_]


def tones(canvas: Floats, where: Mask, count: int) -> tuple[Indices, Indices]:
    """Colours (count, 3) evenly spaced in luma, and which of them each pixel gets, dithered.

    The pixels `where` (h, w) are of one hue that only grows lighter and darker.
    """
    last = count - 1
    luma = (LUMA @ canvas.reshape(3, -1)).reshape(where.shape)[where]
    low, high = float(luma.min()), float(luma.max())
    place = (luma - low) * (last / max(high - low, 1e-3))
    near = np.rint(place[::SAMPLE]).astype(np.int64)
    found = np.bincount(near, minlength=count)
    met = np.flatnonzero(found)
    means = [np.bincount(near, plane[where][::SAMPLE], count)[met] / found[met] for plane in canvas]
    # A tone that no sampled pixel has lies between its neighbours.
    table = whole(np.stack([np.interp(np.arange(count), met, m) for m in means], axis=1))
    height, width = where.shape
    threshold = np.tile(DITHER, (height // 4 + 1, width // 4 + 1))[:height, :width]
    return table, np.clip(np.rint(place + threshold[where]), 0, last).astype(np.uint8)


def best_colours(pixels: Indices, count: int) -> Indices:
    """At most `count` colours (n, 3) for pixels (m, 3)."""
    every = max(len(pixels) // ENOUGH, 1) | 1  # odd, so that no pattern of columns falls into step
    sample = Image.fromarray(pixels[None, ::every])
    found = sample.quantize(count, Image.Quantize.MEDIANCUT, kmeans=1)
    return np.array((found.getpalette() or [])[: 3 * count], np.uint8).reshape(-1, 3)


def luma(colour: Colour | Indices) -> float:
    """How light a colour looks, 0..255."""
    return float(LUMA @ np.asarray(colour, np.float32))


class Nearest:
    """The nearest of some colours (n, 3) to any other, told by six bits of each channel."""

    def __init__(self, colours: Indices) -> None:
        palette = Image.new("P", (1, 1))
        # Pillow fills a short palette with black, which must not be chosen.
        full = np.concatenate([colours, np.repeat(colours[-1:], 256 - len(colours), axis=0)])
        palette.putpalette(full.tobytes())
        cells = np.arange(2**18, dtype=np.uint32)
        every = np.stack([(cells >> shift & 63) * 4 + 2 for shift in (0, 6, 12)], axis=1)
        drawn = Image.fromarray(every.astype(np.uint8).reshape(512, 512, 3))
        mapped = drawn.quantize(palette=palette, dither=Image.Dither.NONE)
        self._table = np.asarray(mapped, np.uint8).ravel()

    def __call__(self, pixels: Indices) -> Indices:
        """Which colour each pixel (m, 3) gets."""
        red, green, blue = (pixels.T >> 2).astype(np.intp)
        return np.asarray(self._table.take(red | green << 6 | blue << 12))


def nearest(colours: Indices) -> Nearest:
    """The same of colours that many pictures share, made once."""
    return _nearest(colours.tobytes())


@lru_cache(maxsize=32)
def _nearest(colours: bytes) -> Nearest:
    return Nearest(np.frombuffer(colours, np.uint8).reshape(-1, 3))


def whole(values: NDArray[np.floating]) -> Indices:
    """Rounded to 0..255."""
    found = np.rint(values)
    return np.asarray(np.clip(found, 0, 255, out=found), np.uint8)
