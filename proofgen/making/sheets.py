"""What `proofgen sheets` does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.day.rows import Options, Progress
from proofgen.day.superseded import EARLIER
from proofgen.making.as_written import before
from proofgen.making.change import Change, among_earlier, carried_out, paths, settled
from proofgen.making.cutting import Laying, lay
from proofgen.making.folders import USUAL, elsewhere, kept_as
from proofgen.making.in_trays import trays_entry
from proofgen.making.job_sheets import NAMES, JobFiles, job_files
from proofgen.making.laying import enter_run
from proofgen.making.sheet_files import (
    Find,
    Form,
    Planned,
    drawn_sheets,
    planned,
    sheet_files,
    sheet_of,
)
from proofgen.making.undone import jobs_of
from proofgen.making.wanting import Wish
from proofgen.records.archive import archive
from proofgen.sheets.job import Lies
from proofgen.sheets.run import Pull, Run
from proofgen.sheets.setup import setup_of
from proofgen.sheets.want import Want
from proofgen.workshop.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Sheets:
    """The sheets with their files, what to pull and to cut ahead; `earlier` was moved away.

    `jobs` are the job sheet, as PDF and as HTML; none where nothing is to be done. `mended` says
    what was done about an earlier run that was ended while it wrote; `aside` has a sentence for
    each board, remainder and count that is left aside, and for what is out of date in another
    folder.
    """

    laying: Laying
    planned: tuple[Planned, ...]
    workshop: Workshop
    files: Mapping[str, tuple[Path, ...]] = field(default_factory=dict)
    earlier: tuple[Path, ...] = ()
    jobs: tuple[Path, ...] = ()
    mended: str = ""
    aside: tuple[str, ...] = ()


def sheets(
    book: Path, options: Options, wish: Wish, form: Form, progress: Progress, today: date
) -> Sheets:
    """Lay what is approved on sheets and write them; what is in the folder from before and no
    longer to be cut is moved away. All of that is done, or nothing (see making/change.py).
    """
    out = (options.out or book.parent / USUAL).resolve()
    with archive(book.resolve().parent) as records:
        mended = settled(out, records)
    laying, shop = lay(book, options, wish, progress, today)
    find, new = _finder(laying.wants), laying.new
    with archive(book.resolve().parent) as records:
        old = before((job for job in laying.jobs if job not in new), find, records, shop.workshop)
    laying = laying.without(old.aside)
    found = (*old.planned, *(planned(job, find, shop.workshop, form) for job in new))
    files = drawn_sheets(found, progress)
    some = bool(options.orders)
    names = [f"{found[0].job.id}-{name}" for name in NAMES] if some and found else NAMES
    # The job sheet of the day stays where some orders alone were asked for and none is to be cut.
    dull = some and not found and not laying.pulled
    jobs = JobFiles() if dull else job_files(laying, found, book, out, shop, today, names)
    drawn = {name: data for each in files for name, data in each.items()}
    # Where some orders alone were asked for, the other sheets are still to be cut.
    anew = {sheet.job.id for sheet in found}
    there = (name for name in sheet_files(out) if not some or sheet_of(name) in anew)
    gone = (name for name in there if name not in drawn)
    change = Change({**drawn, **jobs.files}, {**among_earlier(out, gone), **jobs.away})
    run = _run(laying, form, shop.workshop, again=wish.again, whole=not some)
    run = replace(run, folder=kept_as(out, book))
    trays = trays_entry({**laying.trays, **jobs.trays})

    def entered() -> tuple[Change, None]:
        enter_run(run, new, records, laying.seen, [trays])
        return change, None

    with archive(book.resolve().parent) as records:
        carried_out(out, records, entered)
        stale = () if some else elsewhere(jobs_of(records).keys() - anew, out, book, records)
    return Sheets(
        laying,
        found,
        shop.workshop,
        {sheet.job.id: paths(out, own) for sheet, own in zip(found, files, strict=True)},
        paths(out / EARLIER, change.away.values()),
        paths(out, jobs.files),
        mended,
        (*laying.aside, *old.told, *stale),
    )


def _run(laying: Laying, form: Form, workshop: Workshop, *, again: bool, whole: bool) -> Run:
    """What is left of boards that failed stays of the run that wrote it."""
    return Run(
        sheets=tuple(job.id for job in laying.new),
        manner=form.manner,
        pulls=tuple(Pull(w.number, w.code, w.layer.name, w.stock, again) for w in laying.pulled),
        ended=laying.ended,
        formats=form.formats,
        apart=form.apart,
        hatch=form.hatch,
        again=again,
        setup=setup_of(workshop, (job.wood.material for job in laying.new)),
        whole=whole,
    )


def _finder(wants: Mapping[str, Want]) -> Find:
    def find(lies: Lies) -> tuple[Layer, float]:
        want = wants[lies.key]
        return want.layer, want.width

    return find
