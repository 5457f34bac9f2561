"""How a season's figures are told, on the page and in the workbook."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from proofgen.money.account import rates
from proofgen.money.cost import HAND, MACHINE
from proofgen.season.figures import Season
from proofgen.workshop.workshop import Workshop

CAUTION = (
    "Costs and profits are estimates: minutes by hand, waste and loss are the workshop file's, "
    "machine minutes are reckoned and not timed. They are no accounts for a tax office."
)
SEVERAL = "An order of several designs counts for each of them."
WEEKS = "By the Monday of the week in which an order was asked for, else first drawn."
PROOFS = "Orders by the pictures drawn until the approval, for each approved piece."
DAYS = "Orders by the days from Requested to the hand-over; only those that have both."
LOST = "Layers of wood noted as spoiled, by the reason given."
NAMES = "Every row of the book, sold or not; an approved one as it was approved."


@dataclass(frozen=True, slots=True)
class Told:
    """Where a season's figures come from: book, day (ISO), the workshop as it was reckoned with."""

    title: str
    book: str
    day: str
    workshop: Workshop

    def sum(self, value: Decimal) -> str:
        """An amount with its currency, such as -$3.20."""
        sign = "-" if value < 0 else ""
        shown = self.workshop.money.amount(abs(value))
        return f"{sign}{self.workshop.selling.currency}{shown:f}"


def key_figures(season: Season, told: Told) -> tuple[tuple[str, Decimal | int | None, bool], ...]:
    """What, how much, and whether it is an amount of money; None where it cannot be told."""
    whole, account = season.whole, season.whole.account
    found = rates(account, told.workshop.money)
    return (
        ("rows in the book", len(season.rows), False),
        ("orders sold", whole.orders, False),
        ("pieces sold", whole.pieces, False),
        ("pieces reckoned", whole.reckoned, False),
        ("income", account.income, True),
        ("cost, your hours included", account.cost, True),
        ("profit", account.profit, True),
        ("profit a piece", found.per_piece, True),
        ("earned an hour of yours", found.per_hour, True),
        ("your hours", _hours(account.minutes(HAND)), False),
        ("hours of the machine", _hours(account.minutes(MACHINE)), False),
    )


def sentences(season: Season) -> Sequence[tuple[str, str]]:
    """What is told of proofs, days and losses in a sentence, by what it is about."""
    lost = season.losses
    return (
        ("proofs", _proofs(season)),
        ("days", "" if season.middle is None else f"Half of them took {season.middle:g} or less."),
        (
            "losses",
            f"{lost.spoiled} spoiled, {lost.good} good"
            + ("." if lost.rate is None else f": {lost.rate * 100:.1f} for each 100 good ones."),
        ),
    )


def _proofs(season: Season) -> str:
    if not season.approvals:
        return ""
    each = season.pictures / season.approvals
    return f"{season.pictures} pictures for {season.approvals} approvals, {each:.2f} each."


def _hours(minutes: Decimal) -> Decimal:
    return round(minutes / 60, 1)
