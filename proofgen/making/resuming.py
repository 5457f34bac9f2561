"""A sheet that failed half-way: what came out of it, and a file of what is left."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from proofgen.day.pipeline import Judged
from proofgen.day.rows import Options, Progress, shop_for
from proofgen.day.superseded import moved_away
from proofgen.errors import UnusableError
from proofgen.making.bench import cut_from, items_of, reason, refuse_twice, refuse_twice_cut
from proofgen.making.completing import Noted, complete, run_of
from proofgen.making.job_sheets import NAMES
from proofgen.making.jobs_left import write_what_is_left
from proofgen.making.laying import REST, SHEET
from proofgen.making.recorded import finder
from proofgen.making.sheet_files import Form, Planned, earlier_files, label, planned, write_sheets
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, now
from proofgen.sheets import job as jobs, run as runs
from proofgen.sheets.job import Job, Lies, next_number
from proofgen.sheets.layers_cut import MADE, SPOILED, layer_subject
from proofgen.workshop.workshop import Workshop


def resume(
    book: Path,
    sheet: str,
    done: int,
    lost: Collection[int],
    why: str,
    options: Options,
    progress: Progress,
    *,
    engraved: bool = False,
    anyway: bool = False,
) -> Noted:
    """Note the first `done` pieces of a sheet, in the order in which they come free, as cut; write
    what is left of it, on the same origin, as a sheet of its own, and the job sheet anew.

    The `lost` ones, by the same numbers, are spoiled and wait to be laid again. What is engraved
    before anything is cut is done once a piece came free, and where `engraved` says so.
    UnusableError where what came free is noted as cut already, unless that is meant `anyway`.
    """
    why = reason(why) if lost else ""
    shop = shop_for(book, options)
    out = (options.out or book.parent / "sheets").resolve()
    with archive(book.resolve().parent) as records:
        job, run = sheet_and_run(sheet, records)
        refuse_twice([job], records)
        items = items_of(book, {each.number for each in job.lies}, options, records, progress)
        if not anyway:
            refuse_twice_cut([job], items, records)
        find = finder(records)
        whole = planned(job, find, shop.workshop, run.manner, run.hatch)
        came, gone, rest = _parted(whole, done, lost)
        left = replace(
            job,
            id=f"S-{next_number(entry.subject for entry in records.entries(SHEET)):04}",
            lies=rest,
            uses="",
            pencil=job.remainder,
            engraved=_engraved(whole, run) if done or engraved else job.engraved,
        )
        ended = replace(job, leaves=None) if rest else job
        entries = [*cut_from(ended, came), *_lost(gone, why)]
        files: tuple[Path, ...] = ()
        names: tuple[str, ...] = ()
        if rest:
            steps = planned(left, find, shop.workshop, run.manner, run.hatch)
            files = _written(steps, out, run, shop.workshop)
            names = tuple(label(each) for each in steps.in_order())
            entries += _entered(left, replace(run, sheets=(left.id,)))
        noted = complete(_of_these(items, came), [], entries, records)
        _set_aside(job, run, out)
        jobs, stale = write_what_is_left(book, out, options, records, shop, progress)
        again = tuple(label(each) for each in gone if not each.ahead)
        told = replace(noted, sheet=left.id if rest else "", files=files, left=names)
        return replace(told, jobs=jobs, again=again, stale=stale)


def _of_these(items: Iterable[Judged], lies: Iterable[Lies]) -> tuple[Judged, ...]:
    """The lines of the orders of what came free."""
    numbers = {each.number for each in lies}
    return tuple(item for item in items if item.made.order.number in numbers)


def _engraved(sheet: Planned, run: runs.Run) -> tuple[str, ...]:
    """The sides of a sheet that are engraved by the time its first piece comes free."""
    first = (("back", sheet.back is not None), ("front", run.manner == "operation" or run.apart))
    return tuple(side for side, done in first if done or side in sheet.job.engraved)


def _set_aside(job: Job, run: runs.Run, out: Path) -> None:
    """Move the files of a sheet that was begun away, so that nobody cuts it from the start; and
    the job sheet of a run of some orders alone, which has it.
    """
    there = (path for path in earlier_files(out, ()) if path.name.startswith(job.id))
    own = (out / f"{run.sheets[0]}-{name}" for name in NAMES)
    moved_away({*there, *(path for path in own if path.exists())}, out)


def sheet_and_run(sheet: str, records: Archive) -> tuple[Job, runs.Run]:
    """The sheet and the last run that has it; UnusableError where there is none of that id."""
    wanted = sheet.strip().upper()
    known = [entry.details for entry in records.entries(SHEET) if entry.subject == wanted]
    if not known:
        raise UnusableError(f"there is no sheet {sheet}; look at its file's name.")
    job = jobs.from_json(known[-1])
    return job, run_of(job, records)


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


def _lost(lies: Iterable[Lies], why: str) -> Iterator[Entry]:
    """Spoiled layers: cut and lost, so that they wait again and are counted."""
    at = now()
    for each in lies:
        if not each.ahead:
            subject = layer_subject(each.number, each.code, each.layer)
            yield Entry(at, MADE, subject, 1)
            yield Entry(at, SPOILED, subject, 1, why)
