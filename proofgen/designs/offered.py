"""What a design lets a row choose from; the first of each is what a blank cell means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import starmap

from proofgen.designs.choices import Named, match
from proofgen.designs.design import Template
from proofgen.designs.read import NO_HANGER
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Finish, Hanger, Workshop

NOTHING = Hanger(NO_HANGER, "none", 0.0, 0.0, (0, 0, 0))


@dataclass(frozen=True, slots=True)
class Size:
    """A size that a row may choose."""

    id: str
    factor: float

    @property
    def title(self) -> str:
        """What a person reads."""
        return self.id.replace("-", " ")


def finishes(template: Template, workshop: Workshop) -> tuple[Finish, ...]:
    """Those for the layers whose finish the row chooses; none where there are no such layers."""
    return tuple(workshop.finish(wanted) for wanted in template.finishes)


def hangers(template: Template, workshop: Workshop) -> tuple[Hanger, ...]:
    """Those that the design has a place for."""
    known = {hanger.id: hanger for hanger in (NOTHING, *workshop.hangers)}
    return tuple(known[wanted] for wanted in template.hangers)


def sizes(template: Template) -> tuple[Size, ...]:
    """At least one, also where the design names none."""
    return tuple(starmap(Size, template.sizes)) or (Size("standard", 1.0),)


def chosen(order: Order, template: Template, workshop: Workshop) -> dict[str, str]:
    """By column (size, finish, hanger, symbol) the id of what a row chooses, the usual one for a
    blank cell; without columns that the design does not offer, and without what there is not.
    """
    usual = {slot.default for slot in template.symbol_slots}
    offered: dict[str, tuple[Sequence[Named], str]] = {
        "size": _first(sizes(template)),
        "finish": _first(finishes(template, workshop)),
        "hanger": _first(hangers(template, workshop)),
        "symbol": (template.symbol_drawings, usual.pop() if len(usual) == 1 else ""),
    }
    ids: dict[str, str] = {}
    for column, (there, blank) in offered.items():
        typed = order.option(column)
        found = match(typed, (*there, NOTHING)) if typed and there else None
        chosen_id = found.id if found else "" if typed else blank
        if chosen_id:
            ids[column] = chosen_id
    return ids


def _first(offered: Sequence[Named]) -> tuple[Sequence[Named], str]:
    return offered, offered[0].id if offered else ""
