"""What the workshop file says of money: wage, machine, boards, hand work, fees, discounts.

Amounts of money are Decimals of the currency's smallest unit; rates and shares are Decimals as
they were typed. Whatever is computed between them is an exact fraction.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor

# Work by hand, in its order. The first three count once a layer (staining: a stained layer),
# gluing once a joint of two layers, packing once a piece, messaging once an order.
HAND_STEPS = ("weeding", "sanding", "staining", "gluing", "packing", "messaging")

MINUTES_DECIMALS = 2  # of minutes by hand, so that they too are shared without loss

Exact = int | Decimal | Fraction


@dataclass(frozen=True, slots=True)
class BoardPrice:
    """What a board of that size costs; mm."""

    amount: Decimal
    width: Decimal
    height: Decimal

    def of(self, width: float, height: float) -> Fraction:
        """What a board of another size costs, by its area."""
        area = Fraction(width) * Fraction(height)
        return Fraction(self.amount) * area / Fraction(self.width * self.height)


@dataclass(frozen=True, slots=True)
class Fees:
    """What selling costs: a share of what the buyer pays, and a fixed amount an order."""

    share: Decimal
    fixed: Decimal


@dataclass(frozen=True, slots=True)
class Delivery:
    """A way of handing over: what the buyer pays for it, and what it costs; an order."""

    id: str
    asked: Decimal
    costs: Decimal


@dataclass(frozen=True, slots=True)
class Money:
    """The money of a workshop.

    `decimals` are those of the currency. `wage` is wanted for an hour of the maker's, and
    `machine_minute` a rate. `waste` is the share of a board that is thrown away; `loss` says how
    many pieces are made again for each one handed over. `hand` are minutes by HAND_STEPS.
    `extras` are amounts by id: one named like a hanger where a piece hangs on that, all others
    on every piece. `family` are discounts: from so many pieces of an order on, that share.
    """

    decimals: int
    wage: Decimal
    machine_minute: Decimal
    waste: Decimal
    loss: Decimal
    hand: tuple[tuple[str, Decimal], ...]
    extras: tuple[tuple[str, Decimal], ...]
    fees: Fees
    family: tuple[tuple[int, Decimal], ...]
    deliveries: tuple[Delivery, ...]

    def amount(self, exact: Exact) -> Decimal:
        """An amount of money, halves rounded up. The one place where a sum is rounded."""
        units = floor(Fraction(exact) * 10**self.decimals + Fraction(1, 2))
        return Decimal(units).scaleb(-self.decimals)

    def discount(self, pieces: int) -> Decimal:
        """The share that is taken off an order of that many pieces."""
        return next((s for least, s in reversed(self.family) if pieces >= least), Decimal())
