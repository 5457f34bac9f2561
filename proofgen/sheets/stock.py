"""Layers that are the same for every buyer and lie ready, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.designs.design import Template
from proofgen.orders.order import Order
from proofgen.records.record import Entry
from proofgen.sheets.want import NEVER, Want

COUNTED, CUT, PULLED = "stock-counted", "stock-cut", "stock-pulled"
KINDS = (COUNTED, CUT, PULLED)
YEAR = "year"


@dataclass(frozen=True, slots=True)
class Shelf:
    """A layer in stock. `dated` says that it bears the edition's year and dies with the season."""

    subject: str
    title: str
    dated: bool


def shelf(template: Template, layer: str, edition: int) -> Shelf:
    """What a layer of a design is counted under; another drawing of it is another layer."""
    drawing = next(each.sha256 for each in template.layers if each.name == layer)
    dated = any(slot.layer == layer and slot.field == YEAR for slot in template.slots)
    year = f" {edition}" if dated else ""
    subject = f"{template.id}/{layer}/{drawing[:16]}{year}"
    return Shelf(subject, f"{template.title}, {layer}{year}", dated)


def shelf_of(
    layer: Layer, artwork: Artwork, order: Order, template: Template | None, edition: int
) -> Shelf | None:
    """Where a layer of a piece may be taken from; None where it is the buyer's own."""
    if not layer.shared or template is None:
        return None
    found = shelf(template, layer.name, edition)
    fits = not found.dated or order.field(YEAR) == str(edition)
    return found if fits and artwork.design == template.id else None


def in_stock(entries: Iterable[Entry]) -> Counter[str]:
    """How many lie ready of each, by the ledger: the last count, and what came and went since."""
    found: Counter[str] = Counter()
    for entry in entries:
        if entry.kind == COUNTED:
            found[entry.subject] = entry.amount
        elif entry.kind == CUT:
            found[entry.subject] += entry.amount
        elif entry.kind == PULLED:
            found[entry.subject] = max(found[entry.subject] - entry.amount, 0)
    return found


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
    list is taken; `cut` more would last another week.
    """

    shelf: Shelf
    ordered: int
    weekly: float
    stock: int
    cut: int


def advice(shelf: Shelf, ordered: int, weeks: float, stock: int) -> Advice:
    """What to cut ahead: a week's orders, by the pace so far, less what lies ready."""
    weekly = ordered / max(weeks, 1.0)
    return Advice(shelf, ordered, weekly, stock, max(round(weekly + 0.499) - stock, 0))


def ahead(pattern: Want, count: int) -> tuple[Want, ...]:
    """So many more of a layer, for the stock."""
    return tuple(replace(pattern, copy=i, days=NEVER, ahead=True) for i in range(1, count + 1))
