"""What an order would lose on another design."""

from __future__ import annotations

from proofgen.designs.design import Template
from proofgen.designs.offered import NOTHING, chosen
from proofgen.designs.texts import text_of
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Workshop

# What a blank cell of these means is no wish, so that it is not missed.
WISHES = ("size", "finish")


def lost(order: Order, now: Template, other: Template, workshop: Workshop) -> str:
    """A sentence of the fields and choices that are made now and that the other design has not;
    an empty text where there are none.
    """
    fields = dict.fromkeys(slot.field for slot in now.slots if text_of(order, slot))
    unlettered = [field for field in fields if field in now.fields and field not in other.fields]
    missing = _choices(order, now, other, workshop)
    parts = (
        f"letters no {_listed(unlettered)}" if unlettered else "",
        f"has no {_listed(missing)}" if missing else "",
    )
    said = " and ".join(part for part in parts if part)
    return f"{other.title} {said}." if said else ""


def _choices(order: Order, now: Template, other: Template, workshop: Workshop) -> list[str]:
    there = chosen(order, other, workshop)
    return [
        column
        for column, choice in chosen(order, now, workshop).items()
        if column not in there and choice != NOTHING.id
        if column not in WISHES or order.option(column)
    ]


def _listed(words: list[str]) -> str:
    return " or ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)
