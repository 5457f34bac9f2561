"""What happens at the bench: sheets and pieces that are cut, spoiled, or left half-way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.day.daybook import copies_made, one_line, refuse_unapproved
from proofgen.day.judging import Judged, judged
from proofgen.day.rows import Options, Progress, lines_of
from proofgen.desk.status import DONE, REDO, happened, noted
from proofgen.errors import UnusableError
from proofgen.making.completing import Named, Noted, complete, run_of
from proofgen.making.laying import REST, SHEET_MADE
from proofgen.making.undone import jobs_of
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, Event, now
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.layers_cut import LAYER_KINDS, MADE, SPARE, SPOILED, layer_subject, layers_cut
from proofgen.sheets.run import Run
from proofgen.sheets.stock import CUT
from proofgen.sheets.wood_left import GONE, Remainder, kept


@dataclass(frozen=True, slots=True)
class Share:
    """What of an order is meant: one `line`, or all for 0; so many copies, or all for 0."""

    line: int = 0
    count: int = 0


WHOLE = Share()


def made(
    book: Path,
    names: Collection[str],
    options: Options,
    progress: Progress,
    share: Share = WHOLE,
    *,
    anyway: bool = False,
) -> Noted:
    """Note that sheets (by their ids) and orders are cut; those that the options name are orders,
    whatever they are called. Of one order, `share` may be a part.

    Layers from stock go with the pieces that they were pulled for; remainders come and go with
    their sheets. UnusableError for a sheet that is noted already, and for orders that nobody
    approved unless that is meant `anyway`.
    """
    names = [name.strip() for name in names if name.strip()]
    with archive(book.resolve().parent) as records:
        known = jobs_of(records)
        sheets = dict.fromkeys(name.upper() for name in names if name.upper() in known)
        orders = (*options.orders, *(name for name in names if name.upper() not in known))
        if not sheets and not orders:
            raise UnusableError("Name the sheets or orders that are made, after the book.")
        found = [known[each] for each in sheets]
        refuse_twice(found, records)
        runs = [run_of(job, records) for job in found]
        pairs = zip(found, runs, strict=True)
        entries = [entry for job, run in pairs for entry in cut_from(job, run, job.lies)]
        numbers = {lies.number for job in found for lies in job.lies if not lies.ahead}
        items = items_of(book, {*numbers, *orders}, options, records, progress)
        if not anyway:
            refuse_twice_cut(found, items, records)
        cut = layers_cut((*records.entries(*LAYER_KINDS), *entries))
        named = _named(_of(orders, items), share, cut)
        if not anyway:
            refuse_unapproved([each.item for each in named], records)
        return complete(items, named, entries, records)


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
        lines = _of((number,), items)
        item = one_line(lines, share.line)
        order, code = item.made.order, item.piece
        wanted, count = _layers(item, layers), share.count or 1
        subjects = [layer_subject(order.number, code, layer.name) for layer in wanted]
        cut = layers_cut(records.entries(*LAYER_KINDS))
        # What was cut beyond that would stand for the spoiled ones, and nothing be cut again.
        asked = sum(each.made.order.quantity for each in lines if each.piece == code)
        spare = {each: cut[each] - asked for each in subjects if cut[each] > asked}
        cut -= Counter(spare)
        counts = [cut[subject] for subject in subjects]
        if not any(counts):
            raise UnusableError(f"order {order.number}: nothing of that is noted as made.")
        # Of a whole piece, a layer that is not there waits to be cut already.
        most = min(counts) if layers else max(counts)
        if count > most:
            raise UnusableError(f"order {order.number}: only {most} of that are noted as made.")
        spoiled = {each: min(count, cut[each]) for each in subjects if cut[each]}
        at = now()
        back = Event(at, REDO, order.number, order.line, code, why)
        with records.held():
            records.enter(Entry(at, SPARE, each, more) for each, more in spare.items())
            records.enter(Entry(at, SPOILED, each, lost, why) for each, lost in spoiled.items())
            records.note((back, *_still_so(item, lines, back, records)))
        named = ((order.number, item.called),)
        lost = [(layer.name, spoiled.get(s, 0)) for layer, s in zip(wanted, subjects, strict=True)]
        again = tuple(f"{n} of {name}" if n > 1 else name for name, n in lost if n)
        return Noted(named, sum(spoiled.values()), again=again)


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


def _named(items: Sequence[Judged], share: Share, cut: Counter[str]) -> list[Named]:
    """How many copies of each line are made, once this share of them is."""
    if share == WHOLE:
        return [Named(item, item.made.order.quantity) for item in items]
    item = one_line(items, share.line)
    before, quantity = copies_made(item, cut), item.made.order.quantity
    more = share.count or quantity - before
    if before + more > quantity:
        raise UnusableError(
            f"order {item.made.order.number}: {before} of {quantity} are made, so no {more} "
            "more are to be."
        )
    # Of lines that are alike, the first one that lacks a copy is served first.
    alike = [each for each in items if each.piece == item.piece] if item.made.artwork else [item]
    lacking = (each for each in alike if copies_made(each, cut) < each.made.order.quantity)
    first = next(lacking, item) if more else item
    return [Named(first, copies_made(first, cut) + more)]


def reason(why: str) -> str:
    """What went wrong; UnusableError where nothing is said."""
    if not why.strip():
        raise UnusableError("Say --why, in a few words: what goes wrong often can then be seen.")
    return why.strip()


def refuse_twice(found: Iterable[Job], records: Archive) -> None:
    """UnusableError for a sheet that is noted as made already; it names what is left of one that
    failed.
    """
    done = {entry.subject for entry in records.entries(SHEET_MADE, GONE)}
    rests = {entry.details: entry.subject for entry in records.entries(REST)}
    for job in found:
        if job.id not in done:
            continue
        left = job.id
        while left in done and left in rests:
            left = rests[left]
        if left in done:
            raise UnusableError(f"{job.id} is noted as made already; lay anew with sheets --again.")
        raise UnusableError(
            f"{job.id} failed half-way, and what came of it is noted already; the rest of the "
            f"board is {left} now: name that."
        )


def _of(orders: Collection[str], items: Iterable[Judged]) -> list[Judged]:
    """The lines of these orders; UnusableError for an order that is not there."""
    found = [item for item in items if _folded(item.made.order.number) in map(_folded, orders)]
    there = {_folded(item.made.order.number) for item in found}
    for order in orders:
        if _folded(order) not in there:
            raise UnusableError(f"there is no sheet and no order {order!r}.")
    return found


def _folded(number: str) -> str:
    return number.strip().casefold()


def refuse_twice_cut(found: Iterable[Job], items: Iterable[Judged], records: Archive) -> None:
    """UnusableError for a sheet that was laid anew since: by what is noted as cut, the lines need
    no more of a layer than the sheets hold. Those that were laid again on purpose hold more.
    """
    before = layers_cut(records.entries(*LAYER_KINDS))
    cut = Counter(before)
    wanted: Counter[tuple[str, str]] = Counter()
    for item in items:
        wanted[item.made.order.number, item.piece] += item.made.order.quantity
    once = [job for job in found if not run_of(job, records).again]
    lying = [(job.id, each) for job in once for each in job.lies if not each.ahead]
    for sheet, each in lying:
        subject = layer_subject(each.number, each.code, each.layer)
        cut[subject] += 1
        most = wanted.get((each.number, each.code), cut[subject])
        if before[subject] and cut[subject] > most:
            raise UnusableError(
                f"{sheet}: {each.number} {each.name}, {each.layer}, is noted as cut already, by "
                "its order or with another sheet; if this one was cut too, add --anyway."
            )


def items_of(
    book: Path, numbers: Collection[str], options: Options, records: Archive, progress: Progress
) -> tuple[Judged, ...]:
    """The lines of these orders, judged; numbers that the book does not have are passed over."""
    every, _ = lines_of(book, options)
    folded = set(map(_folded, numbers))
    there = {line.order.number for line in every if _folded(line.order.number) in folded}
    asked = replace(options, orders=tuple(there))
    return tuple(judged(book, every, asked, records, progress, None)) if there else ()


def _layers(item: Judged, wanted: Collection[str]) -> tuple[Layer, ...]:
    layers = item.made.artwork.layers if item.made.artwork else ()
    names = [layer.name for layer in layers]
    for each in wanted:
        if _folded(each) not in map(_folded, names):
            raise UnusableError(f"there is no layer {each!r}; there is {', '.join(names)}.")
    said = {_folded(each) for each in wanted}
    return tuple(layer for layer in layers if not said or _folded(layer.name) in said)


def cut_from(job: Job, run: Run, lies: Iterable[Lies]) -> Iterator[Entry]:
    """What a sheet of a run gives when these are cut from it."""
    at = now()
    yield Entry(at, SHEET_MADE, job.id)
    for each in lies:
        if each.ahead:
            yield Entry(at, CUT, each.stock, 1, job.id)
        else:
            yield Entry(at, MADE, layer_subject(each.number, each.code, each.layer), 1, job.id)
    if job.uses:
        yield Entry(at, GONE, job.uses)
    if job.leaves:
        thickness = run.setup.thickness(job.wood.material) if run.setup else None
        yield kept(Remainder(job.remainder, job.wood, *job.leaves, thickness), at)
