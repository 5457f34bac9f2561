"""How well engraving is told from the wood of its zone, both as a picture shows them.

Worked out once for all buyers and kept with the measures of letters.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from proofgen.artwork.artwork import Artwork
from proofgen.faces.cache import MeasureCache
from proofgen.geometry.affine import Point
from proofgen.proofs.drawn_by import drawn_by
from proofgen.proofs.scene import Scene, scene
from proofgen.workshop.workshop import Finish, Workshop

GROUP = "contrast"
Zone = tuple[Point, ...]


def bare(artwork: Artwork, shown: Sequence[Finish], workshop: Workshop) -> Scene | None:
    """The piece in these finishes, a layer each, with its cuts and nothing else on it; None where
    its outline is the buyer's own.
    """
    own = {lettering.field for lettering in artwork.lettering}
    whole = scene(artwork, workshop)
    layers = []
    for layer in whole.layers:
        if any(mark.operation == "cut-outside" and mark.field in own for mark in layer.marks):
            return None
        cuts = (m for m in layer.marks if m.operation.startswith("cut-") and m.field not in own)
        layers.append(replace(layer, marks=tuple(cuts)))
    return replace(whole, layers=tuple(layers), finishes=tuple(shown), hanger=None, watermark=False)


def told(piece: Scene, depth: int, zone: Zone, cache: MeasureCache) -> float:
    """The ratio 1..21 of the means over the zone, mm, of the layer of that index as it is and as
    it is engraved.
    """
    key = _key(piece, depth, zone)
    found = cache.group(GROUP).get(key)
    if found is None:
        from proofgen.proofs.zone_means import zone_means
        from proofgen.workshop.contrast import ratio

        found = ratio(*zone_means(piece, depth, zone))
        cache.put(GROUP, key, found)
    return found


@lru_cache(maxsize=256)
def _key(piece: Scene, depth: int, zone: Zone) -> str:
    return hashlib.sha256(f"{drawn_by()} {piece!r} {depth} {zone}".encode()).hexdigest()
