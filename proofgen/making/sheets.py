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
from proofgen.making.job_sheets import NAMES, write_jobs
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
    names = [f"{found[0].job.id}-{name}" for name in NAMES] if options.orders and found else NAMES
    jobs = write_jobs(laying, found, book, out, shop, today, names)
    _enter(laying, form, book)
    kept = [path for paths in files for path in paths]
    old_jobs = [out / name for name in NAMES if not jobs and (out / name).exists()]
    # Where some orders alone were asked for, the other sheets are still to be cut.
    old = () if options.orders else (*earlier_files(out, kept), *old_jobs)
    earlier = moved_away(old, out)
    by_id = {sheet.job.id: paths for sheet, paths in zip(found, files, strict=True)}
    return Sheets(laying, found, shop.workshop, by_id, earlier, jobs)


def _enter(laying: Laying, form: Form, book: Path) -> None:
    """Once all is written, so that the ledger holds no sheet that is not there."""
    pulls = tuple(Pull(w.number, w.code, w.layer.name, w.stock) for w in laying.pulled)
    ids = tuple(job.id for job in laying.jobs)
    run = Run(ids, form.manner, pulls, laying.ended, form.formats, form.apart, form.hatch)
    with archive(book.resolve().parent) as records:
        enter_run(run, laying.jobs, records)


def _finder(wants: Mapping[str, Want]) -> Find:
    def find(lies: Lies) -> tuple[Layer, float]:
        want = wants[lies.key]
        return want.layer, want.width

    return find
