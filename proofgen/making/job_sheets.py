"""The job sheet of a run: what is done at the bench, as a PDF and as a page for a screen."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from proofgen.day.rows import picture_path
from proofgen.day.shop import Shop
from proofgen.desk.asking import prices
from proofgen.files import write_bytes
from proofgen.jobsheet.blocks import Document
from proofgen.making.cutting import Laying
from proofgen.making.sheet_files import Planned

NAMES = ("jobs.pdf", "jobs.html")


def write_jobs(
    laying: Laying,
    planned: Sequence[Planned],
    book: Path,
    out: Path,
    shop: Shop,
    day: date,
    names: Sequence[str] = NAMES,
) -> tuple[Path, ...]:
    """Write the two files, named so, where there is anything to do; UnusableError where that
    cannot be.
    """
    if not (planned or laying.pulled):
        return ()
    from proofgen.jobsheet.html import document_html
    from proofgen.jobsheet.pdf import document_pdf

    drawn = jobs(laying, planned, book, shop, day)
    data = (
        document_pdf(drawn, shop.workshop.proofs.paper),
        document_html(drawn).encode("utf-8", "replace"),
    )
    paths = tuple(out / name for name in names)
    for path, found in zip(paths, data, strict=True):
        write_bytes(path, found)
    return paths


def jobs(laying: Laying, planned: Sequence[Planned], book: Path, shop: Shop, day: date) -> Document:
    """What the two files say."""
    from proofgen.jobsheet.boards import Cut
    from proofgen.jobsheet.build import Run, job_sheet
    from proofgen.jobsheet.document import document

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
                each.apart,
            )
            for each in planned
        ),
        wants=laying.wants,
        pulled=laying.pulled,
        too_large=laying.too_large,
        shelves={subject: shelf.title for subject, shelf in laying.shelves.items()},
        rows=laying.rows,
        later=laying.later,
        prices=prices((made.order for made in laying.rows), shop.templates, shop.workshop),
    )
    return document(job_sheet(run, pictures, shop.workshop, day.isoformat()))
