"""From approved orders to sheets: what to pull from stock, what lies on which board, the files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.day.rows import Options, Progress, shop_for
from proofgen.day.shop import Shop
from proofgen.jobsheet.trays import Copy
from proofgen.making.ahead import advised, cut_ahead, once_cut, patterns
from proofgen.making.counting import take_counts
from proofgen.making.laying import laid, noted, rests
from proofgen.making.recorded import finder, want_of
from proofgen.making.undone import Others, open_pulls, open_sheets
from proofgen.making.wanting import Wanted, Wish, every_row, wanted
from proofgen.orders.counts import read_counts
from proofgen.records.archive import Archive, archive
from proofgen.sheets import stock
from proofgen.sheets.job import Job
from proofgen.sheets.shelf import Shelf
from proofgen.sheets.want import Want


@dataclass(frozen=True, slots=True)
class Laying:
    """What is to be cut and how it lies: `wants` by key; `pulled` come from stock; `too_large` fit
    on no board; `advice` says what to cut ahead. `rows` are all that were asked for; `later` is
    left for the next laying. The boards of the `begun` ids lie ready: they failed half-way.
    `ended` says what ended the search before it was done (see nesting/part.py), `ahead` that what
    is advised was to be cut. The `unfinished` copies are cut and not packed; `trays` are the
    numbers of those that are in use. `aside` has a sentence for each count that is not taken, and
    each row and remainder that is left aside; `twice` the orders by the ids of open sheets on which
    they lie too; `seen` is how much was noted at the bench before (see laying.noted).
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
    seen: int = 0

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


def lay(
    book: Path, options: Options, wish: Wish, progress: Progress, today: date
) -> tuple[Laying, Shop]:
    """Lay all that is approved, paid as the workshop wants it, and not cut yet. What is left of
    sheets that failed comes first, as it lies.
    """
    shop = shop_for(book, options)
    with archive(book.resolve().parent) as records:
        untaken = take_counts(read_counts(book), shop, records, today)
        seen = noted(records)
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
        aside=(*untaken, *found.aside, *new.aside),
        twice=others.twice(new.jobs),
        seen=seen,
    )
    return laying, shop


def _others(options: Options, found: Wanted, records: Archive) -> Others:
    """What waits for other orders; nothing where all are laid anew."""
    if not options.orders:
        return Others((), (), frozenset())
    asked = frozenset(item.made.order.number for item in found.items)
    return Others(open_sheets(records), open_pulls(records), asked)
