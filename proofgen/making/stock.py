"""What `proofgen stock` does."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from proofgen.day.rows import Options, shop_for
from proofgen.day.shop import Shop
from proofgen.errors import UnusableError
from proofgen.making.counting import take_counts
from proofgen.making.laying import rests
from proofgen.making.sheet_files import label
from proofgen.orders.counts import read_counts
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, now
from proofgen.sheets import stock as ledger
from proofgen.sheets.job import Job
from proofgen.sheets.shelf import Shelf, shelves
from proofgen.sheets.wood_left import GONE, KEPT, Remainder, remainders
from proofgen.workshop.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Stock:
    """Layers that lie ready with how many there are, and remainders of boards; a sentence for each
    count that is not taken, and for each begun board that is given up now.
    """

    layers: tuple[tuple[Shelf, int], ...]
    remainders: tuple[Remainder, ...]
    workshop: Workshop
    untaken: tuple[str, ...]
    given_up: tuple[str, ...]


def stock(book: Path, options: Options, gone: Collection[str], today: date) -> Stock:
    """What there is by the ledger, once the book's counts are in; remainders that are `gone` are
    taken out. UnusableError names one that is not there.
    """
    shop = shop_for(book, options)
    with archive(book.resolve().parent) as records:
        untaken = take_counts(read_counts(book), shop, records, today)
        given_up = _take_out(gone, records)
        lying = ledger.in_stock(records.entries(*ledger.KINDS))
        left = remainders(records.entries(KEPT, GONE))
    there = (each for each in _shelves(shop) if each.subject in lying)
    layers = tuple((each, lying[each.subject]) for each in there)
    return Stock(layers, left, shop.workshop, untaken, given_up)


def _take_out(gone: Collection[str], records: Archive) -> tuple[str, ...]:
    there = [each.id for each in remainders(records.entries(KEPT, GONE))]
    begun = {job.id: job for job in rests(records)}
    there += begun
    ids = dict.fromkeys(each.strip().upper() for each in gone)
    for each in ids:
        if each not in there:
            raise UnusableError(
                f"there is no remainder {each}; there is {', '.join(there) or 'none'}."
            )
    if ids:
        records.enter([Entry(now(), GONE, each) for each in ids])
    return tuple(_given_up(begun[each]) for each in ids if each in begun)


def _given_up(job: Job) -> str:
    lost = f", and what would be left of it, {job.remainder}," if job.leaves else ""
    pieces = "; ".join(map(label, job.lies))
    return f"{job.id}{lost} is given up; what is still wanted of it is laid anew: {pieces}"


def _shelves(shop: Shop) -> list[Shelf]:
    """Where every layer of every design would be counted."""
    return [
        shelf
        for template in shop.templates.values()
        for layer in template.layers
        for shelf in shelves(template, layer.name, shop.workshop)
    ]
