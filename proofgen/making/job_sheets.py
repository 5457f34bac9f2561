"""The job sheet of a run: what is done at the bench, as a PDF and as a page for a screen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import count
from pathlib import Path

from proofgen.day.rows import picture_path
from proofgen.day.shop import Shop
from proofgen.day.superseded import EARLIER
from proofgen.desk.asking import prices, unclear
from proofgen.jobsheet.data import JobSheet
from proofgen.jobsheet.trays import Copy, numbers_of
from proofgen.making.cutting import Laying
from proofgen.making.sheet_files import Planned

NAMES = ("jobs.pdf", "jobs.html")


@dataclass(frozen=True, slots=True)
class JobFiles:
    """The files of a job sheet by their names, what they replace with its name among the earlier
    files, and the numbers of its trays.
    """

    files: Mapping[str, bytes] = field(default_factory=dict)
    away: Mapping[str, str] = field(default_factory=dict)
    trays: Mapping[Copy, int] = field(default_factory=dict)


def job_files(
    laying: Laying,
    planned: Sequence[Planned],
    book: Path,
    out: Path,
    shop: Shop,
    day: date,
    names: Sequence[str] = NAMES,
) -> JobFiles:
    """The two files, named so, where there is anything to do; those of another day or board that
    lie in `out` are kept among the earlier files.
    """
    if not (planned or laying.pulled or laying.unfinished):
        return JobFiles(away=_set_aside(out, names))
    from proofgen.jobsheet.document import document
    from proofgen.jobsheet.html import document_html
    from proofgen.jobsheet.pdf import document_pdf

    told = jobs(laying, planned, book, shop, day)
    drawn = document(told)
    data = (
        document_pdf(drawn, shop.workshop.proofs.paper),
        document_html(drawn).encode("utf-8", "replace"),
    )
    page = out / names[1]
    same = page.is_file() and page.read_bytes() == data[1]
    away = {} if same else _set_aside(out, names)
    return JobFiles(dict(zip(names, data, strict=True)), away, numbers_of(told.trays))


def _set_aside(out: Path, names: Iterable[str]) -> dict[str, str]:
    """Those that are there, under the first number that is free among the earlier files: what is
    cut by them may not be finished yet.
    """
    found: dict[str, str] = {}
    for path in (out / name for name in names):
        free = (f"{path.stem}-{n:02}{path.suffix}" for n in count(1))
        if path.is_file():
            found[path.name] = next(e for e in free if not (out / EARLIER / e).exists())
    return found


def jobs(laying: Laying, planned: Sequence[Planned], book: Path, shop: Shop, day: date) -> JobSheet:
    """What the two files say."""
    from proofgen.jobsheet.boards import Cut
    from proofgen.jobsheet.build import Run, job_sheet

    pictures = {
        (made.order.number, made.order.line): picture
        for made in laying.rows
        if (picture := picture_path(made, book.resolve().parent / "proofs")).is_file()
    }
    run = Run(
        cuts=tuple(
            Cut(
                each.job,
                each.in_order(),
                each.back is not None,
                each.expected.total,
                each.expected.way,
                each.job.id in laying.begun,
                each.form.apart,
            )
            for each in planned
        ),
        wants=laying.wants,
        pulled=laying.pulled,
        too_large=laying.too_large,
        shelves={subject: shelf.title for subject, shelf in laying.shelves.items()},
        rows=laying.rows,
        later=laying.later,
        unfinished=laying.unfinished,
        numbers=laying.trays,
        prices=prices((made.order for made in laying.rows), shop.templates, shop.workshop),
        unclear=unclear(laying.rows, shop.workshop).keys(),
    )
    return job_sheet(run, pictures, shop.workshop, day.isoformat())
