"""What a buyer is asked to pay: what the book quotes, else what the catalogue says."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from proofgen.artwork.artwork import Made
from proofgen.designs.design import Template
from proofgen.designs.offered import chosen
from proofgen.designs.resolve import find
from proofgen.flags import kinds
from proofgen.money.price import asked, delivery, price
from proofgen.orders.order import Line, Order
from proofgen.workshop.money import Delivery
from proofgen.workshop.workshop import Workshop


def quoted_for(lines: Iterable[Order]) -> Decimal | None:
    """The sum of what is quoted for the lines of an order; None where nothing is."""
    sums = [line.quoted for line in lines if line.quoted is not None]
    return sum(sums, Decimal()) if sums else None


def listed(line: Order, templates: Mapping[str, Template], workshop: Workshop) -> Decimal | None:
    """The catalogue's price of one piece of a line, with its options; None where there is none."""
    template, _ = find(templates, line.design)
    if template is None:
        return None
    return price(template.id, chosen(line, template, workshop), workshop.catalogue)


def way_of(lines: Iterable[Order], workshop: Workshop) -> Delivery | None:
    """How the lines of an order are handed over: the first way said; None for an unknown one."""
    said = (line.delivery for line in lines if line.delivery)
    return delivery(next(said, ""), workshop.money)


def asked_for(
    lines: Sequence[Order], templates: Mapping[str, Template], workshop: Workshop
) -> Decimal | None:
    """What the catalogue asks for an order; None where a price or the way of delivery is open."""
    prices: list[Decimal] = []
    for line in lines:
        each = listed(line, templates, workshop)
        if each is None:
            return None
        prices += [each] * line.quantity
    way = way_of(lines, workshop)
    return asked(prices, workshop.money, way) if way else None


def prices(
    lines: Iterable[Order], templates: Mapping[str, Template], workshop: Workshop
) -> dict[str, Decimal]:
    """By order, what the catalogue asks for those of which no line is quoted."""
    orders: dict[str, list[Order]] = {}
    for line in lines:
        orders.setdefault(line.number, []).append(line)
    asked = {
        number: asked_for(own, templates, workshop)
        for number, own in orders.items()
        if quoted_for(own) is None
    }
    return {number: price for number, price in asked.items() if price is not None}


def unclear(rows: Iterable[Line | Made], workshop: Workshop) -> dict[str, str]:
    """By order, why it cannot be told what is to be paid: a sum that is none, or an order that is
    not quoted and handed over in an unknown way.
    """
    orders: dict[str, list[Line | Made]] = {}
    for row in rows:
        orders.setdefault(row.order.number, []).append(row)
    found = {number: _unclear(own, workshop) for number, own in orders.items()}
    return {number: why for number, why in found.items() if why}


def _unclear(rows: Sequence[Line | Made], workshop: Workshop) -> str:
    unread = (flag for row in rows for flag in row.flags if flag.kind is kinds.MONEY_UNREAD)
    for flag in unread:
        return f"{flag.where}: {flag.says}"
    lines = [row.order for row in rows]
    if quoted_for(lines) is None and way_of(lines, workshop) is None:
        line = next(line for line in lines if line.delivery)
        return f"{line.where('delivery')}: there is no way of delivery '{line.delivery}'"
    return ""
