"""Whether lettering can be told from its wood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from proofgen.artwork.artwork import Artwork
from proofgen.designs.design import Template
from proofgen.designs.offered import finishes
from proofgen.designs.read_layer import ROW
from proofgen.designs.symbols import FIELD as SYMBOL
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.order import ORDER
from proofgen.workshop.contrast import LEAST, contrast, ratio, wood_luminance
from proofgen.workshop.workshop import Finish, Workshop


def low_contrast(artwork: Artwork, template: Template, workshop: Workshop) -> Iterator[Flag]:
    """A flag for each way of lettering that is told too badly in the finishes of this artwork."""
    as_made = [workshop.finish(layer.finish) for layer in artwork.layers]
    remedy = _remedy(artwork, template, as_made, workshop)
    for subject, found in dict(_told(artwork, template, as_made)).items():
        if found < LEAST:
            where = artwork.order.where("finish")
            yield Flag(kinds.CONTRAST_LOW, where, found, LEAST, subject, remedy)


def _told(
    artwork: Artwork, template: Template, shown: Sequence[Finish]
) -> Iterator[tuple[str, float]]:
    """How well what is lettered is told in these finishes, a layer each from the back.

    Engraving from the wood round it; letters that are cut from the layer behind them, since the
    shade at their edges alone is too narrow to read by. The order's number is for the maker only.
    """
    read = {lettering.field for lettering in artwork.lettering if lettering.field != ORDER}
    for depth, layer in enumerate(artwork.layers):
        ways = {
            mark.operation.partition("-")[0]
            for mark in layer.marks
            if mark.field in (*read, SYMBOL) and mark.side == "front"
        }
        front, behind = shown[depth], shown[max(depth - 1, 0)]
        if "engrave" in ways:
            yield f"engraving in {front.title}", contrast(front)
        if "cut" in ways and depth and template.layers[depth].backing is None:
            told = ratio(wood_luminance(front.wood), wood_luminance(behind.wood))
            yield f"letters in {front.title} before {behind.title}", told


def _remedy(
    artwork: Artwork, template: Template, as_made: Sequence[Finish], workshop: Workshop
) -> str:
    """The finish that the row should choose, and the least contrast that it would have."""
    best, reached = None, LEAST
    for finish in finishes(template, workshop):
        shown = [
            finish if drawn.finish == ROW else made
            for drawn, made in zip(template.layers, as_made, strict=True)
        ]
        least = min((told for _, told in _told(artwork, template, shown)), default=0.0)
        if least >= reached:
            best, reached = finish, least
    return f"Choose the finish {best.title}: it would have {reached:.1f}." if best else ""
