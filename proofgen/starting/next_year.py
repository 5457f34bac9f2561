"""Next season's order book, from this season's buyers."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from string import Template as Text

from proofgen.designs.design import Template
from proofgen.designs.offered import chosen
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.orders.order import Order
from proofgen.orders.text import in_words
from proofgen.starting.book import order_book
from proofgen.starting.start import choices_of
from proofgen.workshop.workshop import USUAL_MESSAGE, Workshop

LINE = "Line to send"
MESSAGE = "next-year"
CHOICES = ("symbol", "finish", "hanger", "size")


@dataclass(frozen=True, slots=True)
class Following:
    """How many rows the new book has, which orders are not in it and why, and what was not carried
    over of those that are.
    """

    rows: int
    left: tuple[tuple[Order, str], ...]
    dropped: tuple[tuple[Order, str], ...] = ()


def next_year(
    orders: Iterable[Order],
    silent: Collection[str],
    templates: Mapping[str, Template],
    workshop: Workshop,
    file: Path,
) -> Following:
    """Write the book; `orders` are those that were bought, `silent`
    the buyers who are not to be asked, for whatever they ordered.

    The same names on the same designs with the next year, in the same symbol, finish, hanger and
    size where the design still has them; what was one order is one. No other text, price or
    approval is carried over. Designs with a message of their own, such as remembrance pieces, are
    left out, and buyers who are not to be asked, with all their orders. UnusableError where the
    file is there already.
    """
    if file.exists():
        raise UnusableError(f"{file} is there already; rename it or move it away.")
    unasked = {buyer.casefold() for buyer in silent}
    rows: dict[tuple[str, ...], tuple[Order, Template]] = {}
    left: list[tuple[Order, str]] = []
    for order in orders:
        template = templates.get(order.design)
        why = _why_not(order, template, unasked)
        if why or template is None:
            left.append((order, why))
            continue
        choices = _choices(order, template, workshop).values()
        key = (order.buyer.casefold(), order.field("name").casefold(), template.id, *choices)
        rows.setdefault(key, (order, template))
    if not rows:
        raise UnusableError(
            "nobody can be asked again: no row of the book is approved or made, names a buyer and "
            "may be asked."
        )
    offered = choices_of(tuple(templates.values()), workshop)
    write_bytes(file, order_book(offered, _numbered(rows.values(), workshop), (LINE,)))
    dropped = ((order, what) for each in rows.values() for order, what in _dropped(*each, workshop))
    return Following(len(rows), tuple(left), tuple(dropped))


def _numbered(
    rows: Iterable[tuple[Order, Template]], workshop: Workshop
) -> Iterator[dict[str, str]]:
    """The rows of the new book, those of one order together, its first with the line to send."""
    year = workshop.edition_year + 1
    orders: dict[tuple[str, str], list[tuple[Order, Template]]] = {}
    for order, template in rows:
        key = (order.buyer.casefold(), order.number.casefold())
        orders.setdefault(key, []).append((order, template))
    for number, own in enumerate(orders.values(), 1):
        said = _line(own, year, workshop)
        for order, template in own:
            row = _row(order, template, year, workshop)
            yield {**row, "Order": f"{year}-{number:03}", LINE: said}
            said = ""


def _why_not(order: Order, template: Template | None, unasked: Collection[str]) -> str:
    """Why nobody is asked for this again; empty where somebody is."""
    if not order.buyer:
        return "no buyer is named"
    if order.buyer.casefold() in unasked or not order.ask:
        return "not to be asked"
    if template is None:
        return "there is no such design any more"
    return (
        "" if template.message == USUAL_MESSAGE else f"the {template.title} is not asked for again"
    )


def _choices(order: Order, template: Template, workshop: Workshop) -> dict[str, str]:
    """What was chosen in each column, as typed, where the design still has that."""
    there = chosen(order, template, workshop)
    return {column: order.option(column) if column in there else "" for column in CHOICES}


def _dropped(order: Order, template: Template, workshop: Workshop) -> Iterator[tuple[Order, str]]:
    """What a row of the new book lacks of the old one."""
    kept = _choices(order, template, workshop)
    for column, text in order.options:
        if text and not kept.get(column):
            yield order, f"{column} '{text}'"
    for field, text in order.fields:
        if text and field not in ("name", "year"):
            yield order, field


def _line(own: Sequence[tuple[Order, Template]], year: int, workshop: Workshop) -> str:
    """What is sent to the buyer of an order."""
    first = own[0][0]
    said = Text(dict(workshop.messages)[MESSAGE]).substitute(
        order=first.number,
        buyer=first.buyer,
        title=in_words(dict.fromkeys(template.title for _, template in own)),
        pieces=in_words(order.called for order, _ in own),
        price="",
        code="",
        edition=str(year),
    )
    return " ".join(said.split())


def _row(order: Order, template: Template, year: int, workshop: Workshop) -> dict[str, str]:
    choices = _choices(order, template, workshop)
    return {
        "Name": order.field("name"),
        "Year": str(year),
        "Design": template.title,
        "Buyer": order.buyer,
        "Quantity": str(order.quantity) if order.quantity > 1 else "",
        **{column.capitalize(): text for column, text in choices.items()},
    }
