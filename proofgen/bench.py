"""What happens at the bench: sheets and pieces that are cut, spoiled, or left half-way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.daybook import piece_of, refuse_unapproved
from proofgen.desk.status import REDO
from proofgen.errors import UnusableError
from proofgen.laying import SHEET, SHEET_MADE
from proofgen.pipeline import Judged, judged
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, Event, now
from proofgen.rows import Options, Progress, lines_of
from proofgen.sheets import job as jobs, run as runs
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.layers_cut import MADE, SPOILED, layer_subject, layers_cut
from proofgen.sheets.stock import CUT, PULLED
from proofgen.sheets.wood_left import GONE, Remainder, kept

MADE_PIECE = "made"  # the kind of event


@dataclass(frozen=True, slots=True)
class Noted:
    """What was noted: `pieces` are the (order, name) that are complete now, `layers` how many
    layers came of it; `files` were written, `sheet` is their sheet, and `left` lies on that in the
    order in which it comes free.
    """

    pieces: tuple[tuple[str, str], ...]
    layers: int
    sheet: str = ""
    files: tuple[Path, ...] = ()
    left: tuple[str, ...] = ()


def made(
    book: Path, names: Collection[str], options: Options, progress: Progress, anyway: bool = False
) -> Noted:
    """Note that sheets (by their ids) and orders are cut.

    Layers from stock go with the pieces that they were pulled for; remainders come and go with
    their sheets. UnusableError for a sheet that is noted already, and for orders that nobody
    approved unless that is meant `anyway`.
    """
    if not any(name.strip() for name in names):
        raise UnusableError("Name the sheets or orders that are made, after the book.")
    with archive(book.resolve().parent) as records:
        known = jobs_of(records)
        wanted = [name.strip().upper() for name in names if name.strip().upper() in known]
        orders = tuple(name for name in names if name.strip().upper() not in known)
        found = [known[each] for each in dict.fromkeys(wanted)]
        refuse_twice(found, records)
        if not anyway:
            _refuse_twice_cut(found, records)
        entries = [entry for job in found for entry in cut_from(job, job.lies)]
        numbers = {lies.number for job in found for lies in job.lies if not lies.ahead}
        items = items_of(book, {*numbers, *orders}, options, records, progress)
        _refuse_unknown(orders, items)
        folded = {order.strip().casefold() for order in orders}
        whole = [item for item in items if item.made.order.number.casefold() in folded]
        if not anyway:
            refuse_unapproved(whole, records)
        return complete(items, whole, entries, records)


def redo(
    book: Path,
    number: str,
    line: int,
    layers: Collection[str],
    why: str,
    options: Options,
    progress: Progress,
) -> Noted:
    """Queue layers of a piece again (all of them where none is named), under the same approval.

    UnusableError where the order has several lines and `line` is 0, or nothing of it is made.
    """
    why = reason(why)
    with archive(book.resolve().parent) as records:
        items = items_of(book, {number}, options, records, progress)
        _refuse_unknown((number,), items)
        item = _one(items, line)
        order, code = item.made.order, piece_of(item)
        cut = layers_cut(records.entries(MADE, SPOILED))
        wanted = _layers(item, layers)
        subjects = [layer_subject(order.number, code, layer.name) for layer in wanted]
        spoiled = [subject for subject in subjects if cut[subject]]
        if not spoiled:
            raise UnusableError(f"order {order.number}: nothing of that is noted as made.")
        at = now()
        records.enter(Entry(at, SPOILED, subject, 1, why) for subject in spoiled)
        records.note([Event(at, REDO, order.number, order.line, code, why)])
        return Noted(((order.number, order.field("name")),), len(spoiled))


def reason(why: str) -> str:
    """What went wrong; UnusableError where nothing is said."""
    if not why.strip():
        raise UnusableError("Say --why, in a few words: what goes wrong often can then be seen.")
    return why.strip()


def jobs_of(records: Archive) -> dict[str, Job]:
    """Every sheet that was ever laid, by its id."""
    return {e.subject: jobs.from_json(e.details) for e in records.entries(SHEET)}


def refuse_twice(found: Iterable[Job], records: Archive) -> None:
    """UnusableError for a sheet that is noted as made already."""
    done = {entry.subject for entry in records.entries(SHEET_MADE)}
    for job in found:
        if job.id in done:
            raise UnusableError(f"{job.id} is noted as made already; lay anew with sheets --again.")


def _refuse_unknown(orders: Iterable[str], items: Iterable[Judged]) -> None:
    there = {item.made.order.number.casefold() for item in items}
    for order in orders:
        if order.strip().casefold() not in there:
            raise UnusableError(f"there is no sheet and no order {order!r}.")


def _refuse_twice_cut(found: Iterable[Job], records: Archive) -> None:
    """UnusableError for a sheet that was laid anew since, where its layers are cut on another."""
    cut = layers_cut(records.entries(MADE, SPOILED))
    for job in found:
        for each in job.lies:
            subject = layer_subject(each.number, each.code, each.layer)
            if not each.ahead and cut[subject] >= each.copy:
                raise UnusableError(
                    f"{job.id}: {each.number} {each.name}, {each.layer}, is noted as cut already, "
                    "so this sheet was laid anew since; add --anyway if it was cut too."
                )


def items_of(
    book: Path, numbers: Collection[str], options: Options, records: Archive, progress: Progress
) -> tuple[Judged, ...]:
    """The lines of these orders, judged; numbers that the book does not have are passed over."""
    every, _ = lines_of(book, options)
    folded = {number.strip().casefold() for number in numbers}
    there = {line.order.number for line in every if line.order.number.casefold() in folded}
    asked = replace(options, orders=tuple(there))
    return tuple(judged(book, every, asked, records, progress, None)) if there else ()


def _one(items: Sequence[Judged], line: int) -> Judged:
    found = [item for item in items if line in (0, item.made.order.line)]
    if len(found) == 1:
        return found[0]
    names = ", ".join(f"--line {i.made.order.line} for {i.made.order.field('name')}" for i in items)
    raise UnusableError(f"the order has several lines; say which: {names}.")


def _layers(item: Judged, wanted: Collection[str]) -> tuple[Layer, ...]:
    layers = item.made.artwork.layers if item.made.artwork else ()
    names = [layer.name for layer in layers]
    for each in wanted:
        if each not in names:
            raise UnusableError(f"there is no layer {each!r}; there is {', '.join(names)}.")
    return tuple(layer for layer in layers if not wanted or layer.name in wanted)


def cut_from(job: Job, lies: Iterable[Lies]) -> Iterator[Entry]:
    """What a sheet gives when these are cut from it."""
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
        yield kept(Remainder(job.remainder, job.wood, *job.leaves), at)


def complete(
    items: Sequence[Judged], whole: Sequence[Judged], entries: Sequence[Entry], records: Archive
) -> Noted:
    """Enter it all; pieces of which every layer is there now are made, `whole` ones in any case."""
    before = records.entries(MADE, SPOILED)
    pulls = _pulls(records)
    cut = layers_cut((*before, *entries))
    come = [e for item in items for e in _come(item, cut, pulls, item in whole)]
    cut = layers_cut((*before, *entries, *come))
    ready = [item for item in items if item in whole or _all_there(item, cut)]
    at = now()
    records.enter((*entries, *come))
    orders = [(item.made.order, piece_of(item)) for item in ready]
    records.note(Event(at, MADE_PIECE, o.number, o.line, piece) for o, piece in orders)
    came = sum(entry.amount for entry in (*entries, *come) if entry.kind in (MADE, CUT))
    layers = came - sum(entry.amount for entry in entries if entry.kind == SPOILED)
    return Noted(tuple((o.number, o.field("name")) for o, _ in orders), layers)


def _pulls(records: Archive) -> tuple[runs.Pull, ...]:
    """What is to be pulled for each layer, by the last run that decided about it."""
    known = jobs_of(records)
    decided: dict[tuple[str, str, str], list[runs.Pull]] = {}
    for entry in records.entries(runs.RUN):
        run = runs.from_json(entry.details)
        lies = (each for id_ in run.sheets for each in known[id_].lies if not each.ahead)
        new: dict[tuple[str, str, str], list[runs.Pull]] = {
            (each.number, each.code, each.layer): [] for each in lies
        }
        for pull in run.pulls:
            new.setdefault((pull.number, pull.code, pull.layer), []).append(pull)
        decided.update(new)
    return tuple(pull for pulls in decided.values() for pull in pulls)


def _come(
    item: Judged, cut: Counter[str], pulls: Sequence[runs.Pull], whole: bool
) -> Iterator[Entry]:
    """What a piece lacks yet and was pulled from stock; all that it lacks where it is `whole`."""
    at, order, piece = now(), item.made.order, piece_of(item)
    for layer in item.made.artwork.layers if item.made.artwork else ():
        subject = layer_subject(order.number, piece, layer.name)
        missing = max(order.quantity - cut[subject], 0)
        own = [p for p in pulls if (p.number, p.code, p.layer) == (order.number, piece, layer.name)]
        pulled = min(missing, len(own))
        if pulled:
            yield Entry(at, PULLED, own[0].stock, pulled, order.number)
        if missing and (whole or pulled):
            yield Entry(at, MADE, subject, missing if whole else pulled)


def _all_there(item: Judged, cut: Counter[str]) -> bool:
    order, artwork, piece = item.made.order, item.made.artwork, piece_of(item)
    return artwork is not None and all(
        cut[layer_subject(order.number, piece, layer.name)] >= order.quantity
        for layer in artwork.layers
    )
