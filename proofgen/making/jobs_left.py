"""The job sheet once a sheet has failed: what is still to be cut of all that lies in the folder."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from proofgen.day.rows import Options
from proofgen.day.shop import Shop
from proofgen.making.as_written import before
from proofgen.making.completing import run_of
from proofgen.making.cutting import Laying, Rows, Wish, wanted
from proofgen.making.in_trays import trays_entry
from proofgen.making.job_sheets import JobFiles, job_files
from proofgen.making.laying import SHEET_MADE, rests
from proofgen.making.recorded import finder, want_of
from proofgen.making.undone import jobs_of, open_pulls
from proofgen.records.archive import Archive
from proofgen.sheets.job import Job
from proofgen.sheets.want import Want


@dataclass(frozen=True, slots=True)
class Left:
    """The job sheet of what is left, the ids of sheets that are out of date, those of all whose
    files are not to be cut now, and a sentence for each of them that is left aside.
    """

    jobs: JobFiles
    stale: frozenset[str]
    gone: frozenset[str]
    aside: tuple[str, ...]


def what_is_left(
    book: Path, out: Path, there: Collection[str], rows: Rows, records: Archive, shop: Shop
) -> Left:
    """The job sheet of those boards of the ids `there`, whose files lie in the folder `out`, that
    are not noted as made, its trays entered; no files of it where nothing is left.
    """
    today = date.today()
    begun = {job.id for job in rests(records)}
    found = wanted(rows, Options(), Wish(), records, shop, today)
    jobs = _still_to_cut(there, begun, records)
    kept = {*begun, *(job.id for job in jobs if run_of(job, records).again)}
    still, stale = _sorted_out(jobs, kept, found.wants)
    served = found.served_by(still, records)
    boards = served.boards
    pulled, later = _parted(served.left, records)
    find = finder(records)
    laying = Laying(
        jobs=boards,
        wants={each.key: want_of(each, find) for job in boards for each in job.lies},
        pulled=tuple(pulled),
        too_large=(),
        advice=(),
        shelves=found.by_subject(),
        rows=tuple(item.made for item in found.items),
        later=tuple(later),
        begun=tuple(begun),
        unfinished=found.unfinished,
        trays=found.trays,
    )
    steps = before(boards, find, records, shop.workshop)
    drawn = job_files(laying.without(steps.aside), steps.planned, book, out, shop, today)
    records.enter([trays_entry(drawn.trays)])
    gone = stale | {job.id for job in steps.aside}
    return Left(drawn, frozenset(stale), frozenset(gone), steps.told)


def _still_to_cut(
    there: Collection[str], begun: Collection[str], records: Archive
) -> tuple[Job, ...]:
    """The sheets that are there and not noted as made, begun ones first."""
    made = {entry.subject for entry in records.entries(SHEET_MADE)}
    found = (job for id_, job in jobs_of(records).items() if id_ in there and id_ not in made)
    return tuple(sorted(found, key=lambda job: job.id not in begun))


def _sorted_out(
    boards: Iterable[Job], keep: Collection[str], wants: Iterable[Want]
) -> tuple[tuple[Job, ...], set[str]]:
    """The boards of which every layer is still wanted, and those to `keep` anyway; the ids of those
    that hold one that came from another board since, as when the board that failed had been laid
    anew.
    """
    left = Counter((want.number, want.code, want.layer.name) for want in wants)
    kept: list[Job] = []
    stale: set[str] = set()
    for job in boards:
        own = Counter((e.number, e.code, e.layer) for e in job.lies if not e.ahead)
        if job.id not in keep and own - left:
            stale.add(job.id)
        else:
            left -= own
            kept.append(job)
    return tuple(kept), stale


def _parted(wants: Iterable[Want], records: Archive) -> tuple[list[Want], list[Want]]:
    """What comes from stock by the last run that decided about it, and what has to wait."""
    pulls = Counter((pull.number, pull.code, pull.layer) for pull in open_pulls(records))
    pulled: list[Want] = []
    later: list[Want] = []
    for want in wants:
        alike = want.number, want.code, want.layer.name
        served = bool(want.stock) and pulls[alike] > 0
        pulls[alike] -= served
        (pulled if served else later).append(want)
    return pulled, later
