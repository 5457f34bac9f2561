"""The ribbon or cord: one strand goes into the hole from the front, the other comes out behind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor
from typing import Any

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.path import Path
from proofgen.geometry.rect import Rect
from proofgen.proofs.paint import Coat, tinted
from proofgen.proofs.raster import Box, Floats, coverage
from proofgen.proofs.scene import Scene
from proofgen.proofs.soft import Soft, blurred, rest, shifted, soft, times
from proofgen.proofs.stage import Stage
from proofgen.workshop.workshop import Hanger

HOLE_FIELD = "hanger"
SPREAD = 0.32  # px to the side for each px upwards, far from the hole
GATHERED = 0.78  # of the hole's diameter, the most that a strand fills
TWISTED = 3.0  # mm; narrower hangers are drawn as twisted cord
SHADE = (46, 32, 24)
# Blur, shift right, shift down, mm, and strength of its shadow on the piece.
SHADOWS = ((0.22, 0.33, 0.44, 0.40), (0.66, 0.66, 1.1, 0.30))


@dataclass(frozen=True, slots=True)
class Ribbon:
    """What hangs the piece: the frontmost hole in pixels of the scene, the hanger's width, and
    pixels a millimetre.
    """

    hanger: Hanger
    path: Path
    hole: Rect
    width: float
    scale: float
    canvas: tuple[int, int]


def ribbon(scene: Scene, stage: Stage) -> Ribbon | None:
    """The ribbon of the piece, None where it has no hanger or no hole for one."""
    holes = [m.path for layer in scene.layers for m in layer.marks if m.field == HOLE_FIELD]
    if scene.hanger is None or not holes:
        return None
    into = stage.inward.then(type(stage.inward).shift(stage.left, stage.top))
    path = holes[-1].moved(into)
    width = scene.hanger.width * stage.scale
    return Ribbon(scene.hanger, path, path.bounds(), width, stage.scale, stage.canvas)


def rear_strand(found: Ribbon) -> Coat:
    """The strand that leaves the hole behind the piece, drawn before the piece."""
    box, mask, u = _strand(found, 1.0)
    return Coat(_all(found, box, _cloth(found, box, u) * 0.80), _all(found, box, soft(mask)))


def front_strand(found: Ribbon, silhouette: Soft) -> Iterator[Coat]:
    """The strand over the piece, dark where it goes into the hole, after its shadow."""
    box, mask, u = _strand(found, -1.0)
    down = _down(box)
    middle = found.hole.centre[1]
    radius = found.hole.height / 2
    inside = coverage(found.path, found.canvas)
    strand = _all(found, box, soft(np.where(down < middle, mask, mask * inside[box])))
    wood = times(silhouette, rest(soft(inside)))
    for blur, right, below, strength in SHADOWS:
        moved = shifted(strand, right * found.scale, below * found.scale)
        shadow = times(blurred(moved, blur * found.scale), wood)
        yield Coat(SHADE, shadow, strength, glass=True)
    depth = np.clip((down - (middle - 0.7 * radius)) / (1.7 * radius), 0, 1)
    yield Coat(_all(found, box, _cloth(found, box, u) * (1 - 0.78 * depth)), strand)


def _down(box: Box) -> Floats:
    return np.arange(box[0].start, box[0].stop, dtype=np.float32)[:, None] + 0.5


def _all(found: Ribbon, box: Box, part: NDArray[Any]) -> NDArray[Any]:
    """What is in the box, and nothing in the rest of the scene."""
    whole = np.zeros((*part.shape[:-2], *found.canvas), part.dtype)
    whole[..., *box] = part
    return whole


def _strand(found: Ribbon, side: float) -> tuple[Box, Floats, Floats]:
    """Where a strand that rises from the hole lies in the scene, its mask there, and the place
    across it, -1 left to 1 right.
    """
    x, y = found.hole.centre
    radius = found.hole.height / 2
    foot = y + 0.62 * radius
    far = SPREAD * max(foot, 0.0)
    left, right = (x - far, x) if side < 0 else (x, x + far)
    columns = (floor(left - found.width - 1), ceil(right + found.width + 1))
    high, wide = found.canvas
    box = (
        slice(0, min(max(ceil(foot), 0), high)),
        slice(*(min(max(way, 0), wide) for way in columns)),
    )
    up = np.maximum(foot - _down(box), 0)
    reach = 2.2 * radius
    middle = x + side * SPREAD * (up - reach * (1 - np.exp(-up / reach)))
    least = min(found.width, GATHERED * found.hole.height) / 2
    full = min(found.width, 1.25 * found.hole.height) / 2
    half = least + (full - least) * (1 - np.exp(-np.maximum(up - radius, 0) / (6 * radius)))
    off = np.arange(box[1].start, box[1].stop, dtype=np.float32)[None, :] + 0.5 - middle
    # The foot is round.
    narrow = np.sqrt(np.clip(1 - (1 - np.minimum(up / (0.8 * half), 1)) ** 2, 0, 1))
    mask = np.clip(half * narrow - np.abs(off) + 0.5, 0, 1) * (up > 0)
    return box, np.asarray(mask, np.float32), np.asarray(off / half, np.float32)


def _cloth(found: Ribbon, box: Box, u: Floats) -> Floats:
    """The colour across the strand: lit a little left of its middle, dark at its sides."""
    tone = 0.70 + 0.52 * np.exp(-(((u + 0.28) / 0.62) ** 2))
    if found.hanger.width < TWISTED:
        turn = (_down(box) + u * found.width * 0.45) / (found.width * 0.85)
        tone = tone * (0.84 + 0.22 * np.abs(np.sin(np.pi * turn)))
    else:
        tone = tone * (1 + 0.025 * np.cos(u * 34))
    return np.clip(tinted(found.hanger.colour, tone), 0, 255)
