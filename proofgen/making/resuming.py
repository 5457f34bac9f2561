"""A sheet that failed half-way: what came out of it, and a file of what is left."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from proofgen.day.judging import Judged
from proofgen.day.rows import Options, Progress, shop_for
from proofgen.day.shop import Shop
from proofgen.errors import UnusableError
from proofgen.making.as_written import as_written, unlike
from proofgen.making.bench import cut_from, reason, refuse_twice, refuse_twice_cut, without_row
from proofgen.making.change import Change, among_earlier, carried_out, paths, settled
from proofgen.making.completing import Noted, complete, run_of
from proofgen.making.folders import elsewhere, folder_there, kept_as
from proofgen.making.job_sheets import NAMES
from proofgen.making.jobs_left import what_is_left
from proofgen.making.laying import REST, SHEET
from proofgen.making.recorded import finder
from proofgen.making.sheet_files import (
    Planned,
    drawn_sheets,
    in_the_way,
    label,
    sheet_files,
    sheet_of,
)
from proofgen.making.wanting import every_row
from proofgen.records.archive import Archive, archive
from proofgen.records.record import Entry, now
from proofgen.sheets import job as jobs, run as runs
from proofgen.sheets.job import Job, Lies, next_number
from proofgen.sheets.layers_cut import MADE, SPOILED, layer_subject


@dataclass(frozen=True, slots=True)
class Failed:
    """A sheet of a run: what came free of it, what is spoiled, and what is left, as a sheet of its
    own with its files by their names; None and none where nothing is.
    """

    job: Job
    run: runs.Run
    came: tuple[Lies, ...]
    gone: tuple[Lies, ...]
    left: Planned | None
    files: dict[str, bytes]


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
    what is left of it, on the same origin, as a sheet of its own, and the job sheet anew. All of
    that is done, or nothing (see making/change.py).

    The `lost` ones, by the same numbers, are spoiled and wait to be laid again. What is engraved
    before anything is cut is done once a piece came free, and where `engraved` says so.
    UnusableError where what came free is noted as cut already, unless that is meant `anyway`.
    """
    why = reason(why) if lost else ""
    shop = shop_for(book, options)
    with archive(book.resolve().parent) as records:
        job, run = sheet_and_run(sheet, records)
        out = options.out.resolve() if options.out else folder_there(run, book)
        run = replace(run, folder=kept_as(out, book))
        mended = settled(out, records)
        rows = every_row(book, options, records, progress)

        def work() -> tuple[Change, Noted]:
            refuse_twice([job], records)
            if not anyway:
                refuse_twice_cut([job], _of_these(rows.items, job.lies), records)
            failed = _failed(job, run, done, lost, records, shop, engraved=engraved)
            came = _of_these(rows.items, failed.came)
            noted = complete(came, [], _entries(failed, why), records)
            names = sheet_files(out)
            there = {sheet_of(name) for name in (*names, *failed.files)}
            after = what_is_left(book, out, there, rows, records, shop)
            if failed.left and failed.left.job.id in after.gone:
                failed = replace(failed, files={})
            old = {*_of_sheets(names, {job.id, *after.gone}), *_own_job_sheet(run, out)}
            away = {**among_earlier(out, old), **after.jobs.away}
            told = replace(
                _told(noted, failed, out),
                jobs=paths(out, after.jobs.files),
                unlike=(*noted.unlike, *without_row(failed.came, came)),
                stale=tuple(sorted(after.stale)),
                mended=mended,
                aside=(*after.aside, *elsewhere({job.id}, out, book, records)),
            )
            return Change({**failed.files, **after.jobs.files}, away), told

        return carried_out(out, records, work)


def _of_these(items: Iterable[Judged], lies: Iterable[Lies]) -> tuple[Judged, ...]:
    """The lines of the orders of what lies there."""
    numbers = {each.number for each in lies}
    return tuple(item for item in items if item.made.order.number in numbers)


def _failed(
    job: Job,
    run: runs.Run,
    done: int,
    lost: Collection[int],
    records: Archive,
    shop: Shop,
    *,
    engraved: bool,
) -> Failed:
    """What became of a sheet; UnusableError for numbers of no piece."""
    find = finder(records)
    whole = as_written(job, run, find, shop.workshop)
    order = dict(enumerate(whole.in_order(), 1))
    if not 0 <= done <= len(order) or not order.keys() >= set(lost):
        raise UnusableError(f"{job.id} has {len(order)} pieces; give numbers of those.")
    came = tuple(each for n, each in order.items() if n <= done and n not in lost)
    gone = tuple(each for n, each in order.items() if n in lost)
    rest = tuple(each for n, each in order.items() if n > done and n not in lost)
    if not rest:
        return Failed(job, run, came, gone, None, {})
    left = replace(
        job,
        id=f"S-{next_number(entry.subject for entry in records.entries(SHEET)):04}",
        lies=rest,
        uses="",
        pencil=job.remainder,
        engraved=_engraved(whole, run) if done or engraved else job.engraved,
    )
    steps = as_written(left, run, find, shop.workshop)
    why = unlike(job, run, shop.workshop) or in_the_way(steps, shop.workshop)
    if why:
        raise UnusableError(
            f"{job.id}: {why}. Set the workshop file as it was when the sheet was written, and run "
            "this once more; or note all that came free with --done and the rest as --lost."
        )
    (files,) = drawn_sheets([steps], lambda *_: None)
    return Failed(job, run, came, gone, steps, files)


def _engraved(sheet: Planned, run: runs.Run) -> tuple[str, ...]:
    """The sides of a sheet that are engraved by the time its first piece comes free."""
    first = (("back", sheet.back is not None), ("front", run.manner == "operation" or run.apart))
    return tuple(side for side, done in first if done or side in sheet.job.engraved)


def sheet_and_run(sheet: str, records: Archive) -> tuple[Job, runs.Run]:
    """The sheet and the last run that has it; UnusableError where there is none of that id."""
    wanted = sheet.strip().upper()
    known = [entry.details for entry in records.entries(SHEET) if entry.subject == wanted]
    if not known:
        raise UnusableError(f"there is no sheet {sheet}; look at its file's name.")
    job = jobs.from_json(known[-1])
    return job, run_of(job, records)


def _entries(failed: Failed, why: str) -> Iterator[Entry]:
    """What came of the sheet, what is spoiled, and the sheet of what is left."""
    left = failed.left.job if failed.left else None
    yield from cut_from(
        replace(failed.job, leaves=None) if left else failed.job, failed.run, failed.came
    )
    yield from _lost(failed.gone, why)
    if left:
        at, run = now(), replace(failed.run, sheets=(left.id,))
        yield Entry(at, SHEET, left.id, details=jobs.to_json(left))
        yield Entry(at, runs.RUN, "", details=runs.to_json(run))
        yield Entry(at, REST, left.id, details=failed.job.id)


def _lost(lies: Iterable[Lies], why: str) -> Iterator[Entry]:
    """Spoiled layers: cut and lost, so that they wait again and are counted."""
    at = now()
    for each in lies:
        if not each.ahead:
            subject = layer_subject(each.number, each.code, each.layer)
            yield Entry(at, MADE, subject, 1)
            yield Entry(at, SPOILED, subject, 1, why)


def _of_sheets(names: Iterable[str], ids: Collection[str]) -> Iterator[str]:
    """Files of sheets that nobody is to cut from the start."""
    return (name for name in names if sheet_of(name) in ids)


def _own_job_sheet(run: runs.Run, out: Path) -> Iterator[str]:
    """The job sheet of a run of some orders alone."""
    own = (f"{run.sheets[0]}-{name}" for name in NAMES)
    return (name for name in own if (out / name).exists())


def _told(noted: Noted, failed: Failed, out: Path) -> Noted:
    """What was noted, with what is left of the sheet and what is queued again."""
    left = failed.left
    return replace(
        noted,
        sheet=left.job.id if left else "",
        files=paths(out, failed.files),
        left=tuple(label(each) for each in left.in_order()) if left else (),
        again=tuple(label(each) for each in failed.gone if not each.ahead),
    )
