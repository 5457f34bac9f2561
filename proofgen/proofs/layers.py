"""A layer of wood: it casts its shadow on those behind, then shows wall and face.

The eye is a little below the piece: the charred wall of a cut shows under outer edges and at the
upper edge of openings. The light comes from the top left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import reduce
from math import ceil, sqrt

import numpy as np
from numpy.typing import NDArray

from proofgen.artwork.artwork import Layer
from proofgen.proofs.engraving import clean
from proofgen.proofs.paint import Board, Coat, Numbers, ramp
from proofgen.proofs.raster import Floats, patch
from proofgen.proofs.soft import (
    WHOLE,
    Soft,
    around,
    blurred,
    doubled,
    faint,
    graded,
    less,
    nothing,
    reduced,
    rest,
    rim,
    shifted,
    times,
)
from proofgen.proofs.stage import MARGIN, Stage

EYE = 0.2  # of the thickness: as much of a wall as is in view, the eye being below the piece
CHARRED = ramp(((104, 68, 42), (38, 25, 18)), (0, 1))  # from its top to its foot
SCORCH = (150, 98, 58)
RIM_LIT, RIM_DARK = (255, 244, 222), (58, 36, 22)
# Blur, shift right, shift down as shares of its thickness, and strength, of a layer's shadow on the
# layers behind it.
SHADOWS = ((0.10, 0.12, 0.20, 0.50), (0.28, 0.24, 0.40, 0.36), (0.70, 0.44, 0.70, 0.26))
COARSE = 10.0  # px; shadows of a layer so thick lose nothing at half the size
DOUBLED = 0.2  # px² of the small size
SCORCHED, LIT, DARK = 0.6, 0.22, 0.11  # mm along the edge of a face
SHADE = (52, 36, 26)
DARKEST = 1 - min(SHADE) / 255
# Their colour as one coat: as dark as all of them where each is at its strongest.
DEEP_SHADE = (19, 7, 0)


def bodies(layers: Iterable[Layer], stage: Stage) -> tuple[Soft, ...]:
    """The mask of each layer's wood in the window: inside its outline, outside its openings."""
    return tuple(_body(layer, stage) for layer in layers)


def plate(board: Board, mask: Soft, behind: Soft, deep: float, scale: float) -> Iterator[Coat]:
    """The bare layer of that `mask` in the wood of `board`, `behind` being all wood behind it.

    It is `deep` pixels thick, at `scale` pixels a millimetre.
    """
    yield from _shade(mask, behind, deep)
    yield wall(mask, deep)
    yield Coat(face(board, mask, scale), mask)


def in_view(deep: float) -> float:
    """How many pixels of the wall of a layer are seen that is so many thick."""
    return min(EYE * deep, MARGIN - 2.0)


def _body(layer: Layer, stage: Stage) -> Soft:
    outside, inside = (
        [p for m in layer.marks if m.operation == cut for p in stage.polygons(clean(m))]
        for cut in ("cut-outside", "cut-inside")
    )
    found = nothing(stage.shape)
    box, wood = patch(outside, stage.shape)
    found[box] = wood
    box, hole = patch(inside, stage.shape)
    found[box] = less(found[box], hole)
    return found


def _shade(mask: Soft, behind: Soft, deep: float) -> Iterator[Coat]:
    """The shadow on the wood behind; the backdrop has its own."""
    if around(behind) is None:
        return
    for blur, right, down, strength in SHADOWS:
        moved = shifted(mask, right * deep, down * deep)
        dark = times(blurred(moved, blur * deep), behind)
        yield Coat(SHADE, dark, strength, glass=True)


def shade(mask: Soft, behind: Soft, deep: float) -> Coat:
    """All of its shadows on the wood behind as one coat, hardly another and quicker made."""
    small = 2 if deep >= COARSE else 1
    part = reduced(mask, small) if small > 1 else mask
    # As much as halving and doubling the size blurs by themselves.
    already = DOUBLED if small > 1 else 0.0
    dark = rest(reduce(times, _light(part, deep / small, already)))
    whole = doubled(dark, small) if small > 1 else dark
    high, wide = mask.shape
    return Coat(DEEP_SHADE, times(whole[:high, :wide], behind), glass=True)


def _light(mask: Soft, deep: float, already: float) -> Iterator[Soft]:
    """What each shadow lets through; the mask will be blurred by so many px² besides."""
    for blur, right, down, strength in SHADOWS:
        left = sqrt(max((blur * deep) ** 2 - already, 0.0))
        moved = blurred(shifted(mask, right * deep, down * deep), left)
        yield graded(moved, -strength * DARKEST, 1)


def wall(mask: Soft, deep: float) -> Coat:
    """What is seen of the cuts of a layer so many pixels thick."""
    number = np.flatnonzero(footing(mask, deep))
    seen, depth = nothing(mask.shape), nothing(mask.shape)
    for whole, part in zip((seen, depth), wall_at(mask, deep, number), strict=True):
        whole.ravel()[number] = np.rint(part)
    return Coat(Board(CHARRED, depth), seen)


def wall_at(mask: Soft, deep: float, number: Numbers) -> tuple[Floats, Floats]:
    """The same in pixels of those numbers (n,): how much is seen of it, and how far down it that
    is, 0 to 255.
    """
    high = in_view(deep)
    pixels, wide = mask.ravel(), mask.shape[1]
    seen, depth = np.zeros(len(number), np.float32), np.zeros(len(number), np.float32)
    for step in range(ceil(high), 0, -1):
        slice_ = _above(pixels, number, min(step, high), wide)
        np.maximum(seen, slice_, out=seen)
        level = min(round(255 * (step - 1) / max(high - 1, 1.0)), 255)
        depth += (np.float32(level) - depth) * (slice_ / np.float32(255))
    return seen, depth


def footing(mask: Soft, deep: float) -> Soft:
    """Where any of that wall is seen (height, width), 0 elsewhere: the whole face hides it."""
    found = np.zeros_like(mask)
    for step in range(1, ceil(in_view(deep)) + 1):
        np.maximum(found[step:], mask[:-step], out=found[step:])
    np.copyto(found, 0, where=mask == WHOLE)
    return found


def _above(pixels: NDArray[np.uint8], number: Numbers, by: float, wide: int) -> Floats:
    """The pixels so many rows above those of the numbers, nothing above the first row."""
    whole, share = int(by), np.float32(by - int(by))
    found = _taken(pixels, number - whole * wide)
    if share:
        found += (_taken(pixels, number - (whole + 1) * wide) - found) * share
    return found


def _taken(pixels: NDArray[np.uint8], number: Numbers) -> Floats:
    return np.where(number < 0, np.float32(0), pixels.take(number, mode="clip"))


def face(board: Board, mask: Soft, scale: float) -> Board:
    """The board, scorched and lit along the edges of the mask."""
    coats = (
        Coat(SCORCH, graded(blurred(mask, SCORCHED * scale), -1.5, 1.38), glass=True),
        Coat(RIM_LIT, rim(mask, LIT * scale), 0.42 * faint(LIT * scale)),
        Coat(RIM_DARK, rim(mask, -DARK * scale), 0.55 * faint(DARK * scale)),
    )
    return replace(board, coats=coats)
