"""What happens at the bench: sheets and pieces that are cut, spoiled, or left half-way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.day.daybook import copies_made, one_line, refuse_unapproved
from proofgen.day.judging import Judged, judged
from proofgen.day.rows import Options, Progress, lines_of
from proofgen.errors import UnusableError
from proofgen.making.completing import Named, Noted, complete, run_of
from proofgen.making.laying import REST, SHEET_MADE
from proofgen.making.twice import lying_twice, surplus
from proofgen.making.undone import jobs_of
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, now
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.layers_cut import LAYER_KINDS, MADE, layer_subject, layers_cut
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
    their sheets; boards that wait to be cut and hold the same are named. UnusableError for a sheet
    that is noted already, and for orders that nobody approved unless that is meant `anyway`.
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
        before = records.entries(*LAYER_KINDS)
        named = _named(lines_named(orders, items), share, layers_cut((*before, *entries)))
        if not anyway:
            refuse_unapproved([each.item for each in named], records)
        noted = complete(items, named, entries, records)
        cut = layers_cut(before)
        lies = [each for job in found for each in job.lies]
        return replace(
            noted,
            unlike=(*noted.unlike, *without_row(lies, items)),
            surplus=surplus(items, cut, records),
            twice=lying_twice(items, cut, records),
        )


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


def without_row(lies: Iterable[Lies], items: Iterable[Judged]) -> tuple[str, ...]:
    """A sentence for each piece that is cut and that no row asks for."""
    asked = {(item.made.order.number, item.piece) for item in items}
    own = (each for each in lies if not each.ahead and (each.number, each.code) not in asked)
    pieces = dict.fromkeys((each.number, each.name) for each in own)
    return tuple(
        f"{number} {name} is cut, and no row of the book asks for that piece: once one does, note "
        f"it with made {number}"
        for number, name in pieces
    )


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


def lines_named(orders: Collection[str], items: Iterable[Judged]) -> list[Judged]:
    """The lines of these orders; UnusableError for an order that is not there."""
    found = [item for item in items if folded(item.made.order.number) in map(folded, orders)]
    there = {folded(item.made.order.number) for item in found}
    for order in orders:
        if folded(order) not in there:
            raise UnusableError(f"there is no sheet and no order {order!r}.")
    return found


def folded(number: str) -> str:
    """As a number or name is looked for."""
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
                f"{sheet}: of {each.number} {each.name}, {each.layer}, {before[subject]} "
                f"{'is' if before[subject] == 1 else 'are'} noted as cut already, by the order or "
                f"with another sheet, and the book asks for {most}; if this one was cut too, add "
                "--anyway."
            )


def items_of(
    book: Path, numbers: Collection[str], options: Options, records: Archive, progress: Progress
) -> tuple[Judged, ...]:
    """The lines of these orders, judged; numbers that the book does not have are passed over."""
    every, _ = lines_of(book, options)
    wanted = set(map(folded, numbers))
    there = {line.order.number for line in every if folded(line.order.number) in wanted}
    asked = replace(options, orders=tuple(there))
    return tuple(judged(book, every, asked, records, progress, None)) if there else ()


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
