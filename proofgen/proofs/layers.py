"""The layers of wood, one upon the other: each casts its shadow, then shows wall, face and marks.

The eye is a little below the piece: the charred wall of a cut shows under outer edges and at the
upper edge of openings. The light comes from the top left.
"""

from __future__ import annotations

import numpy as np

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.geometry.path import join
from proofgen.proofs.engraving import engrave
from proofgen.proofs.paint import cover, multiply, ramp
from proofgen.proofs.raster import Floats, coverage
from proofgen.proofs.soft import blurred, shifted
from proofgen.proofs.stage import Stage
from proofgen.proofs.wood import grain, wood
from proofgen.workshop.workshop import Workshop

WALL = 5  # px of the wall in view
WALL_TOP, WALL_FOOT = (104, 68, 42), (38, 25, 18)
SCORCH = (150, 98, 58)
RIM_LIT, RIM_DARK = (255, 244, 222), (58, 36, 22)
# Blur, shift right, shift down, strength of a layer's shadow on the layers behind it.
SHADOWS = ((2.5, 3, 5, 0.50), (7, 6, 10, 0.36), (18, 11, 18, 0.26))
SHADE = (52, 36, 26)


def bodies(artwork: Artwork, stage: Stage) -> tuple[Floats, ...]:
    """The mask of each layer's wood in the window: inside its outline, outside its openings."""
    return tuple(_body(layer, stage) for layer in artwork.layers)


def stack(
    canvas: Floats, artwork: Artwork, masks: tuple[Floats, ...], stage: Stage, workshop: Workshop
) -> None:
    """Draw the layers on the window `canvas`, the rearmost first."""
    behind = np.zeros(stage.shape, np.float32)
    for layer, mask in zip(artwork.layers, masks, strict=True):
        _shade(canvas, mask, behind)
        _wall(canvas, mask)
        finish = workshop.finish(layer.finish)
        tone = grain(layer.name, stage.shape)
        _face(canvas, wood(finish.wood, tone), mask)
        seen = tuple(mark for mark in layer.marks if mark.side == "front")
        engrave(canvas, seen, mask, tone, finish.wood[2], finish.engraving, stage)
        np.maximum(behind, mask, out=behind)


def _body(layer: Layer, stage: Stage) -> Floats:
    outside, inside = (
        join(mark.path for mark in layer.marks if mark.operation == operation).moved(stage.inward)
        for operation in ("cut-outside", "cut-inside")
    )
    found = coverage(outside, stage.shape) - coverage(inside, stage.shape)
    return np.asarray(np.maximum(found, 0))


def _shade(canvas: Floats, mask: Floats, behind: Floats) -> None:
    """The shadow on the wood behind; the backdrop has its own."""
    for blur, right, down, strength in SHADOWS:
        soft = blurred(shifted(mask, right, down), blur)
        multiply(canvas, SHADE, soft * behind * strength)


def _wall(canvas: Floats, mask: Floats) -> None:
    seen = np.zeros_like(mask)
    depth = np.zeros_like(mask)
    for step in range(WALL, 0, -1):
        slice_ = shifted(mask, 0, step)
        np.maximum(seen, slice_, out=seen)
        depth += ((step - 1) / (WALL - 1) - depth) * slice_
    cover(canvas, ramp((WALL_TOP, WALL_FOOT), (0, 1), depth), seen)


def _face(canvas: Floats, board: Floats, mask: Floats) -> None:
    near = 1 - blurred(mask, 5)
    multiply(board, SCORCH, np.clip(near * 1.5 - 0.12, 0, 1))
    lit = np.clip(mask - shifted(mask, 2, 2), 0, 1)
    cover(board, RIM_LIT, lit * 0.42)
    dark = np.clip(mask - shifted(mask, -1, -1), 0, 1)
    cover(board, RIM_DARK, dark * 0.55)
    cover(canvas, board, mask)
