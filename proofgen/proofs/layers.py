"""A layer of wood: it casts its shadow on those behind, then shows wall and face.

The eye is a little below the piece: the charred wall of a cut shows under outer edges and at the
upper edge of openings. The light comes from the top left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from proofgen.artwork.artwork import Layer
from proofgen.proofs.engraving import clean
from proofgen.proofs.paint import Board, Coat, ramp
from proofgen.proofs.raster import patch
from proofgen.proofs.soft import Soft, blurred, graded, less, most, nothing, shifted, soft, times
from proofgen.proofs.stage import Stage

WALL = 5  # px of the wall in view
CHARRED = ramp(((104, 68, 42), (38, 25, 18)), (0, 1))  # from its top to its foot
SCORCH = (150, 98, 58)
RIM_LIT, RIM_DARK = (255, 244, 222), (58, 36, 22)
# Blur, shift right, shift down, strength of a layer's shadow on the layers behind it.
SHADOWS = ((2.5, 3, 5, 0.50), (7, 6, 10, 0.36), (18, 11, 18, 0.26))
SHADE = (52, 36, 26)


def bodies(layers: Iterable[Layer], stage: Stage) -> tuple[Soft, ...]:
    """The mask of each layer's wood in the window: inside its outline, outside its openings."""
    return tuple(_body(layer, stage) for layer in layers)


def plate(board: Board, mask: Soft, behind: Soft) -> Iterator[Coat]:
    """The bare layer of that `mask` in the wood of `board`, `behind` being all wood behind it."""
    yield from _shade(mask, behind)
    yield _wall(mask)
    yield Coat(_face(board, mask), mask)


def _body(layer: Layer, stage: Stage) -> Soft:
    outside, inside = (
        [p for m in layer.marks if m.operation == cut for p in stage.polygons(clean(m))]
        for cut in ("cut-outside", "cut-inside")
    )
    found = np.zeros(stage.shape, np.float32)
    box, wood = patch(outside, stage.shape)
    found[box] = wood
    box, hole = patch(inside, stage.shape)
    found[box] -= hole
    return soft(np.maximum(found, 0, out=found))


def _shade(mask: Soft, behind: Soft) -> Iterator[Coat]:
    """The shadow on the wood behind; the backdrop has its own."""
    if behind.getbbox() is None:
        return
    for blur, right, down, strength in SHADOWS:
        dark = times(blurred(shifted(mask, right, down), blur), behind)
        yield Coat(SHADE, dark, strength, glass=True)


def _wall(mask: Soft) -> Coat:
    width, height = mask.size
    seen, depth = nothing((height, width)), nothing((height, width))
    for step in range(WALL, 0, -1):
        slice_ = shifted(mask, 0, step)
        seen = most(seen, slice_)
        depth.paste(round(255 * (step - 1) / (WALL - 1)), (0, 0), slice_)
    return Coat(Board(CHARRED, depth), seen)


def _face(board: Board, mask: Soft) -> Board:
    """The board, scorched and lit along the edges of the mask."""
    coats = (
        Coat(SCORCH, graded(blurred(mask, 5), -1.5, 1.38), glass=True),
        Coat(RIM_LIT, less(mask, shifted(mask, 2, 2)), 0.42),
        Coat(RIM_DARK, less(mask, shifted(mask, -1, -1)), 0.55),
    )
    return replace(board, coats=coats)
