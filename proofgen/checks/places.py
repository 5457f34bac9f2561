"""The zones of a layer, and how findings call them and places."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.checks.wood import Wood
from proofgen.designs.design import Slot, Template
from proofgen.designs.symbols import FIELD
from proofgen.geometry.affine import Point
from proofgen.orders.order import ORDER


@dataclass(frozen=True, slots=True)
class Place:
    """A zone of a layer, of lettering or of the symbol, and what it is called in its drawing."""

    element: str
    field: str
    side: str
    made: str
    zone: tuple[Point, ...]


def placed(wood: Wood, template: Template) -> tuple[Place, ...]:
    """The zones of a layer."""
    places = [
        Place(_element(s), s.field, s.side, s.made, s.zone)
        for s in template.slots
        if s.layer == wood.layer.name
    ]
    places += [
        Place("zone.symbol", FIELD, s.side, s.made, s.zone)
        for s in template.symbol_slots
        if s.layer == wood.layer.name
    ]
    return tuple(places)


def spot(place: Point) -> str:
    """A place as findings tell it."""
    return f"{place[0]:.1f}, {place[1]:.1f} mm"


def _element(slot: Slot) -> str:
    return "identity" if slot.field == ORDER else f"zone.{slot.field}"
