"""Masks that are made soft, moved and combined: 8-bit images, 0 for none of a pixel, 255 for all.

Eight bits are what the picture has, and a quarter of the time that floats take.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import ceil, floor

import numpy as np
from PIL import Image, ImageChops

from proofgen.proofs.blur import REACH, Bytes, gaussian, larger
from proofgen.proofs.raster import Floats

Soft = Image.Image  # of mode L

# From this deviation on, px, a blur is made at half or a quarter of the size and loses nothing.
HALF, QUARTER = 2.4, 8.0
# A part of a pixel that is not seen.
SLIGHT = 0.03


def soft(amount: Floats) -> Soft:
    """The mask of amounts 0..1 (height, width)."""
    return Image.fromarray(eight_bits(amount))


def eight_bits(amount: Floats) -> Bytes:
    """Amounts 0..1 as whole numbers 0..255."""
    found = amount * np.float32(255)
    found += np.float32(0.5)
    return found.astype(np.uint8)


def amounts(mask: Soft) -> Floats:
    """Back to 0..1 (height, width)."""
    return np.asarray(mask, np.float32) * np.float32(1 / 255)


def nothing(shape: tuple[int, int]) -> Soft:
    """An empty mask (height, width)."""
    height, width = shape
    return Image.new("L", (width, height))


def blurred(mask: Soft, radius: float) -> Soft:
    """A Gaussian blur; `radius` is the standard deviation in pixels."""
    small = 4 if radius >= QUARTER else 2 if radius >= HALF else 1
    box = mask.getbbox()
    if box is None:
        return mask
    # A blur takes time by its area, and reaches no further.
    far = (ceil(REACH * radius / small) + 1) * small
    left, top = (max(box[i] // small * small - far, 0) for i in (0, 1))
    right, bottom = (min(box[i + 2] + far, mask.size[i]) for i in (0, 1))
    part = mask.crop((left, top, right, bottom))
    if small == 1:
        found = gaussian(np.asarray(part), radius)
    else:
        found = doubled(gaussian(np.asarray(part.reduce(small)), radius / small), small)
    done = Image.fromarray(found).crop((0, 0, *part.size))
    if done.size == mask.size:
        return done
    whole = Image.new("L", mask.size)
    whole.paste(done, (left, top))
    return whole


def doubled(mask: Bytes, by: int) -> Bytes:
    """The mask at two or four times the size."""
    found = larger(mask.astype(np.uint16), by)
    scale = (2 * by) ** 2
    found += np.uint16(scale // 2)
    return (found // np.uint16(scale)).astype(np.uint8)


def shifted(mask: Soft, right: float, down: float) -> Soft:
    """The mask moved by so many pixels; nothing comes in at the borders.

    By a part of a pixel it is as much of either neighbour.
    """
    found = _between(mask, right, lambda whole: (whole, 0))
    return _between(found, down, lambda whole: (0, whole))


def _between(mask: Soft, by: float, way: Callable[[int], tuple[int, int]]) -> Soft:
    by = round(by) if abs(by - round(by)) < SLIGHT else by
    before, after = (_moved(mask, *way(whole)) for whole in (floor(by), ceil(by)))
    share = by - floor(by)
    return Image.blend(before, after, share) if share else before


def _moved(mask: Soft, right: int, down: int) -> Soft:
    width, height = mask.size
    return mask.crop((-right, -down, width - right, height - down))


def times(mask: Soft, other: Soft) -> Soft:
    """What is in both."""
    return Image.fromarray(product(np.asarray(mask), np.asarray(other)))


def product(mask: Bytes, other: Bytes) -> Bytes:
    """The same of arrays."""
    found = mask.astype(np.uint16)
    found *= other
    found += np.uint16(128)
    found += found >> np.uint16(8)
    found >>= np.uint16(8)
    return found.astype(np.uint8)


def less(mask: Soft, other: Soft) -> Soft:
    """What the first has more than the other."""
    taken = np.asarray(other)
    return Image.fromarray(np.maximum(np.asarray(mask), taken) - taken)


def most(mask: Soft, other: Soft) -> Soft:
    """What is in either."""
    return Image.fromarray(np.maximum(np.asarray(mask), np.asarray(other)))


def rest(mask: Soft) -> Soft:
    """What is not in it."""
    return ImageChops.invert(mask)


def graded(mask: Soft, slope: float, start: float) -> Soft:
    """Each amount 0..1 times the slope and then more by the start, kept within 0..1."""
    return mask.point(_grades(slope, start))


@lru_cache(maxsize=256)
def _grades(slope: float, start: float) -> tuple[int, ...]:
    return tuple(min(max(round(i * slope + 255 * start), 0), 255) for i in range(256))
