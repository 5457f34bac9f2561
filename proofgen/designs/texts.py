"""What is lettered where a row has no text of its own."""

from __future__ import annotations

from proofgen.designs.design import Slot
from proofgen.orders.order import Order

NONE = "none"  # what a row writes that leaves a usual text, symbol or hanger out


def text_of(order: Order, slot: Slot) -> str:
    """What the slot letters for this order, an empty text for nothing. Where the slot has a usual
    text, `none` leaves it out.
    """
    typed = order.field(slot.field)
    if not slot.usual:
        return typed
    return "" if typed.strip().casefold() == NONE else typed or slot.usual
