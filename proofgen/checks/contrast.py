"""Whether engraved letters can be told from their wood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from proofgen.artwork.artwork import Artwork
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.workshop.contrast import LEAST, contrast
from proofgen.workshop.workshop import Finish, Workshop


def low_contrast(artwork: Artwork, offered: Sequence[str], workshop: Workshop) -> Iterator[Flag]:
    """A flag for each finish in which something is engraved too faintly; `offered` are the ids of
    those that may be chosen instead.
    """
    lettered = {
        layer.finish
        for layer in artwork.layers
        for mark in layer.marks
        if mark.field and mark.side == "front" and mark.operation.startswith("engrave-")
    }
    for wanted in sorted(lettered):
        finish = workshop.finish(wanted)
        found = contrast(finish)
        if found < LEAST:
            where = artwork.order.where("finish")
            remedy = _remedy(finish, offered, workshop)
            yield Flag(kinds.CONTRAST_LOW, where, found, LEAST, finish.title, remedy)


def _remedy(finish: Finish, offered: Sequence[str], workshop: Workshop) -> str:
    others = (workshop.finish(each) for each in offered if each != finish.id)
    best = max(others, key=contrast, default=None)
    if best is None or contrast(best) < LEAST:
        return ""
    return f"Choose the finish {best.title}: it would have {contrast(best):.1f}."
