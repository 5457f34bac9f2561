"""From a template to the design of one order: choices matched, the hanger's hole placed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from proofgen.designs.choices import Named, T, closest, match, quoted
from proofgen.designs.design import Design, Template
from proofgen.designs.offered import NOTHING, Size, finishes, hangers, sizes
from proofgen.designs.resolve_layer import (
    YEAR as YEAR,
    PlacedSymbol,
    personal,
    resolved_layer,
)
from proofgen.designs.scale import scaled
from proofgen.designs.symbols import place_symbol
from proofgen.designs.texts import text_of
from proofgen.designs.when import HANGER, SYMBOL, in_state
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, FlagKind, stops
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Finish, Hanger, Workshop


def find(
    templates: Mapping[str, Template], wanted: str, where: str = "design"
) -> tuple[Template | None, tuple[Flag, ...]]:
    """The design of that id or title, else a flag that names the nearest one."""
    found = match(wanted, templates.values())
    if found:
        return found, ()
    nearest = closest(wanted, templates.values())
    remedy = f"Type {nearest}, if that is meant." if nearest else ""
    listed = "there is " + ", ".join(template.title for template in templates.values())
    return None, (Flag(kinds.DESIGN_UNKNOWN, where, quoted(wanted), None, listed, remedy),)


def resolve(
    template: Template, order: Order, workshop: Workshop
) -> tuple[Design | None, tuple[Flag, ...]]:
    """The design for one order, or None where a flag stops it; the flags stand in either case."""
    size, size_flags = _size(template, order)
    template = scaled(template, size.factor) if size else template
    finish, finish_flags = _finish(template, order, workshop)
    hanger, hanger_flags = _hanger(template, order, workshop)
    symbols, symbol_flags = _symbols(template, order, workshop)
    flags = (
        *_field_flags(template, order, workshop),
        *size_flags,
        *finish_flags,
        *hanger_flags,
        *symbol_flags,
    )
    if size is None or hanger is None or stops(flags):
        return None, flags
    drawn = in_state(template, _state(template, order, symbols, hanger))
    layers = tuple(
        resolved_layer(
            shown,
            symbols.get(layer.name),
            personal(template, layer, symbols.get(layer.name), order, workshop),
            finish,
            hanger,
            workshop,
        )
        for layer, shown in zip(template.layers, drawn.layers, strict=True)
    )
    design = Design(
        id=template.id,
        title=template.title,
        size=template.size,
        layers=layers,
        slots=template.slots,
        hanger=hanger.id,
        sha256=template.sha256,
        growth=template.growth,
    )
    return design, flags


def _state(
    template: Template, order: Order, symbols: Mapping[str, object], hanger: Hanger
) -> frozenset[str]:
    """What the row has that elements may be drawn with or without."""
    fields = [slot.field for slot in template.slots if text_of(order, slot)]
    options = [name for name, there in ((SYMBOL, symbols), (HANGER, hanger.hole > 0)) if there]
    return frozenset((*fields, *options))


def _finish(
    template: Template, order: Order, workshop: Workshop
) -> tuple[Finish | None, tuple[Flag, ...]]:
    """The finish of the layers whose finish the row chooses; None where there are none."""
    typed = order.option("finish")
    if not template.finishes:
        return None, _unused(kinds.FINISH_UNUSED, "finish", typed, template, order)
    offered = finishes(template, workshop)
    return _chosen(typed, offered, kinds.FINISH_UNKNOWN, order.where("finish"))


def _hanger(
    template: Template, order: Order, workshop: Workshop
) -> tuple[Hanger | None, tuple[Flag, ...]]:
    """The hanger; None where the row asks for one that is not offered."""
    typed = order.option("hanger")
    if not template.hangers:
        wants = typed and match(typed, [NOTHING]) is None
        kind = kinds.HANGER_UNUSED
        flags = _unused(kind, "hanger", typed if wants else "", template, order)
        return NOTHING, flags
    offered = hangers(template, workshop)
    return _chosen(typed, offered, kinds.HANGER_UNKNOWN, order.where("hanger"))


def _chosen(
    typed: str, offered: Sequence[T], kind: FlagKind, where: str
) -> tuple[T | None, tuple[Flag, ...]]:
    """What was typed, the first one where nothing was, or a flag with what there is."""
    found = match(typed, offered) if typed else offered[0]
    if found:
        return found, ()
    nearest = closest(typed, offered)
    remedy = f"Type {nearest}, if that is meant." if nearest else ""
    return None, (Flag(kind, where, quoted(typed), _titles(offered), "", remedy),)


def _titles(offered: Iterable[Named]) -> str:
    return ", ".join(one.title for one in offered)


def _size(template: Template, order: Order) -> tuple[Size | None, tuple[Flag, ...]]:
    """The size; None where the row asks for one that is not offered."""
    typed = order.option("size")
    offered = sizes(template)
    if not template.sizes:
        return offered[0], _unused(kinds.SIZE_UNUSED, "size", typed, template, order)
    return _chosen(typed, offered, kinds.SIZE_UNKNOWN, order.where("size"))


def _symbols(
    template: Template, order: Order, workshop: Workshop
) -> tuple[dict[str, PlacedSymbol], tuple[Flag, ...]]:
    """By layer; the design's usual symbol where the row names none."""
    typed = order.option("symbol")
    where = order.where("symbol")
    if not template.symbol_slots:
        return {}, _unused(kinds.SYMBOL_UNUSED, "symbol", typed, template, order)
    placed: dict[str, PlacedSymbol] = {}
    flags: tuple[Flag, ...] = ()
    for slot in template.symbol_slots:
        wanted = typed or slot.default
        if not wanted or match(wanted, [NOTHING]):
            continue
        broken = match(wanted, template.broken_symbols)
        if broken:
            fault = Flag(kinds.SYMBOL_BROKEN, where, broken.fault.removesuffix("."))
            flags += () if fault in flags else (fault,)
            continue
        drawing, found = _chosen(wanted, template.symbol_drawings, kinds.SYMBOL_UNKNOWN, where)
        if drawing:
            mark, found = place_symbol(drawing, slot, template, workshop, where)
            if mark:
                placed[slot.layer] = PlacedSymbol(mark, drawing, drawing.id == slot.default)
        flags += tuple(flag for flag in found if flag not in flags)
    return placed, flags


def _unused(
    kind: FlagKind, option: str, typed: str, template: Template, order: Order
) -> tuple[Flag, ...]:
    if not typed:
        return ()
    return (Flag(kind, order.where(option), quoted(typed), None, template.title),)


def _field_flags(template: Template, order: Order, workshop: Workshop) -> tuple[Flag, ...]:
    """Blank fields that are needed, and typed ones that no slot letters."""
    lettered = [slot.field for slot in template.slots if text_of(order, slot)]
    missing = [field for field in template.needed if field not in lettered]
    unused = unused_fields(template, order, workshop)
    return (
        *(_about(kinds.FIELD_MISSING, field, template, order) for field in missing),
        *(_about(kinds.FIELD_UNUSED, field, template, order) for field in unused),
    )


def unused_fields(template: Template, order: Order, workshop: Workshop) -> tuple[str, ...]:
    """The fields of a row that the design has no place for.

    The edition's year is no typed text: a blank cell means it too.
    """
    return tuple(
        field
        for field, text in order.fields
        if field not in template.fields
        and not (field == YEAR and text == str(workshop.edition_year))
    )


def _about(kind: FlagKind, field: str, template: Template, order: Order) -> Flag:
    return Flag(kind, order.where(field), field, None, template.title)
