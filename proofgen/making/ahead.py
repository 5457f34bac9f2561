"""What is advised to be cut for the stock, and what serves as its pattern."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from proofgen.day.judging import Judged
from proofgen.making.recorded import want_for
from proofgen.records.archive import Archive
from proofgen.sheets import stock
from proofgen.sheets.job import Job
from proofgen.sheets.shelf import Shelf
from proofgen.sheets.want import NEVER, Want


def advised(
    items: Sequence[Judged],
    shelves: Sequence[Mapping[str, Shelf]],
    records: Archive,
    left: Counter[str],
    today: date,
) -> tuple[stock.Advice, ...]:
    """How each shared layer stands, by what was ordered since its first picture."""
    there: dict[str, Shelf] = {}
    ordered: Counter[str] = Counter()
    first: dict[str, date] = {}
    for item, own in zip(items, shelves, strict=True):
        order = item.made.order
        since = [date.fromisoformat(p.made[:10]) for p in records.pictures(order.number)[:1]]
        begun = since[0] if since else today
        for shelf in own.values():
            there[shelf.subject] = shelf
            ordered[shelf.subject] += order.quantity
            first[shelf.subject] = min(begun, first.get(shelf.subject, begun))
    return tuple(
        stock.advice(there[s], ordered[s], ((today - first[s]).days + 1) / 7, left[s])
        for s in sorted(there)
    )


def once_cut(told: Iterable[stock.Advice], jobs: Iterable[Job]) -> tuple[stock.Advice, ...]:
    """The advice, what goes into stock from these boards taken off it."""
    coming = Counter(each.stock for job in jobs for each in job.lies if each.ahead)
    return tuple(each.once_cut(coming[each.shelf.subject]) for each in told)


def patterns(items: Iterable[Judged], shelves: Iterable[Mapping[str, Shelf]]) -> Iterator[Want]:
    """The shared layers of all recorded pieces, whether these are cut or not."""
    for item, own in zip(items, shelves, strict=True):
        artwork, record = item.made.artwork, item.approval.record
        if artwork is None or record is None or item.done is not None:
            continue
        for layer in artwork.layers:
            if shelf := own.get(layer.name):
                yield want_for(item, layer, copy=1, days=NEVER, subject=shelf.subject)


def cut_ahead(told: Iterable[stock.Advice], wants: Iterable[Want]) -> list[Want]:
    """What is advised, of those layers of which there is a pattern; the last of them serves."""
    patterns = {want.stock: want for want in wants if want.stock}
    return [
        more
        for each in told
        if each.cut and (pattern := patterns.get(each.shelf.subject))
        for more in stock.ahead(pattern, each.cut)
    ]
