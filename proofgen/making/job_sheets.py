"""The job sheet of a run: what is done at the bench, as a PDF and as a page for a screen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import count
from pathlib import Path

from proofgen.day.rows import picture_path
from proofgen.day.shop import Shop
from proofgen.day.superseded import EARLIER
from proofgen.desk.asking import prices, unclear
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.jobsheet.data import JobSheet
from proofgen.jobsheet.trays import Copy, numbers_of
from proofgen.making.cutting import Laying
from proofgen.making.sheet_files import Planned

NAMES = ("jobs.pdf", "jobs.html")


@dataclass(frozen=True, slots=True)
class Written:
    """The files of a job sheet, where those that it replaces lie now, and its trays' numbers."""

    files: tuple[Path, ...]
    earlier: tuple[Path, ...]
    trays: Mapping[Copy, int]


NOTHING = Written((), (), {})


def write_jobs(
    laying: Laying,
    planned: Sequence[Planned],
    book: Path,
    out: Path,
    shop: Shop,
    day: date,
    names: Sequence[str] = NAMES,
) -> Written:
    """Write the two files, named so, where there is anything to do; those of another day or board
    are kept among the earlier files. UnusableError where that cannot be.
    """
    paths = tuple(out / name for name in names)
    if not (planned or laying.pulled or laying.unfinished):
        return Written((), _set_aside(paths), {})
    from proofgen.jobsheet.document import document
    from proofgen.jobsheet.html import document_html
    from proofgen.jobsheet.pdf import document_pdf

    told = jobs(laying, planned, book, shop, day)
    drawn = document(told)
    data = (
        document_pdf(drawn, shop.workshop.proofs.paper),
        document_html(drawn).encode("utf-8", "replace"),
    )
    page = paths[1]
    earlier = () if page.is_file() and page.read_bytes() == data[1] else _set_aside(paths)
    for path, found in zip(paths, data, strict=True):
        write_bytes(path, found)
    return Written(paths, earlier, numbers_of(told.trays))


def _set_aside(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Move the files that are there among the earlier ones, under the first number that is free:
    what is cut by them may not be finished yet.
    """
    moved: list[Path] = []
    for path in paths:
        if not path.is_file():
            continue
        folder = path.parent / EARLIER
        free = (folder / f"{path.stem}-{n:02}{path.suffix}" for n in count(1))
        there = next(each for each in free if not each.exists())
        try:
            folder.mkdir(exist_ok=True)
            moved.append(path.replace(there))
        except OSError as error:
            raise UnusableError(f"{path} cannot be moved to {there} ({error.strerror}).") from error
    return tuple(moved)


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
        unfinished=laying.unfinished,
        numbers=laying.trays,
        prices=prices((made.order for made in laying.rows), shop.templates, shop.workshop),
        unclear=unclear(laying.rows, shop.workshop).keys(),
    )
    return job_sheet(run, pictures, shop.workshop, day.isoformat())
