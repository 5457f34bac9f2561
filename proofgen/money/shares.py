"""Sharing amounts so that no cent is lost: the parts always add up to the whole."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import floor

from proofgen.workshop.money import Exact, Money


def shared(amount: Decimal, weights: Sequence[Exact], decimals: int) -> tuple[Decimal, ...]:
    """An amount of so many decimals shared by weight, or equally where nothing weighs anything.

    There is at least one weight and none is negative.
    """
    heavy = [Fraction(each) for each in weights]
    if not any(heavy):
        heavy = [Fraction(1)] * len(heavy)
    whole = sum(heavy, Fraction())
    return _apportioned(amount, [Fraction(amount) * each / whole for each in heavy], decimals)


def rounded_together(exact: Sequence[Exact], money: Money) -> tuple[Decimal, ...]:
    """Each within one unit of what it is exactly, all together the rounded sum."""
    parts = [Fraction(each) for each in exact]
    return _apportioned(money.amount(sum(parts, Fraction())), parts, money.decimals)


def _apportioned(amount: Decimal, exact: Sequence[Fraction], decimals: int) -> tuple[Decimal, ...]:
    """By largest remainder: what rounding down leaves goes, a unit each, where most was cut off."""
    parts = [each * 10**decimals for each in exact]
    units = [floor(part) for part in parts]
    left = int(Fraction(amount) * 10**decimals) - sum(units)
    for i in sorted(range(len(parts)), key=lambda i: units[i] - parts[i])[:left]:
        units[i] += 1
    return tuple(Decimal(each).scaleb(-decimals) for each in units)
