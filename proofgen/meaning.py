"""What a cell means in a workshop: two spellings of one choice ask for the same."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.designs.choices import Named, match
from proofgen.designs.design import Template
from proofgen.designs.offered import NOTHING, finishes, hangers, sizes
from proofgen.designs.resolve import YEAR, find
from proofgen.orders.columns import OPTIONS
from proofgen.orders.order import Order
from proofgen.orders.typography import typographic
from proofgen.records.record import Meant
from proofgen.shop import Shop


def meaning(order: Order, shop: Shop) -> Meant:
    """What each cell of this line, or of a picture of it, means: the id of a choice, the usual one
    for a blank; lettering as it is tidied, the edition's year for a blank one.
    """
    template, _ = find(shop.templates, order.design)

    def meant(column: str, text: str) -> str:
        if column == "design":
            found, _ = find(shop.templates, text)
            return found.id if found else text
        if column in OPTIONS:
            return _choice(column, text, template, shop)
        if column == YEAR:
            return text or str(shop.workshop.edition_year)
        return typographic(text)[0] if shop.workshop.typography else text

    return meant


def _choice(column: str, text: str, template: Template | None, shop: Shop) -> str:
    offered, usual = _offered(column, template, shop) if template else ((), "")
    found = match(text, (*offered, NOTHING)) if text else None
    return (found.id if found else text.casefold()) or usual


def _offered(column: str, template: Template, shop: Shop) -> tuple[Sequence[Named], str]:
    """What there is to choose from, and the id of what a blank cell means."""
    if column == "symbol":
        usual = {slot.default for slot in template.symbol_slots}
        return template.symbol_drawings, usual.pop() if len(usual) == 1 else ""
    if column == "face":
        return tuple(shop.bench.faces.values()), ""
    offered: dict[str, Sequence[Named]] = {
        "finish": finishes(template, shop.workshop),
        "hanger": hangers(template, shop.workshop),
        "size": sizes(template),
    }
    return offered[column], offered[column][0].id if offered[column] else ""
