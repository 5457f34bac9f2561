"""Masks made soft or moved: arrays (height, width) of 0..1."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageFilter

from proofgen.proofs.raster import Floats

WIDE = 8.0  # px


def blurred(mask: Floats, radius: float) -> Floats:
    """A Gaussian blur; `radius` is the standard deviation in pixels."""
    image = Image.fromarray((mask * np.float32(255) + np.float32(0.5)).astype(np.uint8))
    if radius < WIDE:
        soft = image.filter(ImageFilter.GaussianBlur(radius))
    else:
        # So smooth a result loses nothing by being made at a quarter of the size.
        small = image.reduce(4).filter(ImageFilter.GaussianBlur(radius / 4))
        soft = small.resize(
            image.size, Image.Resampling.BICUBIC, (0, 0, image.width / 4, image.height / 4)
        )
    return np.asarray(soft, np.float32) * np.float32(1 / 255)


def shifted(mask: Floats, right: int, down: int) -> Floats:
    """The mask moved by whole pixels; nothing comes in at the borders."""
    height, width = mask.shape
    moved = np.zeros_like(mask)
    moved[max(down, 0) : height + min(down, 0), max(right, 0) : width + min(right, 0)] = mask[
        max(-down, 0) : height - max(down, 0), max(-right, 0) : width - max(right, 0)
    ]
    return moved
