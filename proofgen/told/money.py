"""What is printed about the money of a book: for a person, or one JSON object for a program."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from proofgen.books.reckoning import NO_PRICE, by_order
from proofgen.money.account import Account, rates, total
from proofgen.money.cost import HAND, MACHINE
from proofgen.money.table import table
from proofgen.told.money_extras import (
    aligned,
    counted,
    needed_as_dict,
    needed_as_text,
    sheet_as_dict,
    sheets_as_text,
    sum_as_text,
    sum_or_none,
)
from proofgen.told.printed import as_object

if TYPE_CHECKING:
    from proofgen.books.accounts import Accounts
    from proofgen.books.reckoning import LeftOut, Reckoned
    from proofgen.workshop.workshop import Workshop

_VERSION = 1
_HEAD = (
    "order",
    "name",
    "design",
    "pieces",
    "pays",
    "cost",
    "profit",
    "profit/min",
    "earned/h",
    "",
)
_WORDS = 3  # of these columns stand at the left
KEY = "profit/min: by minute of the machine; earned/h: what an hour of your own brings in"
CAUTION = (
    "Estimates: minutes by hand, loss and waste are the workshop file's, machine minutes are "
    "reckoned and not timed."
)


def as_text(found: Accounts, *, in_full: bool = False) -> str:
    """A line a row and an order of several, then the totals; `in_full` every line of cost."""
    lines = _in_full(found) if in_full else _lines(found)
    lines += dict.fromkeys(f"not reckoned: {_left(each)}" for each in found.left)
    if not in_full:
        lines += [KEY, "", table(_totals(found.rows), found.workshop)]
    lines += ["", *_losses(found)]
    if found.sheets:
        lines += ["", *sheets_as_text(found)]
    if found.needed:
        lines += ["", *needed_as_text(found)]
    elif any(each.why.endswith(NO_PRICE) for each in found.left):
        lines += ["", "what a piece without price must cost to earn your wage: --price-for-wage"]
    return "\n".join([*lines, CAUTION])


def as_json(found: Accounts) -> str:
    """The same, in full; sums of money are texts, so that no program rounds them."""
    lost = found.losses
    value = {
        "version": _VERSION,
        "currency": found.workshop.selling.currency,
        "wage": str(found.workshop.money.wage),
        "rows": [_row(each, found.workshop) for each in found.rows],
        "orders": [
            {"order": number, **_account(total(r.account for r in rows), found.workshop)}
            for number, rows in by_order(found.rows).items()
        ],
        "sold": _account(total(r.account for r in found.rows if r.sold), found.workshop),
        "all": _account(total(r.account for r in found.rows), found.workshop),
        "not_reckoned": [
            {"order": each.order.number, "row": each.order.source.row, "why": each.why}
            for each in found.left
        ],
        "loss": {
            "assumed": str(found.assumed),
            "measured": None if lost.rate is None else str(lost.rate),
            "reckoned_with": str(found.workshop.money.loss),
            "good": lost.good,
            "spoiled": lost.spoiled,
            "reasons": [{"why": why, "layers": count} for why, count in lost.reasons],
        },
        "sheets": [sheet_as_dict(each) for each in found.sheets],
        "price_for_wage": [needed_as_dict(each) for each in found.needed],
        "price_for_wage_by_row": [
            {"order": e.order.number, "row": e.order.source.row, "price": sum_or_none(e.price)}
            for e in found.needed_pieces
        ],
    }
    return as_object(value)


def _lines(found: Accounts) -> list[str]:
    rows: list[tuple[str, ...]] = [_HEAD]
    for number, own in by_order(found.rows).items():
        rows += (_cells(each, found.workshop) for each in own)
        if len(own) > 1:
            rows.append(_sums(number, "the whole order", own, found.workshop))
    return aligned(rows, _WORDS)


def _cells(row: Reckoned, workshop: Workshop) -> tuple[str, ...]:
    name = row.order.called
    where = "quoted" if row.quoted else "catalogue"
    told = where if row.sold else f"{where}, not sold yet"
    return (row.order.number, name, row.title, *_numbers(row.account, workshop), told)


def _sums(number: str, what: str, rows: Sequence[Reckoned], workshop: Workshop) -> tuple[str, ...]:
    return (number, what, "", *_numbers(total(r.account for r in rows), workshop), "")


def _numbers(account: Account, workshop: Workshop) -> tuple[str, ...]:
    found = rates(account, workshop.money)
    sums = (account.income, account.cost, account.profit, found.per_machine_minute, found.per_hour)
    return (str(account.pieces), *map(sum_as_text, sums))


def _in_full(found: Accounts) -> list[str]:
    lines: list[str] = []
    for number, own in by_order(found.rows).items():
        columns = [(row.order.called, row.account) for row in own]
        if len(own) > 1:
            columns.append(("the order", total(row.account for row in own)))
        lines += [f"order {number}", table(columns, found.workshop)]
    return lines


def _totals(rows: Sequence[Reckoned]) -> list[tuple[str, Account]]:
    sold = total(row.account for row in rows if row.sold)
    whole = total(row.account for row in rows)
    return [("sold", sold), ("all", whole)]


def _left(each: LeftOut) -> str:
    return f"{each.order.number}: {each.why}"


def _losses(found: Accounts) -> list[str]:
    lost, used = found.losses, found.workshop.money.loss
    assumed = f"loss: the workshop file says {_share(found.assumed)}"
    if lost.rate is None:
        return [f"{assumed}; none is measured yet"]
    own = (
        f"measured {_share(lost.rate)} ({counted(lost.spoiled, 'layer')} spoiled, {lost.good} good)"
    )
    which = "the measured one" if used == lost.rate != found.assumed else "that of the file"
    return [f"{assumed}; {own}; reckoned with {which}"]


def _share(value: Decimal) -> str:
    return f"{value * 100:.1f} %"


def _row(row: Reckoned, workshop: Workshop) -> dict[str, Any]:
    return {
        "order": row.order.number,
        "line": row.order.line,
        "row": row.order.source.row,
        "design": row.design,
        "quoted": row.quoted,
        "sold": row.sold,
        **_account(row.account, workshop),
    }


def _account(account: Account, workshop: Workshop) -> dict[str, Any]:
    found = rates(account, workshop.money)
    return {
        "pieces": account.pieces,
        "prices": sum_or_none(account.listed),
        "discount": sum_or_none(account.discount),
        "delivery": sum_or_none(account.delivery),
        "income": sum_or_none(account.income),
        "cost": sum_or_none(account.cost),
        "profit": sum_or_none(account.profit),
        "machine_minutes": str(account.minutes(MACHINE)),
        "hand_minutes": str(account.minutes(HAND)),
        "profit_a_piece": sum_or_none(found.per_piece),
        "profit_a_machine_minute": sum_or_none(found.per_machine_minute),
        "earned_an_hour": sum_or_none(found.per_hour),
        "lines": [
            {
                "kind": e.kind,
                "what": e.what,
                "amount": sum_or_none(e.amount),
                "minutes": str(e.minutes),
            }
            for e in account.lines
        ],
    }
