"""What the commands do that tell about the orders of a book, and note what happened to them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from proofgen.artwork.artwork import Made, by_order
from proofgen.day.judging import Judged, judged
from proofgen.day.rows import Options, Progress, lines_of, shop_for
from proofgen.day.shop import open_shop
from proofgen.desk.asking import prices, unclear
from proofgen.desk.messages import Message, message, recounted
from proofgen.desk.status import (
    AGREED,
    Owed,
    Room,
    Standing,
    copies_noted,
    happened,
    last_due,
    noted,
    owed,
    room,
    soonest,
    standing,
)
from proofgen.errors import UnusableError
from proofgen.flags.flag import Severity
from proofgen.orders.order import Order
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Event, now
from proofgen.sheets.layers_cut import LAYER_KINDS, layer_subject, layers_cut

if TYPE_CHECKING:
    from proofgen.starting.next_year import Following


@dataclass(frozen=True, slots=True)
class Day:
    """A book on a day, sums in the workshop's `currency`. `room` is by the day that was asked for,
    else by the last one that somebody waits for; `soonest` is when one more could be handed over.
    """

    today: date
    currency: str
    standings: tuple[Standing, ...]
    owed: tuple[Owed, ...]
    room: Room | None
    soonest: date | None


def status(book: Path, options: Options, progress: Progress, today: date, by: date | None) -> Day:
    """Where every line stands on a day, and whether another one can be handed over by another."""
    every, _ = lines_of(book, options)
    shop = shop_for(book, options)
    selling = shop.workshop.selling
    with archive(book.resolve().parent) as records:
        cut = layers_cut(records.entries(*LAYER_KINDS))
        items = tuple(judged(book, every, options, records, progress, None))
        standings = tuple(
            standing(
                item.made,
                item.approval,
                records.pictures(item.made.order.number),
                records.events(item.made.order.number),
                selling,
                today,
                copies_made(item, cut),
                item.before,
                item.stopped_by,
            )
            for item in items
        )
    # Nobody owes what is not agreed on.
    agreed = {each.order.number for each in standings if each.step in AGREED}
    sold = [item.made for item in items if item.made.order.number in agreed]
    orders = [made.order for made in sold]
    asked = prices(orders, shop.templates, shop.workshop)
    sums = owed(orders, asked, unclear(sold, shop.workshop))
    until = by or last_due(standings, today)
    space = room(standings, until, selling, today) if until else None
    soon = soonest(standings, selling, today)
    return Day(today, selling.currency, standings, sums, space, soon)


def messages(book: Path, options: Options, progress: Progress) -> tuple[Message, ...]:
    """A message for each order whose pictures were made and are not approved as they are now."""
    every, _ = lines_of(book, options)
    shop = shop_for(book, options)
    unanswered: list[Made] = []
    stopped: dict[str, tuple[int, ...]] = {}
    with archive(book.resolve().parent) as records:
        items = tuple(judged(book, every, options, records, progress, None))
        for item in items:
            shown = {each.code for each in records.pictures(item.made.order.number)}
            order = item.made.order
            settled = item.approval.stands and not recounted(item.made)
            if item.made.code in shown and not settled:
                unanswered.append(item.made)
            elif item.made.verdict == "stop":
                stopped[order.number] = (*stopped.get(order.number, ()), order.source.row)
    whole, told = by_order(item.made for item in items), (shop.templates, shop.workshop)
    found = (message(each, whole[n], *told) for n, each in by_order(unanswered).items())
    return tuple(replace(each, apart=stopped.get(each.number, ())) for each in found)


def note(
    kind: str,
    book: Path,
    options: Options,
    progress: Progress,
    *,
    line: int = 0,
    anyway: bool = False,
) -> tuple[Judged, ...]:
    """Note that the pieces of these orders, or of one `line` of one, were packed or collected;
    gives them.

    UnusableError for pieces that nobody approved, that are not made, or that stop now, unless that
    is meant `anyway`.
    """
    if not any(order.strip() for order in options.orders):
        raise UnusableError(f"Name the orders that are {kind}, after the book.")
    every, _ = lines_of(book, options)
    with archive(book.resolve().parent) as records:
        items = tuple(judged(book, every, options, records, progress, None))
        if line:
            items = (one_line(items, line),)
        if not anyway:
            refuse_unapproved(items, records)
            _refuse_unmade(kind, items, records)
            _refuse_stopped(kind, items)
        records.note(noted_of(kind, items, records))
    return items


def noted_of(kind: str, items: Iterable[Judged], records: Archive) -> tuple[Event, ...]:
    """The events that all copies of these lines were made, packed, collected."""
    at, found = now(), []
    known: dict[tuple[str, str], int] = {}
    for item in items:
        order, piece = item.made.order, item.piece
        told = item.made, item.approval, records.events(order.number)
        copies = known.get((order.number, piece), copies_noted(*told, kinds=(kind,)))
        copies += order.quantity - item.share(copies)
        known[order.number, piece] = copies
        found.append(noted(at, kind, order, piece, copies))
    return tuple(found)


def refuse_unapproved(items: Iterable[Judged], records: Archive) -> None:
    """UnusableError where nobody approved a piece as it stands, and nothing was done for it yet."""
    for item in items:
        order = item.made.order
        known = happened(item.made, item.approval, records.events(order.number), item.before)
        if not item.approval.stands and not known:
            raise UnusableError(
                f"{_whose(order)}: is not approved as it stands; look at it with check, or add "
                "--anyway. Nothing was noted."
            )


def _whose(order: Order) -> str:
    return f"{order.where()}, order {order.number}, {order.field('name') or 'no name'}"


def _refuse_unmade(kind: str, items: Iterable[Judged], records: Archive) -> None:
    for item in items:
        order = item.made.order
        told = item.made, item.approval, records.events(order.number)
        if not happened(*told, item.before):
            known = item.share(copies_noted(*told))
            what = f"only {known} of {order.quantity} are" if known else "is not"
            raise UnusableError(
                f"{_whose(order)}: {what} noted as made, so it cannot be {kind}; note that first, "
                "or add --anyway. Nothing was noted."
            )


def _refuse_stopped(kind: str, items: Iterable[Judged]) -> None:
    """UnusableError where a row asks for something else by now than the piece that is there."""
    for item in items:
        stops = [flag for flag in item.made.flags if flag.kind.severity is Severity.STOP]
        if stops:
            raise UnusableError(
                f"{stops[0].text} So order {item.made.order.number} is not {kind}; add --anyway "
                "if the piece is right. Nothing was noted."
            )


def one_line(items: Sequence[Judged], line: int) -> Judged:
    """The line of that number of an order, or its only one for 0; UnusableError for any other."""
    numbers = {item.made.order.number for item in items}
    if len(numbers) > 1:
        raise UnusableError("--line and --count go with one order; name one at a time.")
    found = [item for item in items if line in (0, item.made.order.line)]
    if len(found) == 1:
        return found[0]
    names = ", ".join(f"--line {i.made.order.line} for {i.made.order.field('name')}" for i in items)
    raise UnusableError(f"order {numbers.pop()}: say which line; there is {names}.")


def copies_made(item: Judged, cut: Counter[str]) -> int:
    """How many copies of a line are cut with all their layers (see `layers_cut`); 0 where it has
    no artwork.
    """
    number, artwork = item.made.order.number, item.made.artwork
    layers = artwork.layers if artwork else ()
    counts = (cut[layer_subject(number, item.piece, layer.name)] for layer in layers)
    return item.share(min(counts, default=0))


def next_season(book: Path, options: Options, progress: Progress) -> tuple[Path, Following]:
    """Write next season's book from what was bought; gives its path and what is in it."""
    from proofgen.starting.next_year import next_year

    every, _ = lines_of(book, options)
    shop = shop_for(book, options)
    bought = []
    not_bought = []
    with archive(book.resolve().parent) as records:
        for item in judged(book, every, options, records, progress, None):
            order, record = item.made.order, item.approval.record
            if item.approval.stands and record:
                bought.append(replace(order, design=record.design))
            elif item.made.artwork and happened(
                item.made, item.approval, records.events(order.number), item.before
            ):
                bought.append(replace(order, design=item.made.artwork.design))
            else:
                not_bought.append((order, "neither approved nor made"))
    year = shop.workshop.edition_year + 1
    file = book.resolve().with_name(f"{book.stem}-{year}.xlsx")
    silent = frozenset(line.order.buyer for line in every if not line.order.ask)
    found = next_year(bought, silent, shop.templates, shop.workshop, file)
    return file, replace(found, left=(*found.left, *not_bought))


def begin(folder: Path) -> tuple[Path, ...]:
    """Make the folder of a workshop; gives the files in it."""
    from proofgen.starting.start import start

    shop = open_shop()
    return start(folder, tuple(shop.templates.values()), shop.workshop)
