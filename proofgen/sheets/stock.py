"""Layers that are the same for every buyer and lie ready, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import ceil

from proofgen.records.record import Entry
from proofgen.sheets.shelf import Shelf
from proofgen.sheets.want import NEVER, Want

COUNTED, CUT, PULLED = "stock-counted", "stock-cut", "stock-pulled"
KINDS = (COUNTED, CUT, PULLED)
RARELY = 0.5  # a week


def in_stock(entries: Iterable[Entry]) -> Counter[str]:
    """How many lie ready of each, by the ledger, the oldest entry first.

    The count of the latest day stands, of that day the one that was entered last. What came and
    went after it is added and taken off: all that was entered later, and what was entered before
    but on a later day, as where Monday's count is typed on Wednesday.
    """
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        found.setdefault(entry.subject, []).append(entry)
    return Counter({subject: _lying(own) for subject, own in found.items()})


def _lying(own: list[Entry]) -> int:
    counts = [i for i, entry in enumerate(own) if entry.kind == COUNTED]
    last = max(counts, key=lambda i: (own[i].details, i), default=-1)
    day, left = (own[last].details, own[last].amount) if counts else ("", 0)
    for i, entry in enumerate(own):
        if i > last or _day_of(entry) > day:
            left += {CUT: entry.amount, PULLED: -entry.amount}.get(entry.kind, 0)
            left = max(left, 0)
    return left


def _day_of(entry: Entry) -> str:
    """As the maker counts days, where the records are in UTC."""
    return datetime.fromisoformat(entry.at).astimezone().date().isoformat()


def pulled(wants: Sequence[Want], stock: Counter[str]) -> tuple[Want, ...]:
    """Those wants that the stock serves, the most urgent first."""
    left = Counter(stock)
    found = []
    for want in sorted(wants, key=lambda want: want.rank):
        if want.stock and left[want.stock] > 0:
            left[want.stock] -= 1
            found.append(want)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Advice:
    """How a shared layer stands: pieces `ordered` so far, so many a week; `stock` once the pull
    list is taken, `coming` on boards that are to be cut; `cut` more would last another week.
    """

    shelf: Shelf
    ordered: int
    weekly: float
    stock: int
    cut: int
    coming: int = 0

    def once_cut(self, coming: int) -> Advice:
        """The same, when so many more lie on boards."""
        return replace(self, cut=max(self.cut - coming, 0), coming=self.coming + coming)


def advice(shelf: Shelf, ordered: int, weeks: float, stock: int) -> Advice:
    """What to cut ahead: a week's orders, by the pace so far, less what lies ready; nothing of what
    is ordered less than once in two weeks.
    """
    weekly = ordered / max(weeks, 1.0)
    wanted = ceil(weekly) if weekly >= RARELY else 0
    return Advice(shelf, ordered, weekly, stock, max(wanted - stock, 0))


def ahead(pattern: Want, count: int) -> tuple[Want, ...]:
    """So many more of a layer, for the stock."""
    return tuple(replace(pattern, copy=i, days=NEVER, ahead=True) for i in range(1, count + 1))
