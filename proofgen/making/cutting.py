"""From approved orders to sheets: what to pull from stock, what lies on which board, the files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.day.judging import Judged, judged
from proofgen.day.pipeline import unpaid
from proofgen.day.rows import Options, Progress, lines_of, shop_for
from proofgen.day.shop import Shop
from proofgen.desk.status import copies_noted, due_of, happened
from proofgen.jobsheet.trays import Copy, copy_of
from proofgen.making.ahead import advised, cut_ahead, once_cut, patterns
from proofgen.making.completing import run_of
from proofgen.making.counting import take_counts
from proofgen.making.in_trays import tray_numbers, unfinished
from proofgen.making.laying import laid, rests
from proofgen.making.recorded import finder, want_for, want_of
from proofgen.making.serving import Serving, serving
from proofgen.making.undone import Others, open_pulls, open_sheets
from proofgen.orders.counts import read_counts
from proofgen.orders.order import Line
from proofgen.records.archive import Archive, archive
from proofgen.sheets import stock
from proofgen.sheets.job import Job
from proofgen.sheets.layers_cut import LAYER_KINDS, layer_subject, layers_cut
from proofgen.sheets.shelf import Shelf, shelf_of
from proofgen.sheets.want import Want, days_left


@dataclass(frozen=True, slots=True)
class Wish:
    """How to lay: `seconds` bounds the search, None finds the same layout again; `ahead` cuts what
    is advised for the stock too; `again` cuts what is made already.
    """

    seconds: float | None = None
    ahead: bool = False
    again: bool = False


@dataclass(frozen=True, slots=True)
class Laying:
    """What is to be cut and how it lies: `wants` by key; `pulled` come from stock; `too_large` fit
    on no board; `advice` says what to cut ahead. `rows` are all that were asked for; `later` is
    left for the next laying. The boards of the `begun` ids lie ready: they failed half-way.
    `ended` says what ended the search before it was done (see nesting/part.py), `ahead` that what
    is advised was to be cut. The `unfinished` copies are cut and not packed; `trays` are the
    numbers of those that are in use. `aside` has a sentence for each remainder that is left aside;
    `twice` the orders by the ids of open sheets on which they lie too.
    """

    jobs: tuple[Job, ...]
    wants: Mapping[str, Want]
    pulled: tuple[Want, ...]
    too_large: tuple[Want, ...]
    advice: tuple[stock.Advice, ...]
    shelves: Mapping[str, Shelf]
    rows: tuple[Made, ...]
    later: tuple[Want, ...] = ()
    begun: tuple[str, ...] = ()
    ended: str = ""
    unfinished: frozenset[Copy] = frozenset()
    trays: Mapping[Copy, int] = field(default_factory=dict)
    ahead: bool = False
    aside: tuple[str, ...] = ()
    twice: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def new(self) -> tuple[Job, ...]:
        """The boards that were laid now."""
        return tuple(job for job in self.jobs if job.id not in self.begun)

    def without(self, jobs: Collection[Job]) -> Laying:
        """The same, where what lies on these boards has to wait."""
        lying = (each for job in jobs for each in job.lies if not (each.ahead or each.unasked))
        later = (self.wants[each.key] for each in lying)
        left = tuple(job for job in self.jobs if job not in jobs)
        return replace(self, jobs=left, later=(*self.later, *later))


@dataclass(frozen=True, slots=True)
class Wanted:
    """All rows, the layers that are still to be cut, those that are `waiting` for their rows to be
    ready, by row the shelves that may serve it, the copies that are cut and not packed, and the
    numbers of the trays in use.
    """

    items: tuple[Judged, ...]
    wants: tuple[Want, ...]
    waiting: tuple[Want, ...]
    shelves: tuple[Mapping[str, Shelf], ...]
    unfinished: frozenset[Copy]
    trays: Mapping[Copy, int]

    def by_subject(self) -> dict[str, Shelf]:
        """The shelves of all rows by what the ledger calls them."""
        return {shelf.subject: shelf for own in self.shelves for shelf in own.values()}

    def served_by(self, boards: Sequence[Job], records: Archive) -> Serving:
        """What boards that were laid before are for today."""
        again = {job.id for job in boards if run_of(job, records).again}
        rows = (item.made for item in self.items)
        return serving(boards, self.wants, self.waiting, again, rows)


def lay(
    book: Path, options: Options, wish: Wish, progress: Progress, today: date
) -> tuple[Laying, Shop]:
    """Lay all that is approved, paid as the workshop wants it, and not cut yet. What is left of
    sheets that failed comes first, as it lies.
    """
    shop = shop_for(book, options)
    with archive(book.resolve().parent) as records:
        take_counts(read_counts(book), shop, records, today)
        rows = every_row(book, options, records, progress)
        found = wanted(rows, options, wish, records, shop, today)
        others = _others(options, found, records)
        lying = stock.in_stock(records.entries(*stock.KINDS)) - others.stock
        there = found.served_by(rests(records), records)
        begun, open_ = there.boards, there.left
        pulled = stock.pulled(open_, lying)
        left = lying - Counter(w.stock for w in pulled)
        told: tuple[stock.Advice, ...] = ()
        if not options.orders:
            told = once_cut(advised(found.items, found.shelves, records, left, today), begun)
        cut = [want for want in open_ if want not in pulled]
        if wish.ahead:
            cut += cut_ahead(told, [*patterns(found.items, found.shelves), *found.wants])
        new = laid(cut, records, shop.workshop, wish.seconds, progress, others.remainders)
        told = once_cut(told, new.jobs)
        # The boards of some orders alone are not all that there are.
        begun = () if options.orders else begun
        find = finder(records)
        kept = [*cut, *(want_of(each, find) for job in begun for each in job.lies)]
    laying = Laying(
        jobs=(*begun, *new.jobs),
        wants={want.key: want for want in kept},
        pulled=pulled,
        too_large=new.too_large,
        advice=told,
        shelves=found.by_subject(),
        rows=tuple(item.made for item in found.items),
        begun=tuple(job.id for job in begun),
        ended=new.ended,
        unfinished=found.unfinished,
        trays=found.trays,
        ahead=wish.ahead,
        aside=new.aside,
        twice=others.twice(new.jobs),
    )
    return laying, shop


def _others(options: Options, found: Wanted, records: Archive) -> Others:
    """What waits for other orders; nothing where all are laid anew."""
    if not options.orders:
        return Others((), (), frozenset())
    asked = frozenset(item.made.order.number for item in found.items)
    return Others(open_sheets(records), open_pulls(records), asked)


@dataclass(frozen=True, slots=True)
class Rows:
    """All lines of the book, and those that were asked for, judged."""

    every: tuple[Line, ...]
    items: tuple[Judged, ...]


def every_row(book: Path, options: Options, records: Archive, progress: Progress) -> Rows:
    """The rows of the book that were asked for, judged."""
    every, _ = lines_of(book, options)
    return Rows(every, tuple(judged(book, every, options, records, progress, None)))


def wanted(
    rows: Rows, options: Options, wish: Wish, records: Archive, shop: Shop, today: date
) -> Wanted:
    """What is approved, paid as the workshop wants it, and not cut yet."""
    items = rows.items
    due = {} if shop.workshop.selling.cut_before_payment else unpaid(rows.every, shop)
    shelves = tuple(_shelves(each, shop) for each in items)
    pairs = [each for each in zip(items, shelves, strict=True) if each[0].made.artwork]
    wants, waiting = (
        tuple(_wants([p for p in pairs if _ready(p[0], due) is now], records, shop, wish, today))
        for now in (True, False)
    )
    cut = unfinished(items, records)
    open_ = cut | {copy_of(want) for want in wants}
    # Of orders that were not asked for nothing is known.
    known = tray_numbers(records).items()
    numbers = {copy: number for copy, number in known if options.orders or copy in open_}
    return Wanted(items, wants, waiting, shelves, cut, numbers)


def _ready(item: Judged, due: Mapping[str, str]) -> bool:
    """Whether the recorded piece may be cut now."""
    return item.done is None and item.made.verdict != "stop" and item.made.order.number not in due


def _shelves(item: Judged, shop: Shop) -> dict[str, Shelf]:
    """By layer, where those of a piece that may come from stock are counted."""
    artwork, record = item.made.artwork, item.approval.record
    if artwork is None:
        return {}
    template = shop.templates.get(artwork.design)
    recorded = item.done is None and record is not None
    if template and recorded and record and record.design_sha256 != template.sha256:
        template = None
    found = {
        layer.name: shelf_of(layer, artwork, item.made.order, template, shop.workshop)
        for layer in artwork.layers
    }
    return {name: shelf for name, shelf in found.items() if shelf}


def _wants(
    ready: Iterable[tuple[Judged, Mapping[str, Shelf]]],
    records: Archive,
    shop: Shop,
    wish: Wish,
    today: date,
) -> list[Want]:
    """The layers that are still to be cut, and where those that may come from stock lie."""
    cut = layers_cut(records.entries(*LAYER_KINDS))
    selling = shop.workshop.selling
    wants: list[Want] = []
    for item, shelves in ready:
        made = item.made
        artwork, order = made.artwork, made.order
        assert artwork is not None
        told = made, item.approval, records.events(order.number)
        if happened(*told, item.before) and not wish.again:
            continue
        noted = item.share(copies_noted(*told))
        needed = selling.drying_days + selling.packing_days
        for layer in artwork.layers:
            subject = layer_subject(order.number, item.piece, layer.name)
            first = 0 if wish.again else max(item.share(cut[subject]), noted)
            days = days_left(due_of(order), today, needed)
            shelf = shelves.get(layer.name)
            wants += (
                want_for(item, layer, copy, days, shelf.subject if shelf else "")
                for copy in range(first + 1, order.quantity + 1)
            )
    return wants
