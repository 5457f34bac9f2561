"""What a piece costs, line by line, before anything is rounded."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from proofgen.errors import UnusableError
from proofgen.money.work import MESSAGING, Work
from proofgen.workshop.money import Exact, Money
from proofgen.workshop.workshop import Workshop

# Kinds of lines, as a table lists them. What is done by HAND is the maker's own and paid to
# nobody; AGAIN goes before what is done a second time because a piece was spoiled.
MATERIAL, MACHINE, HAND, EXTRA, FEES, DELIVERY = KINDS = (
    *("material", "machine", "hand", "extra", "fees", "delivery"),
)
AGAIN = "again"


@dataclass(frozen=True, slots=True)
class Line:
    """What is paid for and how much; `minutes` are those of the machine or of the maker's hands."""

    kind: str
    what: str
    amount: Decimal
    minutes: Decimal = Decimal()


@dataclass(frozen=True, slots=True)
class Rough:
    """A line whose amount is not rounded yet."""

    kind: str
    what: str
    exact: Fraction
    minutes: Decimal = Decimal()


def cost_of_piece(work: Work, workshop: Workshop) -> Iterator[Rough]:
    """The lines of a piece: boards, machine, hand work, what is made again, extras.

    Raises UnusableError where the workshop file has no price for a material.
    """
    made = [*_material(work, workshop), *_machine(work, workshop.money)]
    made += _hand(work, workshop.money)
    yield from made
    yield from _again(made, workshop.money)
    yield from _extras(work, workshop)


def messaging(minutes: Decimal, money: Money) -> Rough:
    """So many minutes of writing with the buyer."""
    return Rough(HAND, MESSAGING, _wages(minutes, money), minutes)


def _material(work: Work, workshop: Workshop) -> Iterator[Rough]:
    used: dict[str, Decimal] = {}
    for each, area in work.layers:
        used[each] = used.get(each, Decimal()) + area
    for wanted, area in used.items():
        material = workshop.material(wanted)
        board = material.price
        if board is None:
            raise UnusableError(
                f"{workshop.source}, materials.{wanted}: has no price; write what a board costs, "
                "such as price = { amount = 6, width = 600, height = 300 }."
            )
        kept = Fraction(board.width) * Fraction(board.height) * (1 - Fraction(workshop.money.waste))
        yield Rough(MATERIAL, material.title, Fraction(board.amount) * Fraction(area) / kept)


def _machine(work: Work, money: Money) -> Iterator[Rough]:
    exact = Fraction(work.machine) * Fraction(money.machine_minute)
    yield Rough(MACHINE, "machine", exact, work.machine)


def _hand(work: Work, money: Money) -> Iterator[Rough]:
    each = dict(money.hand)
    for step, times in work.hand():
        minutes = each[step] * times
        yield Rough(HAND, step, _wages(minutes, money), minutes)


def _again(made: list[Rough], money: Money) -> Iterator[Rough]:
    """What spoiled pieces cost; they are packed but once."""
    for kind in (MATERIAL, MACHINE, HAND):
        lost = [line for line in made if line.kind == kind and line.what != "packing"]
        exact = sum((line.exact for line in lost), Fraction()) * Fraction(money.loss)
        minutes = sum((line.minutes for line in lost), Decimal()) * money.loss
        yield Rough(kind, f"{AGAIN}: {kind}", exact, minutes)


def _extras(work: Work, workshop: Workshop) -> Iterator[Rough]:
    hangers = [hanger.id for hanger in workshop.hangers]
    for each, amount in workshop.money.extras:
        if each == work.hanger or each not in hangers:
            yield Rough(EXTRA, each, Fraction(amount))


def _wages(minutes: Exact, money: Money) -> Fraction:
    return Fraction(minutes) * Fraction(money.wage) / 60
