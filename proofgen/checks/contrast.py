"""Whether lettering can be told from its wood."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from proofgen.artwork.artwork import Artwork
from proofgen.designs.design import Design, Slot, SymbolSlot, Template
from proofgen.designs.offered import finishes
from proofgen.designs.read_layer import ROW
from proofgen.designs.symbols import FIELD as SYMBOL
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.affine import Point
from proofgen.orders.order import ORDER
from proofgen.workshop.contrast import LEAST, contrast, ratio, wood_luminance
from proofgen.workshop.workshop import Finish, Workshop

Zone = tuple[Point, ...]
Zones = Mapping[tuple[str, str], Zone]  # by layer and field

# What is asked of a picture: how well engraving is told in a zone, mm, of the layer of that index,
# all layers in these finishes.
Told = Callable[[Sequence[Finish], int, Zone], float]


def lettered_zones(design: Design, template: Template) -> Zones:
    """Where what is read on the front is engraved, by layer and field."""
    zones = {(each.layer, each.field): each.zone for each in design.slots if _seen(each)}
    symbols = {(each.layer, SYMBOL): each.zone for each in template.symbol_slots if _seen(each)}
    return {**zones, **symbols}


def _seen(slot: Slot | SymbolSlot) -> bool:
    return slot.made == "engrave" and slot.side == "front"


def low_contrast(
    artwork: Artwork, template: Template, zones: Zones, workshop: Workshop, told: Told
) -> Iterator[Flag]:
    """A flag for each finish in which lettering is told too badly."""
    as_made = [workshop.finish(layer.finish) for layer in artwork.layers]
    faint: dict[str, list[tuple[str, float]]] = {}
    for field, wood, found in _told(artwork, template, zones, as_made, told):
        if found < LEAST:
            faint.setdefault(wood, []).append((field, found))
    remedy = _remedy(artwork, template, zones, as_made, workshop, told) if faint else ""
    for wood, each in faint.items():
        fields = " and ".join(dict.fromkeys(field for field, _ in each))
        where, least = artwork.order.where("finish"), min(found for _, found in each)
        yield Flag(kinds.CONTRAST_LOW, where, least, LEAST, f"{fields} {wood}", remedy)


def _told(
    artwork: Artwork, template: Template, zones: Zones, shown: Sequence[Finish], told: Told
) -> Iterator[tuple[str, str, float]]:
    """The field, its wood and how well it is told in these finishes, a layer each from the back.

    Engraving from the wood round it; letters that are cut from the layer behind them, since the
    shade at their edges alone is too narrow to read by. Behind the rearmost layer is the wall where
    the piece will hang, which nobody knows. The order's number is for the maker only.
    """
    read = {lettering.field for lettering in artwork.lettering if lettering.field != ORDER}
    for depth, layer in enumerate(artwork.layers):
        front, behind = shown[depth], shown[max(depth - 1, 0)]
        for mark in layer.marks:
            if mark.field not in (*read, SYMBOL) or mark.side != "front":
                continue
            if mark.operation.startswith("engrave"):
                zone = zones.get((layer.name, mark.field))
                found = told(shown, depth, zone) if zone else contrast(front)
                yield mark.field, f"in {front.title}", found
            elif depth and template.layers[depth].backing is None:
                found = ratio(wood_luminance(front.wood), wood_luminance(behind.wood))
                yield mark.field, f"in {front.title} before {behind.title}", found


def _remedy(
    artwork: Artwork,
    template: Template,
    zones: Zones,
    as_made: Sequence[Finish],
    workshop: Workshop,
    told: Told,
) -> str:
    """The finish that the row should choose, and the least contrast that it would have."""
    best, reached = None, 0.0
    for finish in finishes(template, workshop):
        shown = [
            finish if drawn.finish == ROW else made
            for drawn, made in zip(template.layers, as_made, strict=True)
        ]
        reads = _told(artwork, template, zones, shown, told)
        least = min((found for _, _, found in reads), default=0.0)
        # As it is told: the first of those that are alike.
        if least >= LEAST and round(least, 1) > round(reached, 1):
            best, reached = finish, least
    return f"Choose the finish {best.title}: it would have {reached:.1f}." if best else ""
