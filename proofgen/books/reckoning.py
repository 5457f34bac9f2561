"""From rows to accounts: what each is sold for, what it costs, what cannot be reckoned and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from proofgen.artwork.artwork import Artwork
from proofgen.books.piece_work import work_of
from proofgen.day.judging import Judged
from proofgen.day.rows import Progress
from proofgen.day.shop import Shop
from proofgen.desk.asking import listed, quoted_for, way_of
from proofgen.desk.status import happened
from proofgen.flags import kinds
from proofgen.money.account import Account, total
from proofgen.money.order import Piece, accounts
from proofgen.money.shares import shared
from proofgen.money.work import Work
from proofgen.orders.order import Order
from proofgen.records.archive import Archive
from proofgen.workshop.workshop import Workshop

NO_PRICE = "has no price: fill in Quoted, or [catalogue.prices]"


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A row's account, `each` being the work of one of its pieces, whose `layers` are named in that
    order; `quoted` says that the price stands in the book, `sold` that it is approved or made,
    `design` is an id, `code` that of the piece as it is laid on sheets.
    """

    order: Order
    design: str
    title: str
    each: Work
    quoted: bool
    sold: bool
    account: Account
    layers: tuple[str, ...] = ()
    code: str = ""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A row of which nothing is reckoned, and why."""

    order: Order
    sold: bool
    why: str


def reckoned(
    items: Sequence[Judged], shop: Shop, records: Archive, progress: Progress
) -> tuple[tuple[Reckoned, ...], tuple[LeftOut, ...]]:
    """The rows in their order; an order is reckoned as a whole or not at all, since discount, fees
    and delivery are the whole order's.

    Raises UnusableError where the workshop file has no price for a material.
    """
    orders: dict[str, list[Judged]] = {}
    for item in items:
        orders.setdefault(item.made.order.number, []).append(item)
    rows: list[Reckoned] = []
    left: list[LeftOut] = []
    for done, pieces in enumerate(orders.values(), 1):
        sold = [is_sold(piece, records) for piece in pieces]
        why = _why_not(pieces, shop)
        if why:
            each = zip(pieces, sold, strict=True)
            left += (LeftOut(piece.made.order, yes, why) for piece, yes in each)
        else:
            rows += _rows(pieces, sold, shop)
        progress(done, len(orders))
    return tuple(rows), tuple(left)


def works(
    items: Sequence[Judged], rows: Sequence[Reckoned], shop: Shop
) -> tuple[tuple[Order, str, str, Work], ...]:
    """What every row takes that can be made, priced or not: order, design, its title, the work."""
    known = {(row.order.number, row.order.line): row.each for row in rows}
    found = []
    for item in items:
        order, art = item.made.order, item.made.artwork
        if art is None or item.made.verdict == "stop" or _gone(art, shop.workshop):
            continue
        work = known.get((order.number, order.line)) or work_of(art, shop.workshop)
        found.append((order, art.design, art.title, work))
    return tuple(found)


def is_sold(item: Judged, records: Archive) -> bool:
    """Whether the buyer approved the piece, or something was done for it already."""
    events = records.events(item.made.order.number)
    return item.approval.stands or bool(happened(item.made, item.approval, events, item.before))


def _why_not(pieces: Sequence[Judged], shop: Shop) -> str:
    """Why an order cannot be reckoned, "" where it can be."""
    lines = [piece.made.order for piece in pieces]
    for piece in pieces:
        made, order = piece.made, piece.made.order
        if made.artwork is None or made.verdict == "stop":
            return f"row {order.source.row} stops"
        where = order.where("quoted")
        if any(flag.kind is kinds.MONEY_UNREAD and flag.where == where for flag in made.flags):
            return f"{where} is no sum of money"
        gone = _gone(made.artwork, shop.workshop)
        if gone:
            return f"{gone} is no longer in {shop.workshop.source}"
    if way_of(lines, shop.workshop) is None:
        there = ", ".join(way.id for way in shop.workshop.money.deliveries) or "none"
        said = next(line.delivery for line in lines if line.delivery)
        return f"there is no way of delivery '{said}'; there is {there} ([money.delivery])"
    if quoted_for(lines) is None:
        for line in lines:
            if listed(line, shop.templates, shop.workshop) is None:
                return f"row {line.source.row} {NO_PRICE}"
    return ""


def _gone(artwork: Artwork, workshop: Workshop) -> str:
    """A material or finish of a recorded piece that the workshop file has no more."""
    materials = {each.id for each in workshop.materials}
    finishes = {each.id for each in workshop.finishes}
    for layer in artwork.layers:
        if layer.material not in materials:
            return layer.material
        if layer.finish not in finishes:
            return layer.finish
    return ""


def _rows(pieces: Sequence[Judged], sold: Sequence[bool], shop: Shop) -> list[Reckoned]:
    lines = [piece.made.order for piece in pieces]
    arts = [piece.made.artwork for piece in pieces if piece.made.artwork]
    works = [work_of(art, shop.workshop) for art in arts]
    prices, quoted = _prices(lines, shop)
    copies = [Piece(work, price) for work, own in zip(works, prices, strict=True) for price in own]
    workshop = quoting(shop.workshop) if quoted else shop.workshop
    way = way_of(lines, workshop)
    found = iter(accounts(copies, workshop, way.id if way else ""))
    return [
        Reckoned(
            order=piece.made.order,
            design=art.design,
            title=art.title,
            each=work,
            quoted=quoted,
            sold=yes,
            account=total(next(found) for _ in own),
            layers=tuple(layer.name for layer in art.layers),
            code=piece.made.code,
        )
        for piece, art, work, yes, own in zip(pieces, arts, works, sold, prices, strict=True)
    ]


def quoting(workshop: Workshop) -> Workshop:
    """The workshop as it reckons what was quoted: discount and delivery are in that sum."""
    ways = tuple(replace(way, asked=Decimal()) for way in workshop.money.deliveries)
    return replace(workshop, money=replace(workshop.money, family=(), deliveries=ways))


def _prices(lines: Sequence[Order], shop: Shop) -> tuple[list[tuple[Decimal, ...]], bool]:
    """By line the prices of its copies, and whether they are quoted.

    What is quoted on some lines only is the sum for all: it is shared by the catalogue's prices,
    equally where one is missing.
    """
    decimals = shop.workshop.money.decimals
    counts = [line.quantity for line in lines]
    own = [listed(line, shop.templates, shop.workshop) for line in lines]
    quoted = quoted_for(lines)
    if quoted is None:
        return [(each or Decimal(),) * n for each, n in zip(own, counts, strict=True)], False
    if all(line.quoted is not None for line in lines):
        sums = [line.quoted or Decimal() for line in lines]
        return [shared(s, [1] * n, decimals) for s, n in zip(sums, counts, strict=True)], True
    known = None not in own
    weights = [(each or Decimal()) if known else Decimal(1) for each in own]
    each_copy = [w for w, n in zip(weights, counts, strict=True) for _ in range(n)]
    parts = iter(shared(quoted, each_copy, decimals))
    return [tuple(next(parts) for _ in range(n)) for n in counts], True


def by_order(rows: Sequence[Reckoned]) -> Mapping[str, list[Reckoned]]:
    """The rows of each order together."""
    found: dict[str, list[Reckoned]] = {}
    for row in rows:
        found.setdefault(row.order.number, []).append(row)
    return found
