"""What `proofgen season` does."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from proofgen.books.accounts import with_loss
from proofgen.books.reckoning import is_sold, reckoned
from proofgen.day.judging import Judged, judged
from proofgen.day.rows import Options, Progress, lines_of, shop_for
from proofgen.day.shop import Shop
from proofgen.designs.resolve import find
from proofgen.desk.status import COLLECTED, events_of, happened, since_redo
from proofgen.money.account import Account
from proofgen.records.archive import Archive, archive
from proofgen.season.figures import Passage, Row, Season, figures
from proofgen.season.words import Told
from proofgen.sheets.layers_cut import MADE, SPOILED
from proofgen.sheets.losses import losses


@dataclass(frozen=True, slots=True)
class Report:
    """What was written, and from what."""

    season: Season
    told: Told
    page: Path
    workbook: Path


def season(
    book: Path, options: Options, progress: Progress, today: date, *, measured_loss: bool = False
) -> Report:
    """Write the season's page and workbook beside the book, or where the options say.

    UnusableError where a file of that name is there that is none of ours.
    """
    from proofgen.season.page import check_page, write_page
    from proofgen.season.workbook import check_workbook, write_workbook

    out = (options.out or book.parent).resolve()
    page, workbook = (out / f"{book.stem}-season{kind}" for kind in (".html", ".xlsx"))
    check_page(page)
    check_workbook(workbook)
    found, shop = _figures(book, options, progress, measured_loss)
    title = f"{shop.workshop.title}: season {shop.workshop.edition_year}"
    told = Told(title, book.name, today.isoformat(), shop.workshop)
    write_page(page, found, told)
    write_workbook(workbook, found, told)
    return Report(found, told, page, workbook)


def _figures(
    book: Path, options: Options, progress: Progress, measured_loss: bool
) -> tuple[Season, Shop]:
    every, _ = lines_of(book, options)
    shop = shop_for(book, options)
    with archive(book.resolve().parent) as records:
        lost = losses(records.entries(MADE, SPOILED), {line.order.number for line in every})
        if measured_loss:
            shop = with_loss(shop, lost.rate)
        items = tuple(judged(book, every, options, records, progress, None))
        accounted, _ = reckoned(items, shop, records, progress)
        accounts = {each.order.source.row: each.account for each in accounted}
        orders = _by_order(items)
        asked = {number: _asked(own, records) for number, own in orders.items()}
        rows = [
            _row(item, asked[item.made.order.number], accounts, records, shop) for item in items
        ]
        passages = [_passage(own, records) for own in orders.values()]
    return figures(rows, passages, lost), shop


def _by_order(items: Iterable[Judged]) -> dict[str, list[Judged]]:
    found: dict[str, list[Judged]] = {}
    for item in items:
        found.setdefault(item.made.order.number, []).append(item)
    return found


def _row(
    item: Judged,
    asked: date | None,
    accounts: dict[int, Account],
    records: Archive,
    shop: Shop,
) -> Row:
    made, order = item.made, item.made.order
    template, _ = find(shop.templates, order.design)
    title = made.artwork.title if made.artwork else template.title if template else order.design
    return Row(
        order=order.number,
        number=order.source.row,
        name=order.called,
        design=title or "no design",
        pieces=order.quantity,
        verdict=made.verdict,
        flags=tuple(dict.fromkeys(flag.kind for flag in made.flags)),
        sold=is_sold(item, records),
        asked=asked,
        account=accounts.get(order.source.row),
    )


def _asked(own: Sequence[Judged], records: Archive) -> date | None:
    """When an order came: the first day in Requested, else that of its first picture."""
    told = _requested(own)
    pictures = records.pictures(own[0].made.order.number)
    first = date.fromisoformat(pictures[0].made[:10]) if pictures else None
    return told or first


def _requested(own: Sequence[Judged]) -> date | None:
    days = [day for item in own if (day := _day(item.made.order.requested))]
    return min(days, default=None)


def _day(text: str) -> date | None:
    """The day of an ISO date; None for whatever else was typed."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _passage(own: Sequence[Judged], records: Archive) -> Passage:
    """The pictures of an order until its last approval, and the days until its last piece went."""
    number = own[0].made.order.number
    pictures = records.pictures(number)
    approved = [i.approval.record for i in own if i.approval.stands and i.approval.record]
    codes = {record.code for record in approved}
    until = max((i for i, each in enumerate(pictures, 1) if each.code in codes), default=0)
    asked, went = _requested(own), _went(own, records)
    days = (went - asked).days if went and asked else None
    return Passage(number, until, len(approved), None if days is None or days < 0 else days)


def _went(own: Sequence[Judged], records: Archive) -> date | None:
    """The day when the last piece of an order was handed over; None while one that is sold is not,
    or is made again.
    """
    events = records.events(own[0].made.order.number)
    sold = [item for item in own if is_sold(item, records)]
    told = ((item.made, item.approval, events, item.before) for item in sold)
    if any(COLLECTED not in happened(*each) for each in told):
        return None
    days = [
        date.fromisoformat(event.at[:10])
        for item in sold
        for event in since_redo(events_of(item.made, item.approval, events))
        if event.kind == COLLECTED
    ]
    return max(days, default=None)
