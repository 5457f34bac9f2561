"""What `proofgen money` does."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from proofgen.books.reckoning import LeftOut, Reckoned, reckoned, works
from proofgen.books.sheet_totals import SheetTotal, sheet_totals
from proofgen.day.judging import judged
from proofgen.day.rows import Options, Progress, lines_of, shop_for
from proofgen.day.shop import Shop
from proofgen.money.account import total
from proofgen.money.order import Piece, accounts
from proofgen.money.wage import price_for_wage
from proofgen.money.work import Work
from proofgen.orders.order import Order
from proofgen.records.archive import archive
from proofgen.sheets.layers_cut import MADE, SPOILED
from proofgen.sheets.losses import Losses, losses
from proofgen.workshop.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Needed:
    """What one piece of a design must cost to earn the wanted wage, in an order of its own: the one
    that takes least in the book, the middle one, the one that takes most. `listed` is the
    catalogue's price before options, None where it has none.
    """

    design: str
    title: str
    pieces: int
    least: Decimal
    middle: Decimal
    most: Decimal
    listed: Decimal | None


@dataclass(frozen=True, slots=True)
class NeededPiece:
    """What each piece of a row must cost, in an order of its own."""

    order: Order
    title: str
    price: Decimal


@dataclass(frozen=True, slots=True)
class Accounts:
    """The accounts of a book, reckoned with the loss of `workshop`; `assumed` is that of its file.

    `needed` and `needed_pieces` where they were asked for, of rows with and without a price;
    `sheets` likewise.
    """

    workshop: Workshop
    rows: tuple[Reckoned, ...]
    left: tuple[LeftOut, ...]
    losses: Losses
    assumed: Decimal
    needed: tuple[Needed, ...] = ()
    needed_pieces: tuple[NeededPiece, ...] = ()
    sheets: tuple[SheetTotal, ...] = ()


def book_accounts(
    book: Path,
    options: Options,
    progress: Progress,
    *,
    measured_loss: bool = False,
    for_wage: bool = False,
    by_sheet: bool = False,
) -> Accounts:
    """Cost, price and profit of every row that can be made and has a price.

    With `measured_loss` the season's own loss stands in place of the assumed one, if it is known.
    """
    every, _ = lines_of(book, options)
    shop = shop_for(book, options)
    assumed = shop.workshop.money.loss
    with archive(book.resolve().parent) as records:
        lost = losses(records.entries(MADE, SPOILED), {line.order.number for line in every})
        if measured_loss:
            shop = with_loss(shop, lost.rate)
        items = tuple(judged(book, every, options, records, progress, None))
        rows, left = reckoned(items, shop, records, progress)
        sheets = sheet_totals(rows, records, shop.workshop, progress) if by_sheet else ()
    takes = works(items, rows, shop) if for_wage else ()
    return Accounts(
        shop.workshop,
        rows,
        left,
        lost,
        assumed,
        tuple(_needed(takes, shop.workshop)),
        tuple(
            NeededPiece(order, title, price_for_wage(work, shop.workshop))
            for order, _, title, work in takes
        ),
        sheets,
    )


def with_loss(shop: Shop, rate: Decimal | None) -> Shop:
    """The shop as it reckons with that loss; as it is for None."""
    if rate is None:
        return shop
    money = replace(shop.workshop.money, loss=rate)
    return replace(shop, workshop=replace(shop.workshop, money=money))


def _needed(takes: Iterable[tuple[Order, str, str, Work]], workshop: Workshop) -> Iterable[Needed]:
    designs: dict[tuple[str, str], list[Work]] = {}
    for order, design, title, work in takes:
        designs.setdefault((design, title), []).extend([work] * order.quantity)
    for (design, title), own in designs.items():
        works_ = sorted(own, key=lambda work: _cost(work, workshop))
        least, middle, most = (
            price_for_wage(works_[i], workshop) for i in (0, len(works_) // 2, len(works_) - 1)
        )
        listed = dict(workshop.catalogue.prices).get(design)
        yield Needed(design, title, len(works_), least, middle, most, listed)


def _cost(work: Work, workshop: Workshop) -> Decimal:
    return total(accounts([Piece(work, Decimal())], workshop)).cost
