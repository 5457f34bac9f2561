"""What a price has to be so that the maker earns what she wants to."""

from __future__ import annotations

from bisect import bisect_left
from decimal import Decimal
from fractions import Fraction
from math import ceil

from proofgen.money.account import Account, total
from proofgen.money.cost import HAND
from proofgen.money.order import Piece, accounts
from proofgen.money.work import Work
from proofgen.workshop.workshop import Workshop


def price_for_wage(work: Work, workshop: Workshop, pieces: int = 1, delivery: str = "") -> Decimal:
    """The least price of a piece at which an order of so many alike earns the wanted wage.

    It is before the family discount. One unit of the currency less does not earn it.
    """
    money = workshop.money
    cent = Decimal(1).scaleb(-money.decimals)

    def enough(cents: int) -> bool:
        order = [Piece(work, cents * cent)] * pieces
        return earns_wage(total(accounts(order, workshop, delivery)), workshop)

    # Discount and fees are rounded, but never rise faster than the price does: what is enough
    # stays enough, so the least is found by halving.
    most = _enough(work, workshop, pieces, delivery)
    return bisect_left(range(most), True, key=enough) * cent


def earns_wage(account: Account, workshop: Workshop) -> bool:
    """Whether the maker's hours bring in the wanted wage, to the last fraction of a cent."""
    hours = Fraction(account.minutes(HAND)) / 60
    return Fraction(account.earned) >= Fraction(workshop.money.wage) * hours


def _enough(work: Work, workshop: Workshop, pieces: int, delivery: str) -> int:
    """A price in the smallest unit that is enough for sure: nothing shared out, all rounded up."""
    money = workshop.money
    free = total(accounts([Piece(work, Decimal())] * pieces, workshop, delivery))
    needed = Fraction(free.cost) + Fraction(money.fees.fixed)
    units = Fraction(10**money.decimals)
    kept = (1 - Fraction(money.fees.share)) * (1 - Fraction(money.discount(pieces)))
    return ceil((needed * units + 3) / kept)
