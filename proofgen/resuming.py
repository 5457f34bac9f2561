"""A sheet that failed half-way: what came out of it, and a file of what is left."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.bench import Noted, complete, cut_from, items_of, reason, refuse_twice
from proofgen.errors import UnusableError
from proofgen.laying import REST, SHEET
from proofgen.orders.order import Order, Source
from proofgen.records.archive import Archive, archive
from proofgen.records.codec import decoded
from proofgen.records.record import Entry, now
from proofgen.rows import Options, shop_for
from proofgen.sheet_files import Find, Form, Planned, label, planned, write_sheets
from proofgen.sheets import job as jobs, run as runs
from proofgen.sheets.job import Job, Lies, next_number
from proofgen.sheets.layers_cut import MADE, SPOILED, layer_subject
from proofgen.workshop.workshop import Workshop


def resume(
    book: Path, sheet: str, done: int, lost: Collection[int], why: str, options: Options
) -> Noted:
    """Note the first `done` pieces of a sheet, in the order in which they come free, as cut; write
    what is left of it, on the same origin, as a sheet of its own.

    The `lost` ones, by the same numbers, are spoiled and wait to be laid again.
    """
    why = reason(why) if lost else ""
    workshop = shop_for(book, options).workshop
    with archive(book.resolve().parent) as records:
        job, run = sheet_and_run(sheet, records)
        refuse_twice([job], records)
        find = finder(records)
        came, gone, rest = _parted(planned(job, find, workshop, run.manner), done, lost)
        left = replace(
            job,
            id=f"S-{next_number(entry.subject for entry in records.entries(SHEET)):04}",
            lies=rest,
            uses="",
            pencil=job.remainder,
        )
        ended = replace(job, leaves=None) if rest else job
        entries = [*cut_from(ended, came), *_lost(gone, why)]
        files: tuple[Path, ...] = ()
        names: tuple[str, ...] = ()
        if rest:
            out = (options.out or book.parent / "sheets").resolve()
            steps = planned(left, find, workshop, run.manner)
            files = _written(steps, out, run, workshop)
            names = tuple(label(each) for each in steps.in_order())
            entries += _entered(left, replace(run, sheets=(left.id,)))
        items = items_of(book, {each.number for each in came}, options, records, lambda *_: None)
        noted = complete(items, [], entries, records)
        return replace(noted, sheet=left.id if rest else "", files=files, left=names)


def sheet_and_run(sheet: str, records: Archive) -> tuple[Job, runs.Run]:
    """The sheet and the last run that has it; UnusableError where there is none of that id."""
    wanted = sheet.strip().upper()
    known = [entry.details for entry in records.entries(SHEET) if entry.subject == wanted]
    if not known:
        raise UnusableError(f"there is no sheet {sheet}; look at its file's name.")
    job = jobs.from_json(known[-1])
    found = [runs.from_json(entry.details) for entry in records.entries(runs.RUN)]
    return job, next(run for run in reversed(found) if job.id in run.sheets)


def _parted(
    sheet: Planned, done: int, lost: Collection[int]
) -> tuple[list[Lies], list[Lies], tuple[Lies, ...]]:
    """What came free, what is spoiled, what is left; UnusableError for numbers of no piece."""
    order = dict(enumerate(sheet.in_order(), 1))
    if not 0 <= done <= len(order) or not order.keys() >= set(lost):
        raise UnusableError(f"{sheet.job.id} has {len(order)} pieces; give numbers of those.")
    came = [each for n, each in order.items() if n <= done and n not in lost]
    gone = [each for n, each in order.items() if n in lost]
    rest = tuple(each for n, each in order.items() if n > done and n not in lost)
    return came, gone, rest


def _written(sheet: Planned, out: Path, run: runs.Run, workshop: Workshop) -> tuple[Path, ...]:
    """In the formats of the sheet that failed."""
    form = Form(run.formats, run.manner, run.apart, run.hatch)
    (files,) = write_sheets([sheet], out, form, workshop, lambda *_: None)
    return files


def _entered(left: Job, run: runs.Run) -> tuple[Entry, ...]:
    at = now()
    return (
        Entry(at, SHEET, left.id, details=jobs.to_json(left)),
        Entry(at, runs.RUN, "", details=runs.to_json(run)),
        Entry(at, REST, left.id),
    )


def finder(records: Archive) -> Find:
    """The recorded layer that lies on a sheet."""

    def find(lies: Lies) -> tuple[Layer, float]:
        record = next(p for p in records.pictures(lies.number) if p.code == lies.code)
        order = Order(lies.number, lies.line, Source("", "", 0), record.design)
        artwork = decoded(records.artwork(record.artwork), order)
        layer = next(layer for layer in artwork.layers if layer.name == lies.layer)
        return layer, artwork.size[0]

    return find


def _lost(lies: Iterable[Lies], why: str) -> Iterator[Entry]:
    """Spoiled layers: cut and lost, so that they wait again and are counted."""
    at = now()
    for each in lies:
        if not each.ahead:
            subject = layer_subject(each.number, each.code, each.layer)
            yield Entry(at, MADE, subject, 1)
            yield Entry(at, SPOILED, subject, 1, why)
