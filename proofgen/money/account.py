"""What came in and went out: of a piece, and added up of an order, a sheet, a season."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from proofgen.money.cost import HAND, MACHINE, Line
from proofgen.workshop.money import Money


@dataclass(frozen=True, slots=True)
class Account:
    """Amounts of some pieces. `listed` are their prices before the `discount`; `delivery` is what
    the buyer pays for it.
    """

    pieces: int
    listed: Decimal
    discount: Decimal
    delivery: Decimal
    lines: tuple[Line, ...]

    @property
    def income(self) -> Decimal:
        """What the buyer pays."""
        return self.listed - self.discount + self.delivery

    @property
    def cost(self) -> Decimal:
        """All lines, the maker's own hours at the wanted wage among them."""
        return sum((line.amount for line in self.lines), Decimal())

    @property
    def profit(self) -> Decimal:
        """What is left when the maker's hours are paid too."""
        return self.income - self.cost

    @property
    def earned(self) -> Decimal:
        """What the maker's hours bring in: what is left when all others are paid."""
        wages = (line.amount for line in self.lines if line.kind == HAND)
        return self.profit + sum(wages, Decimal())

    def minutes(self, kind: str) -> Decimal:
        """Minutes of the machine or of the maker's hands."""
        return sum((line.minutes for line in self.lines if line.kind == kind), Decimal())


NOTHING = Account(0, Decimal(), Decimal(), Decimal(), ())


@dataclass(frozen=True, slots=True)
class Rates:
    """Profit a piece and a machine minute, and what an hour of the maker's earns.

    None where there are no pieces, minutes or hours.
    """

    per_piece: Decimal | None
    per_machine_minute: Decimal | None
    per_hour: Decimal | None


def total(accounts: Iterable[Account]) -> Account:
    """All of them as one; lines of one kind and name become one line."""
    found = tuple(accounts)
    lines: dict[tuple[str, str], Line] = {}
    for line in (line for account in found for line in account.lines):
        key = line.kind, line.what
        known = lines.get(key, Line(*key, Decimal()))
        lines[key] = Line(*key, known.amount + line.amount, known.minutes + line.minutes)
    return Account(
        pieces=sum(each.pieces for each in found),
        listed=sum((each.listed for each in found), Decimal()),
        discount=sum((each.discount for each in found), Decimal()),
        delivery=sum((each.delivery for each in found), Decimal()),
        lines=tuple(lines.values()),
    )


def rates(account: Account, money: Money) -> Rates:
    """What the account comes to by piece, machine minute and hour."""
    hours = account.minutes(HAND) / 60
    return Rates(
        per_piece=_by(account.profit, Decimal(account.pieces), money),
        per_machine_minute=_by(account.profit, account.minutes(MACHINE), money),
        per_hour=_by(account.earned, hours, money),
    )


def _by(amount: Decimal, number: Decimal, money: Money) -> Decimal | None:
    return money.amount(amount / number) if number else None
