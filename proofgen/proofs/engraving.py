"""Engraved marks: a floor below the face, its edges and its shadow."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from proofgen.designs.design import Mark
from proofgen.geometry.path import Path, join
from proofgen.geometry.stroked import stroked
from proofgen.proofs.paint import cover, multiply
from proofgen.proofs.raster import FLATNESS, Floats, coverage
from proofgen.proofs.soft import blurred, shifted
from proofgen.proofs.stage import Stage
from proofgen.workshop.workshop import Colour

LINE = 0.3  # mm, what a single pass of the beam shows as on wood; from memory
HALO = (206, 160, 110)
EDGE = (120, 88, 66)
GLINT = (255, 246, 228)
# Bare wood under a dark stain: full shading would eat up the pale strokes.
PALE_RELIEF = 0.35


def engrave(
    canvas: Floats,
    marks: Iterable[Mark],
    body: Floats,
    tone: Floats,
    wood: Colour,
    colour: Colour,
    stage: Stage,
) -> None:
    """Draw the engraved marks on the window `canvas`, within the layer's `body`.

    `wood` is the middle tone of the face and `colour` that of the floor, lit along the grain.
    """
    mask = engraved(marks, stage)
    if not mask.any():
        return
    mask = mask * body
    relief = 1.0 if _luma(colour) < _luma(wood) else PALE_RELIEF
    multiply(canvas, HALO, blurred(mask, 4) * body * (1 - mask) * 0.25)
    glint = np.clip(shifted(mask, 1, 1) - mask, 0, 1) * body
    cover(canvas, GLINT, glint * 0.34 * relief)
    floor = np.asarray(colour, np.float32) * (0.84 + 0.30 * tone[..., None])
    within = mask * (1 - blurred(mask, 2.2))
    multiply(floor, EDGE, np.clip(within * 0.9, 0, 1) * relief)
    multiply(floor, EDGE, np.clip(mask - shifted(blurred(mask, 1.4), 2, 3), 0, 1) * 0.75 * relief)
    cover(canvas, floor, mask)


def engraved(marks: Iterable[Mark], stage: Stage) -> Floats:
    """The mask of all engraving in the window: areas as they are, lines as wide as they show."""
    found = np.zeros(stage.shape, np.float32)
    for path in _outlines(tuple(marks)):
        if path:
            np.maximum(found, coverage(path.moved(stage.inward), stage.shape), out=found)
    return found


def _outlines(marks: tuple[Mark, ...]) -> Iterable[Path]:
    yield from (mark.path for mark in marks if mark.operation == "engrave-area")
    lines = join(mark.path for mark in marks if mark.operation == "engrave-line")
    if lines:
        yield stroked(lines, LINE, FLATNESS)


def _luma(colour: Colour) -> float:
    """How light it looks, by the weights of ITU-R BT.601."""
    red, green, blue = colour
    return 0.299 * red + 0.587 * green + 0.114 * blue
