"""The account of an order, piece by piece: discount, fees, delivery and messages are shared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from proofgen.errors import UnusableError
from proofgen.money.account import Account
from proofgen.money.cost import DELIVERY, FEES, HAND, Line, cost_of_piece, messaging
from proofgen.money.price import NO_DELIVERY, discount
from proofgen.money.shares import rounded_together, shared
from proofgen.money.work import MESSAGING, Work
from proofgen.workshop.money import MINUTES_DECIMALS, Delivery, Money
from proofgen.workshop.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece that is sold: the work it takes and its price before any discount."""

    work: Work
    price: Decimal


def accounts(
    pieces: Sequence[Piece], workshop: Workshop, delivery: str = ""
) -> tuple[Account, ...]:
    """The accounts of the pieces of one order, at least one; all together are the order's.

    `delivery` is an id of the workshop file, or empty. Raises UnusableError for a way or a price
    of a material that the file does not have.
    """
    money, way = workshop.money, _way(delivery, workshop)
    prices = [piece.price for piece in pieces]
    equally = [1] * len(pieces)
    offs = shared(discount(prices, money), prices, money.decimals)
    asked, costs = (shared(each, equally, money.decimals) for each in (way.asked, way.costs))
    incomes = [p - o + a for p, o, a in zip(prices, offs, asked, strict=True)]
    fees = shared(_fees(sum(incomes, Decimal()), money), incomes, money.decimals)
    lines = _lines([piece.work for piece in pieces], workshop)
    return tuple(
        Account(1, prices[i], offs[i], asked[i], (*lines[i], *_paid(fees[i], costs[i])))
        for i in range(len(pieces))
    )


def _way(wanted: str, workshop: Workshop) -> Delivery:
    if not wanted:
        return NO_DELIVERY
    ways = {each.id: each for each in workshop.money.deliveries}
    if wanted not in ways:
        raise UnusableError(
            f"{workshop.source}, money, delivery: there is no '{wanted}'; "
            f"there is {', '.join(ways) or 'none'}."
        )
    return ways[wanted]


def _fees(income: Decimal, money: Money) -> Decimal:
    """Of the whole order, since it is paid at once."""
    return money.amount(Fraction(income) * Fraction(money.fees.share) + Fraction(money.fees.fixed))


def _paid(fees: Decimal, delivery: Decimal) -> tuple[Line, ...]:
    return Line(FEES, "fees", fees), Line(DELIVERY, "delivery", delivery)


def _lines(works: Sequence[Work], workshop: Workshop) -> list[tuple[Line, ...]]:
    """The lines of each piece, rounded over the whole order: paid ones, and the maker's own."""
    money = workshop.money
    once = shared(dict(money.hand)[MESSAGING], [1] * len(works), MINUTES_DECIMALS)
    rough = [
        (i, line)
        for i, work in enumerate(works)
        for line in (*cost_of_piece(work, workshop), messaging(once[i], money))
    ]
    own = [each for each in rough if each[1].kind == HAND]
    paid = [each for each in rough if each[1].kind != HAND]
    found: list[list[Line]] = [[] for _ in works]
    for group in (paid, own):
        amounts = rounded_together([line.exact for _, line in group], money)
        for (i, line), amount in zip(group, amounts, strict=True):
            found[i].append(Line(line.kind, line.what, amount, line.minutes))
    return [tuple(lines) for lines in found]
