"""Whether a piece is a small part: caution near children under 3 years (16 CFR 1501.4)."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.cylinder import BORE, Slab, fits, narrowest_width
from proofgen.geometry.parts import parts
from proofgen.geometry.path import Path, join
from proofgen.workshop.workshop import Workshop


def small_parts(artwork: Artwork, workshop: Workshop) -> Iterator[Flag]:
    """A flag where the glued piece fits the cylinder, else one for each layer that would if it
    came loose; sizes as they are after the kerf.
    """
    glued: list[Slab] = []
    bottom = 0.0
    for layer in artwork.layers:
        top = bottom + workshop.material(layer.material).thickness
        glued.append(Slab(_outline(layer), bottom, top))
        bottom = top
    lost = workshop.machine.kerf / 2
    where = artwork.order.where("design")
    if fits(tuple(glued), lost):
        yield _flag(where, "finished piece", tuple(glued), lost)
        return
    for layer, slab in zip(artwork.layers, glued, strict=True):
        part = next(_small(slab, lost), None)
        if part:
            yield _flag(where, f"layer {layer.name}, should it come loose", (part,), lost)


def _small(slab: Slab, lost: float) -> Iterator[Slab]:
    """The parts of a layer that fit the cylinder."""
    alone = len(slab.outline.contours) == 1
    for outline in (slab.outline,) if alone else parts(slab.outline):
        part = Slab(outline, slab.bottom, slab.top)
        if fits((part,), lost):
            yield part


def _outline(layer: Layer) -> Path:
    return join(mark.path for mark in layer.marks if mark.operation == "cut-outside")


def _flag(where: str, subject: str, slabs: tuple[Slab, ...], lost: float) -> Flag:
    return Flag(kinds.SMALL_PART, where, narrowest_width(slabs, lost), BORE, subject)
