"""The proof picture of one piece, drawn from its artwork and from nothing else."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from proofgen.artwork.artwork import Artwork, Made
from proofgen.proofs.backdrop import backdrop, cast
from proofgen.proofs.caption import caption
from proofgen.proofs.layers import WALL, bodies, stack
from proofgen.proofs.png import Shading, encode
from proofgen.proofs.raster import Floats
from proofgen.proofs.ribbon import front_strand, rear_strand, ribbon
from proofgen.proofs.soft import shifted
from proofgen.proofs.stage import HEIGHT, SCENE, WIDTH, stage
from proofgen.proofs.watermark import watermark
from proofgen.workshop.workshop import Workshop

WALL_TONES, CLOTH_TONES = 44, 20
UNSEEN = 1 / 512  # of a pixel

Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Scene:
    """The piece before its wall, and where only the wall or only the ribbon is seen."""

    canvas: Floats
    wall: Mask
    cloth: Mask


def proof_png(made: Made, workshop: Workshop) -> bytes:
    """The PNG (1080 x 1350) that a buyer is shown; ValueError for a row without artwork."""
    if made.artwork is None:
        raise ValueError("a row without artwork has no picture")
    scene = _scene(made.artwork, workshop)
    canvas = np.concatenate([scene.canvas, caption(made, made.artwork)])
    below = np.zeros((HEIGHT - SCENE, WIDTH), np.bool_)
    shadings = [
        Shading(np.concatenate([where, below]), tones)
        for where, tones in ((scene.wall, WALL_TONES), (scene.cloth, CLOTH_TONES))
    ]
    return encode(canvas, shadings, {"Order": made.order.number, "Proof code": made.code})


def _scene(artwork: Artwork, workshop: Workshop) -> Scene:
    place = stage(artwork, artwork.hanger != "none")
    hanging = ribbon(artwork, place, workshop)
    masks = bodies(artwork, place)
    silhouette = np.zeros((SCENE, WIDTH), np.float32)
    silhouette[place.rows, place.columns] = np.maximum.reduce(masks)
    piece = np.maximum(silhouette, shifted(silhouette, 0, WALL))
    canvas = backdrop()
    rear = rear_strand(canvas, hanging) if hanging else np.zeros_like(silhouette)
    cast(canvas, silhouette)
    stack(canvas[place.rows, place.columns], artwork, masks, place, workshop)
    front = front_strand(canvas, hanging, silhouette) if hanging else np.zeros_like(silhouette)
    watermark(canvas, silhouette)
    wall = np.maximum(np.maximum(front, rear), piece) < UNSEEN
    cloth = (front > 1 - UNSEEN) | ((rear > 1 - UNSEEN) & (piece < UNSEEN) & (front < UNSEEN))
    return Scene(canvas, wall, cloth)
