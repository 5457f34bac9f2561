"""Masks that are made soft, moved and combined: bytes (h, w), 0 for none of a pixel, 255 for all.

Eight bits are what the picture has, and a quarter of the time that floats take.
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil, copysign, log2

import numpy as np
from PIL import Image

from proofgen.proofs.blur import REACH, Bytes, gaussian, larger
from proofgen.proofs.raster import Box, Floats

Soft = Bytes

WHOLE = 255  # all of a pixel
# From this deviation on, px, a blur is made at half or a quarter of the size and loses nothing.
HALF, QUARTER = 2.4, 4.0


def soft(amount: Floats) -> Soft:
    """The mask of amounts 0..1 (height, width)."""
    found = amount * np.float32(255)
    found += np.float32(0.5)
    return found.astype(np.uint8)


def amounts(mask: Soft) -> Floats:
    """Back to 0..1 (height, width)."""
    return mask.astype(np.float32) * np.float32(1 / 255)


def nothing(shape: tuple[int, int]) -> Soft:
    """An empty mask (height, width)."""
    return np.zeros(shape, np.uint8)


def around(mask: Soft, reach: int = 0) -> Box | None:
    """The rows and columns that have any of it, and `reach` more on all sides; None for nothing."""
    rows = np.flatnonzero(mask.max(axis=1, initial=0))
    if not len(rows):
        return None
    columns = np.flatnonzero(mask.max(axis=0))
    height, width = mask.shape
    return (
        slice(max(int(rows[0]) - reach, 0), min(int(rows[-1]) + 1 + reach, height)),
        slice(max(int(columns[0]) - reach, 0), min(int(columns[-1]) + 1 + reach, width)),
    )


def window(mask: Soft, corner: tuple[int, int], shape: tuple[int, int]) -> Soft:
    """The part (height, width) of a mask from that (row, column) on, empty where it goes beyond."""
    found = nothing(shape)
    ways = tuple(
        (max(start, 0), min(start + wide, size))
        for start, wide, size in zip(corner, shape, mask.shape, strict=True)
    )
    into = tuple(
        slice(a - start, max(b, a) - start) for (a, b), start in zip(ways, corner, strict=True)
    )
    found[into] = mask[tuple(slice(a, max(b, a)) for a, b in ways)]
    return found


def blurred(mask: Soft, radius: float) -> Soft:
    """A Gaussian blur; `radius` is the standard deviation in pixels."""
    small = 4 if radius >= QUARTER else 2 if radius >= HALF else 1
    box = around(mask)
    if box is None:
        return mask
    # A blur takes time by its area, and reaches no further.
    far = (ceil(REACH * radius / small) + 1) * small
    part = tuple(
        slice(max(way.start // small * small - far, 0), min(way.stop + far, size))
        for way, size in zip(box, mask.shape, strict=True)
    )
    found = np.zeros_like(mask)
    taken = mask[part]
    if small == 1:
        found[part] = gaussian(taken, radius)
    else:
        made = doubled(gaussian(reduced(taken, small), radius / small), small)
        found[part] = made[: taken.shape[0], : taken.shape[1]]
    return found


def reduced(mask: Soft, by: int) -> Soft:
    """The mask so many times smaller, each pixel the mean of those it stands for."""
    return np.asarray(Image.fromarray(mask).reduce(by))


def doubled(mask: Soft, by: int) -> Soft:
    """The mask at two or four times the size."""
    found = larger(mask.astype(np.uint16), by)
    scale = (2 * by) ** 2
    found += np.uint16(scale // 2)
    found >>= np.uint16(log2(scale))
    return found.astype(np.uint8)


def shifted(mask: Soft, right: float, down: float) -> Soft:
    """The mask moved to the nearest whole pixels; nothing comes in at the borders."""
    found = np.zeros_like(mask)
    ways = [_way(by, size) for by, size in zip((down, right), mask.shape, strict=True)]
    found[tuple(into for into, _ in ways)] = mask[tuple(out for _, out in ways)]
    return found


def _way(by: float, size: int) -> tuple[slice, slice]:
    """Where what is moved goes along an axis, and where it comes from."""
    whole = min(max(round(by), -size), size)
    ahead, back = max(whole, 0), max(-whole, 0)
    return slice(ahead, size - back), slice(back, size - ahead)


def rim(mask: Soft, wide: float) -> Soft:
    """What of the mask is bared by moving it so many pixels right and down, left and up where they
    are less than 0; a pixel at the least.
    """
    return less(mask, _beside(mask, wide))


def fringe(mask: Soft, wide: float) -> Soft:
    """The same of what is covered by moving it."""
    return less(_beside(mask, wide), mask)


def faint(wide: float) -> float:
    """How strong a rim so many pixels wide is, which is drawn a pixel wide at the least."""
    return min(abs(wide), 1.0)


def _beside(mask: Soft, wide: float) -> Soft:
    by = copysign(max(abs(wide), 1.0), wide)
    return shifted(mask, by, by)


def times(mask: Soft, other: Soft) -> Soft:
    """What is in both."""
    found = mask.astype(np.uint16)
    found *= other
    # As good as a division by 255, and exact at either end.
    found += np.uint16(255)
    found >>= np.uint16(8)
    return found.astype(np.uint8)


def less(mask: Soft, other: Soft) -> Soft:
    """What the first has more than the other."""
    return most(mask, other) - other


def most(mask: Soft, other: Soft) -> Soft:
    """What is in either."""
    return np.maximum(mask, other)


def rest(mask: Soft) -> Soft:
    """What is not in it."""
    return 255 - mask


def graded(mask: Soft, slope: float, start: float) -> Soft:
    """Each amount 0..1 times the slope and then more by the start, kept within 0..1."""
    # Bytes translate several times as fast as numpy looks them up.
    found = mask.tobytes().translate(_grades(slope, start))
    return np.frombuffer(found, np.uint8).reshape(mask.shape)


@lru_cache(maxsize=256)
def _grades(slope: float, start: float) -> bytes:
    return bytes(min(max(round(i * slope + 255 * start), 0), 255) for i in range(256))
