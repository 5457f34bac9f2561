"""What is lettered where a row has no text of its own."""

from __future__ import annotations

from proofgen.designs.design import Slot
from proofgen.orders.order import ORDER, Order

NONE = "none"  # what a row writes that leaves a text, symbol or hanger out
# Texts that are never left out: somebody may be called so.
ALWAYS = ("name", ORDER)


def text_of(order: Order, slot: Slot) -> str:
    """What the slot letters for this order, an empty text for nothing: `none` leaves a text out,
    but for a name's.
    """
    typed = order.field(slot.field)
    if typed.strip().casefold() == NONE and slot.field not in ALWAYS:
        return ""
    return typed or slot.usual
