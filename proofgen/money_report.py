"""What is printed about the money of a book: for a person, or one JSON object for a program."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from proofgen.money.account import Account, rates, total
from proofgen.money.cost import HAND, MACHINE
from proofgen.money.table import table
from proofgen.printed import as_object
from proofgen.reckoning import NO_PRICE, by_order

if TYPE_CHECKING:
    from proofgen.accounts_command import Accounts, Needed
    from proofgen.reckoning import LeftOut, Reckoned
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
    if found.needed:
        lines += ["", *_needed(found)]
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
        "price_for_wage": [_needed_as_dict(each) for each in found.needed],
        "price_for_wage_by_row": [
            {"order": e.order.number, "row": e.order.source.row, "price": _sum(e.price)}
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
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(
            cell.ljust(width) if i < _WORDS else cell.rjust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _cells(row: Reckoned, workshop: Workshop) -> tuple[str, ...]:
    name = " ".join(row.order.field("name").split())
    where = "quoted" if row.quoted else "catalogue"
    told = where if row.sold else f"{where}, not sold yet"
    return (row.order.number, name, row.title, *_numbers(row.account, workshop), told)


def _sums(number: str, what: str, rows: Sequence[Reckoned], workshop: Workshop) -> tuple[str, ...]:
    return (number, what, "", *_numbers(total(r.account for r in rows), workshop), "")


def _numbers(account: Account, workshop: Workshop) -> tuple[str, ...]:
    found = rates(account, workshop.money)
    sums = (account.income, account.cost, account.profit, found.per_machine_minute, found.per_hour)
    return (str(account.pieces), *map(_text, sums))


def _in_full(found: Accounts) -> list[str]:
    lines: list[str] = []
    for number, own in by_order(found.rows).items():
        columns = [(" ".join(row.order.field("name").split()), row.account) for row in own]
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
        f"measured {_share(lost.rate)} ({_count(lost.spoiled, 'layer')} spoiled, {lost.good} good)"
    )
    which = "the measured one" if used == lost.rate != found.assumed else "that of the file"
    return [f"{assumed}; {own}; reckoned with {which}"]


def _share(value: Decimal) -> str:
    return f"{value * 100:.1f} %"


def _needed(found: Accounts) -> list[str]:
    money = found.workshop.money
    wage = f"{found.workshop.selling.currency}{money.amount(money.wage):f}"
    lines = [f"to earn {wage} an hour, one piece an order, without delivery, must cost"]
    for each in found.needed:
        span = f"{each.least:f} to {each.most:f}, the middle one {each.middle:f}"
        listed = "no price" if each.listed is None else f"{each.listed:f}"
        count = _count(each.pieces, "piece")
        lines.append(f"    {each.title}: {span} ({count}; catalogue: {listed})")
    lines.append("and by the piece")
    for piece in found.needed_pieces:
        name = " ".join(piece.order.field("name").split())
        lines.append(f"    {piece.order.number} {name}, {piece.title}: {piece.price:f}")
    return lines


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _text(value: Decimal | None) -> str:
    return "-" if value is None else f"{value:f}"


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
        "prices": _sum(account.listed),
        "discount": _sum(account.discount),
        "delivery": _sum(account.delivery),
        "income": _sum(account.income),
        "cost": _sum(account.cost),
        "profit": _sum(account.profit),
        "machine_minutes": str(account.minutes(MACHINE)),
        "hand_minutes": str(account.minutes(HAND)),
        "profit_a_piece": _sum(found.per_piece),
        "profit_a_machine_minute": _sum(found.per_machine_minute),
        "earned_an_hour": _sum(found.per_hour),
        "lines": [
            {"kind": e.kind, "what": e.what, "amount": _sum(e.amount), "minutes": str(e.minutes)}
            for e in account.lines
        ],
    }


def _sum(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:f}"


def _needed_as_dict(each: Needed) -> dict[str, Any]:
    sums: Iterable[tuple[str, Decimal | None]] = (
        ("least", each.least),
        ("middle", each.middle),
        ("most", each.most),
        ("listed", each.listed),
    )
    return {
        "design": each.design,
        "pieces": each.pieces,
        **{name: _sum(value) for name, value in sums},
    }
