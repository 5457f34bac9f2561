"""The work for each order, step by step, and the slip that is packed with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.jobsheet.data import Board, Item, OrderWork, Slip, Step, Tray
from proofgen.jobsheet.joints import joints
from proofgen.jobsheet.sessions import to_stain
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Workshop

# The picture of a row of an order, by number and line, where there is one.
Pictures = Mapping[tuple[str, int], Path]


def work_of(
    rows: Sequence[Made],
    trays: Sequence[Tray],
    steps: Iterable[Step],
    boards: Sequence[Board],
    workshop: Workshop,
) -> OrderWork:
    """What is done for the order of these rows; `trays` are its own."""
    own = {tray.number for tray in trays}
    stained = [
        board
        for board in boards
        if to_stain(board) and any(piece.tray in own for piece in board.pieces)
    ]
    first = [
        (f"Stain board {board.job.id}", workshop.finish(board.stain).title) for board in stained
    ]
    return OrderWork(
        number=rows[0].order.number,
        buyer=_first(made.order.buyer for made in rows),
        due=_first(made.order.due for made in rows),
        trays=tuple(tray.number for tray in trays),
        steps=(*first, *_together([step for step in steps if step.tray in own], len(own))),
        joints=tuple(joints(trays, workshop.steps.glue_inset)),
    )


def _together(steps: Iterable[Step], trays: int) -> tuple[tuple[str, str], ...]:
    """A line for each step, trays of which the same is done together; all of them are not named."""
    groups: dict[tuple[int, str, str, str], list[int]] = {}
    for step in steps:
        groups.setdefault((step.rank, step.title, step.what, step.wait), []).append(step.tray)
    found = []
    for (_, title, what, wait), numbers in sorted(groups.items(), key=lambda g: (g[0][0], g[1])):
        named = "" if len(numbers) == trays else trays_said(numbers)
        found.append((title, "; ".join(filter(None, (named, what, wait)))))
    return tuple(found)


def trays_said(numbers: Sequence[int]) -> str:
    """The trays in words."""
    return f"tray{'' if len(numbers) == 1 else 's'} {', '.join(map(str, numbers))}"


def slip_of(
    rows: Sequence[Made],
    trays: Sequence[Tray],
    pictures: Pictures,
    workshop: Workshop,
    asked: Decimal | None = None,
) -> Slip:
    """The slip of the order of these rows; nothing of any other order is on it. `asked` is the
    catalogue's price, for an order that is not quoted.
    """
    orders = [made.order for made in rows]
    quoted, paid = (_sum(orders, which) for which in ("quoted", "paid"))
    price = asked if quoted is None else quoted
    balance = None if price is None else price - (paid or 0)
    return Slip(
        number=orders[0].number,
        buyer=_first(order.buyer for order in orders),
        due=_first(order.due for order in orders),
        delivery=_first(order.delivery for order in orders),
        items=tuple(_item(made, trays, pictures) for made in rows),
        price=_money(price, workshop),
        paid=_money(paid, workshop),
        balance=_money(balance, workshop),
    )


def _item(made: Made, trays: Sequence[Tray], pictures: Pictures) -> Item:
    order = made.order
    title = made.artwork.title if made.artwork else order.design
    return Item(
        name=order.called or title,
        title=title,
        count=order.quantity,
        code=made.code,
        trays=tuple(tray.number for tray in trays if tray.line == order.line),
        picture=pictures.get((order.number, order.line)),
    )


def _sum(orders: Sequence[Order], which: str) -> Decimal | None:
    """The sum of what the lines say; None where none of them says anything."""
    said = [getattr(order, which) for order in orders]
    known = [amount for amount in said if amount is not None]
    return sum(known, Decimal()) if known else None


def _money(amount: Decimal | None, workshop: Workshop) -> str:
    if amount is None:
        return ""
    rounded = workshop.money.amount(abs(amount))
    return f"{'-' if amount < 0 else ''}{workshop.selling.currency}{rounded:f}"


def _first(texts: Iterable[str]) -> str:
    return next(filter(None, texts), "")
