"""What is wanted of the machine: what is approved, paid for and not cut yet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.day.judging import Judged, judged
from proofgen.day.pipeline import unpaid
from proofgen.day.rows import Options, Progress, lines_of
from proofgen.day.shop import Shop
from proofgen.desk.status import copies_noted, due_of, happened
from proofgen.jobsheet.trays import Copy, copy_of
from proofgen.making.completing import run_of
from proofgen.making.in_trays import tray_numbers, unfinished
from proofgen.making.recorded import want_for
from proofgen.making.serving import Serving, serving
from proofgen.orders.order import Line
from proofgen.records.archive import Archive
from proofgen.sheets.job import Job
from proofgen.sheets.layers_cut import LAYER_KINDS, layer_subject, layers_cut
from proofgen.sheets.shelf import Shelf, shelf_of
from proofgen.sheets.want import Want, days_left
from proofgen.workshop.gone import gone_wood

# A row, and by layer the shelves that may serve it.
Pair = tuple[Judged, Mapping[str, Shelf]]


@dataclass(frozen=True, slots=True)
class Wish:
    """How to lay: `seconds` bounds the search, None finds the same layout again; `ahead` cuts what
    is advised for the stock too; `again` cuts what is made already.
    """

    seconds: float | None = None
    ahead: bool = False
    again: bool = False


@dataclass(frozen=True, slots=True)
class Wanted:
    """All rows, the layers that are still to be cut, those that are `waiting` for their rows to be
    ready, by row the shelves that may serve it, the copies that are cut and not packed, and the
    numbers of the trays in use. `aside` has a sentence for each row whose wood there is no longer.
    """

    items: tuple[Judged, ...]
    wants: tuple[Want, ...]
    waiting: tuple[Want, ...]
    shelves: tuple[Mapping[str, Shelf], ...]
    unfinished: frozenset[Copy]
    trays: Mapping[Copy, int]
    aside: tuple[str, ...]

    def by_subject(self) -> dict[str, Shelf]:
        """The shelves of all rows by what the ledger calls them."""
        return {shelf.subject: shelf for own in self.shelves for shelf in own.values()}

    def served_by(self, boards: Sequence[Job], records: Archive) -> Serving:
        """What boards that were laid before are for today."""
        again = {job.id for job in boards if run_of(job, records).again}
        rows = (item.made for item in self.items)
        return serving(boards, self.wants, self.waiting, again, rows)


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
    ready, waiting, lacking = _parted(pairs, due, shop)
    wants, later, held = (
        tuple(_wants(each, records, shop, wish, today)) for each in (ready, waiting, lacking)
    )
    cut = unfinished(items, records)
    open_ = cut | {copy_of(want) for want in wants}
    # Of orders that were not asked for nothing is known.
    known = tray_numbers(records).items()
    numbers = {copy: number for copy, number in known if options.orders or copy in open_}
    aside = _aside((item for item, _ in lacking), held, shop)
    return Wanted(items, wants, (*later, *held), shelves, cut, numbers, aside)


def _parted(
    pairs: Iterable[Pair], due: Mapping[str, str], shop: Shop
) -> tuple[list[Pair], list[Pair], list[Pair]]:
    """What may be cut now, what waits for its row, and what for wood that is gone."""
    ready: list[Pair] = []
    waiting: list[Pair] = []
    lacking: list[Pair] = []
    for pair in pairs:
        own = lacking if _gone(pair[0].made, shop) else ready
        (own if _ready(pair[0], due) else waiting).append(pair)
    return ready, waiting, lacking


def _aside(items: Iterable[Judged], held: Iterable[Want], shop: Shop) -> tuple[str, ...]:
    """A sentence for each row that waits for its wood to be in the workshop file again."""
    open_ = {(want.number, want.line) for want in held}
    orders = {item.made.order: _gone(item.made, shop) for item in items}
    return tuple(
        f"{order.where()}, order {order.number} {order.called}, is left aside: the workshop file "
        f"has {what} any more. Put it back, or have the piece approved in another."
        for order, what in orders.items()
        if (order.number, order.line) in open_
    )


def _gone(made: Made, shop: Shop) -> str:
    """What the workshop has no longer of a piece's wood, in words; empty where it has all."""
    layers = made.artwork.layers if made.artwork else ()
    return gone_wood(shop.workshop, (e.material for e in layers), (e.finish for e in layers))


def _ready(item: Judged, due: Mapping[str, str]) -> bool:
    """Whether the recorded piece may be cut now."""
    return item.done is None and item.made.verdict != "stop" and item.made.order.number not in due


def _shelves(item: Judged, shop: Shop) -> dict[str, Shelf]:
    """By layer, where those of a piece that may come from stock are counted."""
    artwork, record = item.made.artwork, item.approval.record
    if artwork is None or _gone(item.made, shop):
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
    ready: Iterable[Pair],
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
