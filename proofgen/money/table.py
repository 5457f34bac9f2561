"""Accounts side by side, as a table of text."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal

from proofgen.money.account import Account, rates, total
from proofgen.money.cost import HAND, KINDS, MACHINE
from proofgen.workshop.workshop import Workshop

GAP = "  "

Value = Callable[[Account], Decimal]
Row = tuple[str, list[str]]


def table(columns: Sequence[tuple[str, Account]], workshop: Workshop) -> str:
    """One column an account, under its title; amounts in the workshop's currency.

    Below stand the minutes of the machine and of the maker's hands, and what they come to.
    """
    accounts = [account for _, account in columns]
    rows = [("", [title for title, _ in columns])]
    rows += [
        (what, [_text(workshop.money.amount(value(account))) for account in accounts])
        for what, value in _amounts(accounts)
    ]
    rows += [*_counted(accounts), *_rates(accounts, workshop)]
    widths = [max(len(cells[i]) for _, cells in rows) for i in range(len(columns))]
    first = max(len(what) for what, _ in rows)
    lines = [
        GAP.join((what.ljust(first), *(c.rjust(w) for c, w in zip(cells, widths, strict=True))))
        for what, cells in rows
    ]
    return "\n".join(line.rstrip() for line in lines)


def _amounts(accounts: Sequence[Account]) -> list[tuple[str, Value]]:
    lines = sorted(total(accounts).lines, key=lambda line: KINDS.index(line.kind))
    return [
        ("prices", lambda a: a.listed),
        ("discount", lambda a: -a.discount),
        ("delivery asked", lambda a: a.delivery),
        ("the buyer pays", lambda a: a.income),
        *((line.what, _amount_of(line.kind, line.what)) for line in lines if line.amount),
        ("cost", lambda a: a.cost),
        ("profit", lambda a: a.profit),
    ]


def _amount_of(kind: str, what: str) -> Value:
    def amount(account: Account) -> Decimal:
        found = (line.amount for line in account.lines if (line.kind, line.what) == (kind, what))
        return sum(found, Decimal())

    return amount


def _counted(accounts: Sequence[Account]) -> list[Row]:
    return [
        ("pieces", [str(each.pieces) for each in accounts]),
        ("machine minutes", [f"{each.minutes(MACHINE):.1f}" for each in accounts]),
        ("minutes by hand", [f"{each.minutes(HAND):.1f}" for each in accounts]),
    ]


def _rates(accounts: Sequence[Account], workshop: Workshop) -> list[Row]:
    found = [rates(account, workshop.money) for account in accounts]
    wage = _text(workshop.money.amount(workshop.money.wage))
    wanted = f"earned an hour (wanted {workshop.selling.currency}{wage})"
    return [
        ("profit a piece", [_text(each.per_piece) for each in found]),
        ("profit a machine minute", [_text(each.per_machine_minute) for each in found]),
        (wanted, [_text(each.per_hour) for each in found]),
    ]


def _text(value: Decimal | None) -> str:
    return "-" if value is None else f"{value:f}"
