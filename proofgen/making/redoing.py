"""Spoiled pieces that are queued to be cut again."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.day.daybook import one_line
from proofgen.day.judging import Judged
from proofgen.day.rows import Options, Progress
from proofgen.desk.status import DONE, REDO, happened, noted
from proofgen.errors import UnusableError
from proofgen.making.bench import Share, folded, items_of, lines_named, reason
from proofgen.making.completing import Noted
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, Event, now
from proofgen.sheets.layers_cut import LAYER_KINDS, SPARE, SPOILED, layer_subject, layers_cut


def redo(
    book: Path,
    number: str,
    share: Share,
    layers: Collection[str],
    why: str,
    options: Options,
    progress: Progress,
) -> Noted:
    """Queue layers of a piece again (all of them where none is named), under the same approval.

    UnusableError where the order has several lines and none is said, or not so many are made of a
    layer that is named, or of all of them.
    """
    why = reason(why)
    with archive(book.resolve().parent) as records:
        items = items_of(book, {number}, options, records, progress)
        lines = lines_named((number,), items)
        item = one_line(lines, share.line)
        order = item.made.order
        names = {
            layer_subject(order.number, item.piece, layer.name): layer.name
            for layer in _layers(item, layers)
        }
        cut = layers_cut(records.entries(*LAYER_KINDS))
        # What was cut beyond that would stand for the spoiled ones, and nothing be cut again.
        asked = sum(each.made.order.quantity for each in lines if each.piece == item.piece)
        spare = {each: cut[each] - asked for each in names if cut[each] > asked}
        cut.subtract(spare)
        there = {each: cut[each] for each in names}
        spoiled = _spoiled(order.number, there, share.count or 1, whole=not layers)
        at = now()
        back = Event(at, REDO, order.number, order.line, item.piece, why)
        with records.held():
            records.enter(Entry(at, SPARE, each, more) for each, more in spare.items())
            records.enter(Entry(at, SPOILED, each, lost, why) for each, lost in spoiled.items())
            records.note((back, *_still_so(item, lines, back, records)))
        again = tuple(f"{n} of {names[e]}" if n > 1 else names[e] for e, n in spoiled.items())
        return Noted(((order.number, item.called),), sum(spoiled.values()), again=again)


def _spoiled(number: str, there: Mapping[str, int], count: int, *, whole: bool) -> dict[str, int]:
    """How many of each layer are spoiled, of those that are there; UnusableError where there are
    not so many.
    """
    if not any(there.values()):
        raise UnusableError(f"order {number}: nothing of that is noted as made.")
    # Of a whole piece, a layer that is not there waits to be cut already.
    most = max(there.values()) if whole else min(there.values())
    if count > most:
        raise UnusableError(f"order {number}: only {most} of that are noted as made.")
    return {each: min(count, made) for each, made in there.items() if made}


def _still_so(
    item: Judged, lines: Iterable[Judged], back: Event, records: Archive
) -> Iterator[Event]:
    """What happened to the copies of other lines of that piece, which putting it back leaves so."""
    order = item.made.order
    events = records.events(order.number)
    alike = [each for each in lines if each.piece == item.piece and each is not item]
    done = [(e, happened(e.made, e.approval, events, e.before)) for e in alike]
    for kind in DONE:
        copies = sum(each.made.order.quantity for each, kinds in done if kind in kinds)
        if copies:
            yield noted(back.at, kind, order, item.piece, copies)


def _layers(item: Judged, wanted: Collection[str]) -> tuple[Layer, ...]:
    layers = item.made.artwork.layers if item.made.artwork else ()
    names = [layer.name for layer in layers]
    for each in wanted:
        if folded(each) not in map(folded, names):
            raise UnusableError(f"there is no layer {each!r}; there is {', '.join(names)}.")
    said = {folded(each) for each in wanted}
    return tuple(layer for layer in layers if not said or folded(layer.name) in said)
