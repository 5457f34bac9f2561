"""One piece as it is seen: the coats that paint it, in their order.

From the wall upwards: `behind`, each `layer` from the rearmost, and what is `over` the last one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import reduce
from math import ceil

import numpy as np

from proofgen.proofs.backdrop import cast
from proofgen.proofs.engraving import Ground, engrave, engraved, reach, relief
from proofgen.proofs.layers import bodies, in_view, plate
from proofgen.proofs.paint import Coat
from proofgen.proofs.palette import Mask
from proofgen.proofs.ribbon import front_strand, rear_strand, ribbon
from proofgen.proofs.scene import Scene
from proofgen.proofs.soft import Soft, around, most, nothing, shifted
from proofgen.proofs.stage import Stage
from proofgen.proofs.watermark import watermark
from proofgen.proofs.wood import grain, plank

BACKDROP = -1  # as the index of a layer: that before the rearmost


@dataclass(frozen=True, slots=True)
class View:
    """A piece on its stage. `masks` are the layers in the window, `silhouette` all in the scene;
    `rear` and `front` are the strands of what it hangs on, empty where it hangs on nothing.
    """

    scene: Scene
    stage: Stage
    masks: tuple[Soft, ...]
    silhouette: Soft
    rear: tuple[Coat, ...]
    front: tuple[Coat, ...]


def view(scene: Scene, stage: Stage) -> View:
    """What the coats need to know."""
    masks = bodies(scene.layers, stage)
    silhouette = nothing(stage.canvas)
    silhouette[stage.rows, stage.columns] = reduce(most, masks)
    hanging = ribbon(scene, stage)
    rear = (rear_strand(hanging),) if hanging else ()
    front = tuple(front_strand(hanging, silhouette)) if hanging else ()
    return View(scene, stage, masks, silhouette, rear, front)


def behind(seen: View) -> Iterator[Coat]:
    """What is seen behind the piece: the strand that leaves its hole, and its shadow."""
    yield from seen.rear
    yield from cast(seen.silhouette, seen.stage.share)


def layer(seen: View, depth: int) -> Iterator[Coat]:
    """The layer of that index with its engraving, and its shadow on the layers behind it."""
    on = ground(seen, depth)
    lower = reduce(most, seen.masks[:depth], nothing(seen.stage.shape))
    name = seen.scene.layers[depth].name
    board = plank(on.finish.wood, name, seen.stage.shape, seen.stage.share)
    scale = seen.stage.scale
    for coat in plate(board, on.body, lower, seen.scene.thicknesses[depth] * scale, scale):
        yield replace(coat, at=(seen.stage.top, seen.stage.left))
    mask = engraved(seen.scene.layers[depth].marks, seen.stage)
    box = around(mask, reach(scale))
    if box is None:
        return
    rows, columns = box
    for coat in engrave(relief(mask[box], on.body[box], scale), on.tone[box], on.finish):
        yield replace(coat, at=(seen.stage.top + rows.start, seen.stage.left + columns.start))


def over(seen: View, depth: int) -> Iterator[Coat]:
    """Everything above the layer of that index, the whole piece above BACKDROP."""
    for upper in range(depth + 1, len(seen.masks)):
        yield from layer(seen, upper)
    yield from seen.front
    if seen.scene.watermark:
        yield from watermark(seen.silhouette)


def ground(seen: View, depth: int) -> Ground:
    """What is engraved where something is engraved on the layer of that index."""
    tone = grain(seen.scene.layers[depth].name, seen.stage.shape, seen.stage.share)
    return Ground(seen.masks[depth], tone, seen.scene.finishes[depth])


def shadings(seen: View) -> tuple[Mask, Mask]:
    """Where only the wall is seen, and where only the ribbon is."""
    wall = in_view(max(seen.scene.thicknesses) * seen.stage.scale)
    piece = most(seen.silhouette, shifted(seen.silhouette, 0, ceil(wall)))
    none = np.zeros_like(piece)
    rear = seen.rear[-1].amount if seen.rear else none
    front = seen.front[-1].amount if seen.front else none
    wall = (front | rear | piece) == 0
    cloth = (front == 255) | ((rear == 255) & (piece == 0) & (front == 0))
    return wall, cloth
