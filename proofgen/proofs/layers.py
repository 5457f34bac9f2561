"""A layer of wood: it casts its shadow on those behind, then shows wall and face.

The eye is a little below the piece: the charred wall of a cut shows under outer edges and at the
upper edge of openings. The light comes from the top left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from proofgen.artwork.artwork import Layer
from proofgen.geometry.path import join
from proofgen.proofs.paint import Coat, lay, ramp
from proofgen.proofs.raster import Floats, coverage
from proofgen.proofs.soft import blurred, shifted
from proofgen.proofs.stage import Stage

WALL = 5  # px of the wall in view
WALL_TOP, WALL_FOOT = (104, 68, 42), (38, 25, 18)
SCORCH = (150, 98, 58)
RIM_LIT, RIM_DARK = (255, 244, 222), (58, 36, 22)
# Blur, shift right, shift down, strength of a layer's shadow on the layers behind it.
SHADOWS = ((2.5, 3, 5, 0.50), (7, 6, 10, 0.36), (18, 11, 18, 0.26))
SHADE = (52, 36, 26)


def bodies(layers: Iterable[Layer], stage: Stage) -> tuple[Floats, ...]:
    """The mask of each layer's wood in the window: inside its outline, outside its openings."""
    return tuple(_body(layer, stage) for layer in layers)


def plate(board: Floats, mask: Floats, behind: Floats) -> Iterator[Coat]:
    """The bare layer of that `mask` in the wood of `board`, `behind` being all wood behind it."""
    yield from _shade(mask, behind)
    yield _wall(mask)
    yield Coat(_face(board, mask), mask)


def _body(layer: Layer, stage: Stage) -> Floats:
    outside, inside = (
        join(mark.path for mark in layer.marks if mark.operation == operation).moved(stage.inward)
        for operation in ("cut-outside", "cut-inside")
    )
    found = coverage(outside, stage.shape) - coverage(inside, stage.shape)
    return np.asarray(np.maximum(found, 0))


def _shade(mask: Floats, behind: Floats) -> Iterator[Coat]:
    """The shadow on the wood behind; the backdrop has its own."""
    for blur, right, down, strength in SHADOWS:
        soft = blurred(shifted(mask, right, down), blur)
        yield Coat(SHADE, soft * behind * strength, glass=True)


def _wall(mask: Floats) -> Coat:
    seen = np.zeros_like(mask)
    depth = np.zeros_like(mask)
    for step in range(WALL, 0, -1):
        slice_ = shifted(mask, 0, step)
        np.maximum(seen, slice_, out=seen)
        depth += ((step - 1) / (WALL - 1) - depth) * slice_
    return Coat(ramp((WALL_TOP, WALL_FOOT), (0, 1), depth), seen)


def _face(board: Floats, mask: Floats) -> Floats:
    """The board, scorched and lit along the edges of the mask."""
    near = 1 - blurred(mask, 5)
    lit = np.clip(mask - shifted(mask, 2, 2), 0, 1)
    dark = np.clip(mask - shifted(mask, -1, -1), 0, 1)
    face = board.copy()
    coats = (
        Coat(SCORCH, np.clip(near * 1.5 - 0.12, 0, 1), glass=True),
        Coat(RIM_LIT, lit * 0.42),
        Coat(RIM_DARK, dark * 0.55),
    )
    lay(coats, face)
    return face
