"""What the catalogue asks for a piece, and the workshop for an order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from proofgen.workshop.money import Delivery, Money
from proofgen.workshop.workshop import Catalogue

NO_DELIVERY = Delivery("", Decimal(), Decimal())


def price(design: str, options: Mapping[str, str], catalogue: Catalogue) -> Decimal | None:
    """The price of a design with its options (size, finish, hanger, symbol: the id chosen).

    None where the catalogue names none for the design; never less than nothing.
    """
    base = dict(catalogue.prices).get(design)
    if base is None:
        return None
    added = (adds for column, each, adds in catalogue.options if options.get(column) == each)
    return max(base + sum(added, Decimal()), Decimal() * base)


def discount(prices: Sequence[Decimal], money: Money) -> Decimal:
    """What is taken off an order of these prices."""
    return money.amount(Fraction(sum(prices, Decimal())) * Fraction(money.discount(len(prices))))


def asked(prices: Sequence[Decimal], money: Money, way: Delivery) -> Decimal:
    """What the buyer of an order of these prices pays, once the discount is off."""
    return money.amount(sum(prices, Decimal()) - discount(prices, money) + way.asked)


def delivery(said: str, money: Money) -> Delivery | None:
    """The way of handing over of that id, whatever its case; none for a blank, None for another."""
    if not said.strip():
        return NO_DELIVERY
    wanted = said.strip().casefold()
    return next((way for way in money.deliveries if way.id.casefold() == wanted), None)
