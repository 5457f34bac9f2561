"""A template drawn larger or smaller."""

from __future__ import annotations

from dataclasses import replace

from proofgen.designs.design import Growth, Slot, SymbolSlot, Template, TemplateLayer
from proofgen.designs.read_layer import combined
from proofgen.geometry.affine import Affine, Point
from proofgen.workshop.workshop import Bound


def scaled(template: Template, factor: float) -> Template:
    """All that is drawn, times the factor, about the origin.

    What the workshop sets keeps its size: a hanger's hole, the least cap heights, a backing's
    growth.
    """
    if factor == 1:
        return template
    width, height = template.size
    return replace(
        template,
        size=(width * factor, height * factor),
        layers=tuple(_layer(layer, factor) for layer in template.layers),
        slots=tuple(_slot(slot, factor) for slot in template.slots),
        symbol_slots=tuple(_symbol_slot(slot, factor) for slot in template.symbol_slots),
        growth=tuple(_growth(growth, factor) for growth in template.growth),
    )


def _layer(layer: TemplateLayer, factor: float) -> TemplateLayer:
    by = Affine.scale(factor)
    return replace(
        layer,
        marks=tuple(replace(mark, path=mark.path.moved(by)) for mark in layer.marks),
        hole=by(layer.hole) if layer.hole else None,
        sha256=combined(layer.sha256, f"size {factor:.6g}"),
    )


def _slot(slot: Slot, factor: float) -> Slot:
    by = Affine.scale(factor)
    cap_height = slot.cap_height
    return replace(
        slot,
        zone=_corners(slot.zone, factor),
        path=slot.path.moved(by) if slot.path else None,
        anchor=slot.anchor * factor,
        baseline=None if slot.baseline is None else slot.baseline * factor,
        cap_height=Bound(cap_height.least, max(cap_height.least, cap_height.wanted * factor)),
    )


def _symbol_slot(slot: SymbolSlot, factor: float) -> SymbolSlot:
    return replace(slot, zone=_corners(slot.zone, factor))


def _growth(growth: Growth, factor: float) -> Growth:
    return replace(growth, at=growth.at * factor, most=growth.most * factor)


def _corners(zone: tuple[Point, ...], factor: float) -> tuple[Point, ...]:
    return tuple(map(Affine.scale(factor), zone))
