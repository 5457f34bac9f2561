"""A layer of a design for one order, and whether it is the same for every buyer."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.designs.design import DesignLayer, Mark, SymbolDrawing, Template, TemplateLayer
from proofgen.designs.order_of_work import in_order_of_work
from proofgen.designs.read_layer import ROW, combined
from proofgen.designs.when import HANGER
from proofgen.geometry.path import circle
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Finish, Hanger, Workshop

YEAR = "year"


@dataclass(frozen=True, slots=True)
class PlacedSymbol:
    """The symbol of a layer: as it is made, and whether it is the design's usual one."""

    mark: Mark
    drawing: SymbolDrawing
    usual: bool


def resolved_layer(
    layer: TemplateLayer,
    symbol: PlacedSymbol | None,
    own_row: bool,
    finish: Finish | None,
    hanger: Hanger,
    workshop: Workshop,
) -> DesignLayer:
    """The layer as it is made for a row; it can be cut ahead unless it is the row's own."""
    by_row = layer.finish == ROW
    done = finish if by_row and finish else workshop.finish(layer.finish)
    own = (symbol.mark,) if symbol else ()
    return DesignLayer(
        name=layer.name,
        material=layer.material,
        finish=done.id,
        rotation=layer.rotation,
        depth=layer.depth,
        shared=not own_row,
        marks=in_order_of_work((*layer.marks, *own, *_hole(layer, hanger))),
        sha256=combined(layer.sha256, symbol.drawing.sha256) if symbol else layer.sha256,
        backing=layer.backing,
    )


def personal(
    template: Template,
    layer: TemplateLayer,
    symbol: PlacedSymbol | None,
    order: Order,
    workshop: Workshop,
) -> bool:
    """Whether the row changes what is made on the layer; the edition's year is everybody's."""
    fields = {slot.field for slot in template.slots if slot.layer == layer.name}
    if layer.backing:
        fields.add(layer.backing.field)
    names = {mark.name for mark in layer.marks}
    # What a hanger changes it changes for all that hang by it, and so they are counted.
    asked = {key for each in template.when if names & {*each.drawn} for key in each.asks}
    fields |= asked - {HANGER}
    other_year = order.field(YEAR) != str(workshop.edition_year)
    left_out = symbol is None and any(
        slot.default for slot in template.symbol_slots if slot.layer == layer.name
    )
    own = bool(fields - {YEAR}) or (YEAR in fields and other_year)
    return own or left_out or (symbol is not None and not symbol.usual)


def _hole(layer: TemplateLayer, hanger: Hanger) -> tuple[Mark, ...]:
    """The hanger's hole, where both the layer and the hanger have one."""
    if layer.hole is None or hanger.hole <= 0:
        return ()
    radius = (hanger.hole + layer.hole_extra) / 2
    return (Mark("cut-inside", circle(layer.hole, radius), "hanger"),)
