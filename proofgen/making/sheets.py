"""What `proofgen sheets` does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from proofgen.artwork.artwork import Layer
from proofgen.day.rows import Options, Progress
from proofgen.day.superseded import moved_away
from proofgen.making.cutting import Laying, Wish, lay
from proofgen.making.in_trays import trays_entry
from proofgen.making.job_sheets import NAMES, NOTHING, write_jobs
from proofgen.making.laying import enter_run
from proofgen.making.sheet_files import Find, Form, Planned, earlier_files, planned, write_sheets
from proofgen.records.archive import archive
from proofgen.sheets.job import Lies
from proofgen.sheets.run import Pull, Run
from proofgen.sheets.want import Want
from proofgen.workshop.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Sheets:
    """The sheets with their files, what to pull and to cut ahead; `earlier` was moved away.

    `jobs` are the job sheet, as PDF and as HTML; none where nothing is to be done.
    """

    laying: Laying
    planned: tuple[Planned, ...]
    workshop: Workshop
    files: Mapping[str, tuple[Path, ...]] = field(default_factory=dict)
    earlier: tuple[Path, ...] = ()
    jobs: tuple[Path, ...] = ()


def sheets(
    book: Path, options: Options, wish: Wish, form: Form, progress: Progress, today: date
) -> Sheets:
    """Lay what is approved on sheets and write them; what is in the folder from before and no
    longer to be cut is moved away.
    """
    out = (options.out or book.parent / "sheets").resolve()
    laying, shop = lay(book, options, wish, progress, today)
    found = tuple(
        planned(job, _finder(laying.wants), shop.workshop, form.manner, form.hatch, form.apart)
        for job in laying.jobs
    )
    files = write_sheets(found, out, form, shop.workshop, progress)
    some = bool(options.orders)
    names = [f"{found[0].job.id}-{name}" for name in NAMES] if some and found else NAMES
    # The job sheet of the day stays where some orders alone were asked for and none is to be cut.
    dull = some and not found and not laying.pulled
    jobs = NOTHING if dull else write_jobs(laying, found, book, out, shop, today, names)
    run = _run(laying, form, again=wish.again)
    trays = trays_entry({**laying.trays, **jobs.trays})
    # Once all is written, so that the ledger holds no sheet that is not there.
    with archive(book.resolve().parent) as records:
        enter_run(run, laying.jobs, records, [trays])
    kept = [path for paths in files for path in paths]
    # Where some orders alone were asked for, the other sheets are still to be cut.
    old = () if some else earlier_files(out, kept)
    earlier = (*moved_away(old, out), *jobs.earlier)
    by_id = {sheet.job.id: paths for sheet, paths in zip(found, files, strict=True)}
    return Sheets(laying, found, shop.workshop, by_id, earlier, jobs.files)


def _run(laying: Laying, form: Form, *, again: bool) -> Run:
    return Run(
        sheets=tuple(job.id for job in laying.jobs),
        manner=form.manner,
        pulls=tuple(Pull(w.number, w.code, w.layer.name, w.stock) for w in laying.pulled),
        ended=laying.ended,
        formats=form.formats,
        apart=form.apart,
        hatch=form.hatch,
        again=again,
    )


def _finder(wants: Mapping[str, Want]) -> Find:
    def find(lies: Lies) -> tuple[Layer, float]:
        want = wants[lies.key]
        return want.layer, want.width

    return find
