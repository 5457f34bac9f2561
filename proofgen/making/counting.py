"""The counts of the book's stock sheet, into the ledger."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import TypeVar

from proofgen.day.shop import Shop
from proofgen.designs.choices import Named, match
from proofgen.designs.design import Template
from proofgen.designs.offered import NOTHING, finishes, hangers, sizes
from proofgen.designs.read_layer import ROW
from proofgen.designs.resolve import YEAR
from proofgen.errors import UnusableError
from proofgen.orders.counts import Count
from proofgen.orders.order import ORDER
from proofgen.records.archive import Archive
from proofgen.records.record import Entry, now
from proofgen.sheets.shelf import Choice, Shelf, shelf
from proofgen.sheets.stock import COUNTED

T = TypeVar("T", bound=Named)


def take_counts(
    counts: Sequence[Count], shop: Shop, records: Archive, today: date
) -> tuple[str, ...]:
    """Enter the counts that were not seen before; gives a sentence for each that is not taken, as
    the records have one of a later day.

    Of one layer the last row of the last day stands. UnusableError for a count of what cannot be
    cut ahead, and for a day that is yet to come.
    """
    latest = max(today, datetime.now().date()).isoformat()
    late = next((count for count in counts if count.day > latest), None)
    if late:
        raise UnusableError(
            f"{late.where}, Date: {late.day} is yet to come; type the day of the count."
        )
    found = {each: shelf_for(each, shop) for each in counts}
    known = {entry.subject: entry for entry in records.entries(COUNTED)}
    last = {found[count].subject: count for count in counts}
    at = now()
    new = [
        Entry(at, COUNTED, subject, count.count, count.day)
        for subject, count in last.items()
        if subject not in known or _is_newer(count, known[subject])
    ]
    if new:
        records.enter(new)
    pairs = ((count, known.get(subject)) for subject, count in last.items())
    return tuple(_untaken(count, old) for count, old in pairs if old and count.day < old.details)


def _untaken(count: Count, known: Entry) -> str:
    return (
        f"{count.where}: {count.count} of {count.day} is not taken, as a later count is in the "
        f"records ({known.amount} of {known.details}); count once more and type the day of that."
    )


def shelf_for(count: Count, shop: Shop) -> Shelf:
    """What a row of the stock sheet counts; UnusableError where there is no such layer, or where
    each buyer has their own.
    """
    template = match(count.design, shop.templates.values())
    if template is None:
        there = ", ".join(each.title for each in shop.templates.values())
        raise UnusableError(
            f"{count.where}, Design: there is no '{count.design}'; there is {there}."
        )
    layers = {each.name.casefold(): each for each in template.layers}
    layer = layers.get(count.layer.casefold())
    if layer is None:
        there = ", ".join(each.name for each in template.layers)
        raise UnusableError(f"{count.where}, Layer: there is no '{count.layer}'; there is {there}.")
    _refuse_own(template, layer.name, count)
    workshop = shop.workshop
    chosen = finishes(template, workshop) if layer.finish == ROW else ()
    choice = Choice(
        _chosen(count.size, sizes(template), f"{count.where}, Size", layer.name),
        _chosen(
            count.hanger,
            hangers(template, workshop) or (NOTHING,),
            f"{count.where}, Hanger",
            layer.name,
        ),
        _chosen(
            count.finish,
            chosen or (workshop.finish(layer.finish),),
            f"{count.where}, Finish",
            layer.name,
        ),
    )
    return shelf(template, layer.name, workshop.edition_year, choice)


def _is_newer(count: Count, known: Entry) -> bool:
    """Whether a row says something else than the last count that was taken, of no earlier day."""
    return (count.day, count.count) != (known.details, known.amount) and count.day >= known.details


def _refuse_own(template: Template, layer: str, count: Count) -> None:
    """UnusableError for a layer that no two buyers have alike."""
    own = [slot.field for slot in template.slots if slot.layer == layer and slot.field != YEAR]
    drawn = next(each for each in template.layers if each.name == layer)
    if drawn.backing:
        own.append(drawn.backing.field)
    if own:
        named = [field for field in own if field != ORDER]
        what = f"buyer's {named[0]}" if named else "order's number"
        raise UnusableError(
            f"{count.where}, Layer: {layer} is made for each {what}, so it cannot be cut ahead; "
            "delete the row."
        )


def _chosen(typed: str, offered: Sequence[T], place: str, layer: str) -> T:
    """What was typed, the usual one where nothing was."""
    found = match(typed, offered) if typed else offered[0]
    if found is None:
        there = ", ".join(each.title for each in offered)
        raise UnusableError(f"{place}: {layer} is not made in '{typed}'; there is {there}.")
    return found
