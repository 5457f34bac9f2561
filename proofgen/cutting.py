"""From approved orders to sheets: what to pull from stock, what lies on which board, the files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.designs.choices import match
from proofgen.designs.resolve import YEAR
from proofgen.desk.status import due_of, happened
from proofgen.errors import UnusableError
from proofgen.laying import laid, not_on, rests
from proofgen.orders.counts import Count, read_counts
from proofgen.pipeline import Judged, judged, unpaid
from proofgen.recorded import finder, want_of
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, now, piece_key
from proofgen.rows import Options, Progress, lines_of, shop_for
from proofgen.sheets import stock
from proofgen.sheets.job import Job
from proofgen.sheets.layers_cut import MADE, SPOILED, layer_subject, layers_cut
from proofgen.sheets.want import Want, urgency
from proofgen.shop import Shop


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
    """

    jobs: tuple[Job, ...]
    wants: Mapping[str, Want]
    pulled: tuple[Want, ...]
    too_large: tuple[Want, ...]
    advice: tuple[stock.Advice, ...]
    shelves: Mapping[str, stock.Shelf]
    rows: tuple[Made, ...]
    later: tuple[Want, ...] = ()
    begun: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wanted:
    """All rows, the layers that are still to be cut, and the shelves that may serve them."""

    items: tuple[Judged, ...]
    wants: tuple[Want, ...]
    shelves: Mapping[str, stock.Shelf]


def lay(
    book: Path, options: Options, wish: Wish, progress: Progress, today: date
) -> tuple[Laying, Shop]:
    """Lay all that is approved, paid as the workshop wants it, and not cut yet; the sheets are
    entered into the ledger. What is left of sheets that failed comes first, as it lies.
    """
    shop = shop_for(book, options)
    with archive(book.resolve().parent) as records:
        take_counts(book, shop, records)
        found = wanted(book, options, wish, records, shop, progress, today)
        lying = stock.in_stock(records.entries(*stock.KINDS))
        begun = rests(records)
        open_ = not_on(begun, found.wants)
        pulled = stock.pulled(open_, lying)
        left = lying - Counter(w.stock for w in pulled)
        told = _advice(found.items, records, shop, left, today)
        cut = [want for want in open_ if want not in pulled]
        if wish.ahead:
            cut += _ahead(told, found.wants)
        new, too_large = laid(cut, records, shop.workshop, wish.seconds, progress)
        # The boards of some orders alone are not all that there are.
        begun = () if options.orders else begun
        find = finder(records)
        kept = [*cut, *(want_of(each, find) for job in begun for each in job.lies)]
    rows = tuple(item.made for item in found.items)
    laying = Laying(
        jobs=(*begun, *new),
        wants={want.key: want for want in kept},
        pulled=pulled,
        too_large=too_large,
        advice=told,
        shelves=found.shelves,
        rows=rows,
        begun=tuple(job.id for job in begun),
    )
    return laying, shop


def wanted(
    book: Path,
    options: Options,
    wish: Wish,
    records: Archive,
    shop: Shop,
    progress: Progress,
    today: date,
) -> Wanted:
    """What is approved, paid as the workshop wants it, and not cut yet."""
    every, _ = lines_of(book, options)
    items = tuple(judged(book, every, options, records, progress, None))
    due = {} if shop.workshop.selling.cut_before_payment else unpaid(every, shop)
    ready = [each for each in items if _ready(each, due)]
    wants, shelves = _wants(ready, records, shop, wish, today)
    return Wanted(items, tuple(wants), shelves)


def take_counts(book: Path, shop: Shop, records: Archive) -> None:
    """Enter the counts of the book's stock sheet that were not seen before."""
    known = {entry.subject: entry for entry in records.entries(stock.COUNTED)}
    at = now()
    # Of one layer the last row of the last day stands.
    last = {_shelf(count, shop).subject: count for count in read_counts(book)}
    new = [
        Entry(at, stock.COUNTED, subject, count.count, count.day)
        for subject, count in last.items()
        if subject not in known or _is_newer(count, known[subject])
    ]
    if new:
        records.enter(new)


def _is_newer(count: Count, known: Entry) -> bool:
    """Whether a row says something else than the last count that was taken, of no earlier day."""
    return (count.day, count.count) != (known.details, known.amount) and count.day >= known.details


def _shelf(count: Count, shop: Shop) -> stock.Shelf:
    template = match(count.design, shop.templates.values())
    if template is None:
        there = ", ".join(each.title for each in shop.templates.values())
        raise UnusableError(
            f"{count.where}, Design: there is no '{count.design}'; there is {there}."
        )
    layers = {each.name.casefold(): each.name for each in template.layers}
    name = layers.get(count.layer.casefold())
    if name is None:
        there = ", ".join(layers.values())
        raise UnusableError(f"{count.where}, Layer: there is no '{count.layer}'; there is {there}.")
    own = [slot.field for slot in template.slots if slot.layer == name and slot.field != YEAR]
    if own:
        raise UnusableError(
            f"{count.where}, Layer: {name} bears each buyer's {own[0]}, so it cannot be cut ahead."
        )
    return stock.shelf(template, name, shop.workshop.edition_year)


def _ready(item: Judged, due: Mapping[str, str]) -> bool:
    """Whether the recorded piece may be cut now."""
    return item.done is None and item.made.verdict != "stop" and item.made.order.number not in due


def _wants(
    ready: Iterable[Judged], records: Archive, shop: Shop, wish: Wish, today: date
) -> tuple[list[Want], dict[str, stock.Shelf]]:
    """The layers that are still to be cut, and where those that may come from stock are counted."""
    cut = layers_cut(records.entries(MADE, SPOILED))
    selling, edition = shop.workshop.selling, shop.workshop.edition_year
    wants: list[Want] = []
    shelves: dict[str, stock.Shelf] = {}
    for item in ready:
        made, record = item.made, item.approval.record
        artwork, order = made.artwork, made.order
        assert artwork is not None and record is not None
        done = happened(made, item.approval, records.events(order.number))
        if done and not wish.again:
            continue
        days = selling.drying_days + selling.packing_days
        template = shop.templates.get(record.design)
        current = template if template and template.sha256 == record.design_sha256 else None
        for layer in artwork.layers:
            shelf = stock.shelf_of(layer, artwork, order, current, edition)
            if shelf:
                shelves[shelf.subject] = shelf
            subject = layer_subject(order.number, piece_key(order, made.code), layer.name)
            first = 0 if wish.again else cut[subject]
            wants += (
                Want(
                    number=order.number,
                    line=order.line,
                    code=made.code,
                    name=" ".join(order.field("name").split()),
                    copy=copy,
                    layer=layer,
                    width=artwork.size[0],
                    urgency=urgency(due_of(order), today, days),
                    stock=shelf.subject if shelf else "",
                )
                for copy in range(first + 1, order.quantity + 1)
            )
    return wants, shelves


def _advice(
    items: Sequence[Judged], records: Archive, shop: Shop, left: Counter[str], today: date
) -> tuple[stock.Advice, ...]:
    """How each shared layer stands, by what was ordered since its first picture."""
    shelves: dict[str, stock.Shelf] = {}
    ordered: Counter[str] = Counter()
    first: dict[str, date] = {}
    for item in items:
        artwork, order = item.made.artwork, item.made.order
        if artwork is None:
            continue
        template = shop.templates.get(artwork.design)
        since = [date.fromisoformat(p.made[:10]) for p in records.pictures(order.number)[:1]]
        for layer in artwork.layers:
            shelf = stock.shelf_of(layer, artwork, order, template, shop.workshop.edition_year)
            if shelf:
                shelves[shelf.subject] = shelf
                ordered[shelf.subject] += order.quantity
                begun = since[0] if since else today
                first[shelf.subject] = min(begun, first.get(shelf.subject, begun))
    return tuple(
        stock.advice(shelves[s], ordered[s], ((today - first[s]).days + 1) / 7, left[s])
        for s in sorted(shelves)
    )


def _ahead(told: Iterable[stock.Advice], wants: Iterable[Want]) -> list[Want]:
    """What is advised, of those layers of which there is a pattern."""
    patterns = {want.stock: want for want in wants if want.stock}
    return [
        more
        for each in told
        if each.cut and (pattern := patterns.get(each.shelf.subject))
        for more in stock.ahead(pattern, each.cut)
    ]
