"""Next season's order book, from this season's buyers."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from string import Template as Text

from proofgen.designs.design import Template
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.orders.order import Order
from proofgen.starting.book import order_book
from proofgen.starting.start import choices_of
from proofgen.workshop.workshop import USUAL_MESSAGE, Workshop

LINE = "Line to send"
MESSAGE = "next-year"


@dataclass(frozen=True, slots=True)
class Following:
    """How many rows the new book has, and which orders are not in it and why."""

    rows: int
    left: tuple[tuple[Order, str], ...]


def next_year(
    orders: Iterable[Order],
    silent: Collection[str],
    templates: Mapping[str, Template],
    workshop: Workshop,
    file: Path,
) -> Following:
    """Write the book; `orders` are those that were bought, `silent`
    the buyers who are not to be asked, for whatever they ordered.

    The same names on the same designs with the next year; no inscription, symbol, finish, price or
    approval is carried over. Designs with a message of their own, such as remembrance pieces, are
    left out, and buyers who are not to be asked, with all their orders. UnusableError where the
    file is there already.
    """
    if file.exists():
        raise UnusableError(f"{file} is there already; rename it or move it away.")
    year = workshop.edition_year + 1
    unasked = {buyer.casefold() for buyer in silent}
    rows: dict[tuple[str, str, str], dict[str, str]] = {}
    left: list[tuple[Order, str]] = []
    for order in orders:
        template = templates.get(order.design)
        why = _why_not(order, template, unasked)
        if why or template is None:
            left.append((order, why))
            continue
        key = (order.buyer.casefold(), order.field("name").casefold(), template.id)
        rows.setdefault(key, _row(order, template, year, workshop))
    if not rows:
        raise UnusableError(
            "nobody can be asked again: no row of the book is approved or made, names a buyer and "
            "may be asked."
        )
    numbered = [{**row, "Order": f"{year}-{i:03}"} for i, row in enumerate(rows.values(), 1)]
    choices = choices_of(tuple(templates.values()), workshop)
    write_bytes(file, order_book(choices, numbered, (LINE,)))
    return Following(len(numbered), tuple(left))


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


def _row(order: Order, template: Template, year: int, workshop: Workshop) -> dict[str, str]:
    name = order.field("name")
    said = Text(dict(workshop.messages)[MESSAGE]).substitute(
        order=order.number,
        buyer=order.buyer,
        title=template.title,
        pieces=" ".join(name.split()),
        price="",
        code="",
        edition=str(year),
    )
    return {
        "Name": name,
        "Year": str(year),
        "Design": template.title,
        "Buyer": order.buyer,
        LINE: " ".join(said.split()),
    }
