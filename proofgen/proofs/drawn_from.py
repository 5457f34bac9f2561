"""A digest of what a picture or page of several pieces was drawn from: it is kept in the file, so
that it can be told later whether that still shows how the pieces look.

The program and its faces are not in it: another release alone makes nothing wrong that was shown.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable

from proofgen.artwork.artwork import Made
from proofgen.workshop.gone import finish_of, hanger_of, thickness_of
from proofgen.workshop.workshop import Workshop

DIGITS = 16  # of 64: nobody forges a proof of their own


def drawn_from(pieces: Iterable[Made], workshop: Workshop, *how: str | bool) -> str:
    """Of these pieces, which have artwork, as many of each, in the looks of this workshop; `how`
    are the settings that decide besides.
    """
    told = json.dumps([[_shown(made, workshop) for made in pieces], how])
    return hashlib.sha256(told.encode("ascii")).hexdigest()[:DIGITS]


def _shown(made: Made, workshop: Workshop) -> list[object]:
    """The code tells the shape; the rest is what it does not tell."""
    artwork = made.artwork
    assert artwork is not None
    finishes = (finish_of(workshop, layer.finish) for layer in artwork.layers)
    hanger = hanger_of(workshop, artwork.hanger)
    return [
        made.counted,
        made.order.line,
        artwork.title,
        [(item.field, item.text) for item in artwork.lettering],
        [(finish.title, finish.wood, finish.engraving) for finish in finishes],
        [thickness_of(workshop, layer.material) for layer in artwork.layers],
        hanger and (hanger.title, hanger.width, hanger.colour),
    ]
