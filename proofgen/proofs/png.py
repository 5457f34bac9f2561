"""A canvas as a small PNG: 256 colours, sRGB, 300 dpi, the same bytes each time.

Soft shadings get a tone curve of their own with ordered dither, which hides the steps; everything
else gets the colours that suit it best, without.
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, PngImagePlugin

from proofgen.proofs.raster import Floats

DPI = (300.0, 300.0)  # 11811 pixels a metre
LUMA = np.array([0.299, 0.587, 0.114], np.float32)
# Bayer's 4 x 4 matrix, centred about zero.
DITHER = (np.array([[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]]) - 7.5) / 16

Indices = NDArray[np.uint8]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Shading:
    """Pixels (h, w) of one hue that only grows lighter and darker, and how many tones they get."""

    where: Mask
    colours: int


def encode(canvas: Floats, shadings: Sequence[Shading], texts: Mapping[str, str]) -> bytes:
    """PNG of the canvas (h, w, 3); the shadings do not overlap."""
    rest = np.ones(canvas.shape[:2], np.bool_)
    index = np.empty(canvas.shape[:2], np.uint8)
    palette = np.empty((0, 3), np.float32)
    for shading in shadings:
        if shading.where.any():
            tones, shades = _tones(canvas, shading)
            index[shading.where] = shades + len(palette)
            palette = np.concatenate([palette, tones])
            rest &= ~shading.where
    pixels = np.clip(np.rint(canvas[rest]), 0, 255).astype(np.uint8)
    colours, mapped = _best_colours(pixels, 256 - len(palette))
    index[rest] = mapped + len(palette)
    return _png(index, np.concatenate([palette, colours]), texts)


def _png(index: Indices, palette: Floats, texts: Mapping[str, str]) -> bytes:
    image = Image.fromarray(index)
    image.putpalette(np.rint(palette).astype(np.uint8).tobytes())
    said = PngImagePlugin.PngInfo()
    said.add(b"sRGB", b"\x00")  # perceptual
    for key, text in texts.items():
        said.add_itxt(key, text)
    out = io.BytesIO()
    image.save(out, "PNG", pnginfo=said, dpi=DPI, compress_level=6)
    return out.getvalue()


def _best_colours(rgb: Indices, count: int) -> tuple[Indices, Indices]:
    """The palette (n, 3) of pixels (m, 3), and the index of each."""
    sample = Image.fromarray(rgb[None, ::3]).quantize(count, Image.Quantize.MEDIANCUT, kmeans=1)
    flat = sample.getpalette() or []
    palette = np.array(flat[: 3 * count], np.uint8).reshape(-1, 3)
    mapped = Image.fromarray(rgb[None]).quantize(palette=sample, dither=Image.Dither.NONE)
    return palette, np.array(mapped)[0]


def _tones(canvas: Floats, shading: Shading) -> tuple[Floats, Indices]:
    """Tones (n, 3) evenly spaced in luma, and which of them each pixel gets, dithered."""
    last = shading.colours - 1
    colours = canvas[shading.where]
    luma = colours @ LUMA
    low, high = float(luma.min()), float(luma.max())
    place = (luma - low) * (last / max(high - low, 1e-3))
    near = np.rint(place).astype(np.int64)
    count = np.maximum(np.bincount(near, minlength=last + 1), 1)
    sums = [np.bincount(near, colours[:, i], last + 1) for i in range(3)]
    rows, columns = np.nonzero(shading.where)
    dithered = np.rint(place + DITHER[rows % 4, columns % 4])
    tones = (np.stack(sums, axis=1) / count[:, None]).astype(np.float32)
    return tones, np.clip(dithered, 0, last).astype(np.uint8)
