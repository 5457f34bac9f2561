"""How light a zone of a layer is in a picture: its wood, and the same engraved all over."""

from __future__ import annotations

import numpy as np

from proofgen.geometry.affine import Point
from proofgen.geometry.path import polygon
from proofgen.proofs.engraving import floor
from proofgen.proofs.paint import lay, veil
from proofgen.proofs.palette import Mask
from proofgen.proofs.raster import Floats, polygon_coverage
from proofgen.proofs.scene import Scene
from proofgen.proofs.stage import SCENE, WIDTH, stage
from proofgen.proofs.view import ground, layer, over, view
from proofgen.workshop.contrast import WEIGHTS

SHARE = 0.3  # of a proof picture: enough for means
LEAST_SEEN = 0.05  # of the light of a pixel; less is covered by a layer above


def zone_means(piece: Scene, depth: int, zone: tuple[Point, ...]) -> tuple[float, float]:
    """The mean relative luminances of the zone, mm, of the layer of that index, in the shade of
    what is above it and where that does not cover it; of wood, then of engraving.
    """
    canvas = round(SCENE * SHARE), round(WIDTH * SHARE)
    place = stage(piece.size, False, canvas)
    seen = view(piece, place)
    wood = np.zeros((3, *canvas), np.float32)
    for lower in range(depth + 1):
        lay(layer(seen, lower), wood)
    window = np.s_[:, place.rows, place.columns]
    factor, added = (plane[window] for plane in veil(over(seen, depth), canvas))
    on = ground(seen, depth)
    engraved = floor(on.finish.engraving, on.tone).canvas()
    within = polygon_coverage(place.polygons(polygon(zone)), place.shape) > 0.5
    inside = within & (on.body > 0) & (factor.min(axis=0) > LEAST_SEEN)
    return (
        _mean(wood[window] * factor + added, inside),
        _mean(engraved * factor + added, inside),
    )


def _mean(canvas: Floats, inside: Mask) -> float:
    """Of relative luminance, over pixels of sRGB 0..255."""
    part = canvas[:, inside] / 255
    light = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return float((WEIGHTS @ light).mean())
