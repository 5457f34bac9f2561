"""Whether the loop a piece hangs on is long: caution near children under 3 years."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.artwork.artwork import Artwork
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.workshop.workshop import Workshop

MOST = 220.0  # mm of free length; EN 71-1:2005+A8 5.4, superseded: see the current edition


def long_cord(artwork: Artwork, workshop: Workshop) -> Iterator[Flag]:
    """A flag where the hanger's loop, as the workshop file has it, is longer than that."""
    if artwork.hanger == "none":
        return
    hanger = workshop.hanger(artwork.hanger)
    if hanger.length > MOST:
        where = artwork.order.where("hanger")
        yield Flag(kinds.CORD_LONG, where, hanger.length, MOST, hanger.title)
