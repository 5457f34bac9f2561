"""What the runs of `sheets` decided and nobody has done yet: sheets to cut, layers to pull."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from proofgen.making.laying import REST, SHEET, SHEET_MADE
from proofgen.records.archive import Archive
from proofgen.records.record import Entry
from proofgen.sheets import job as jobs, run as runs
from proofgen.sheets.job import Job
from proofgen.sheets.layers_cut import layer_subject
from proofgen.sheets.run import RUN, Pull, Run
from proofgen.sheets.stock import PULLED


@dataclass(frozen=True, slots=True)
class Others:
    """The open sheets and pulls where the `asked` orders alone are laid."""

    sheets: tuple[Job, ...]
    pulls: tuple[Pull, ...]
    asked: frozenset[str]

    @property
    def stock(self) -> Counter[str]:
        """What of the stock is to be pulled for other orders."""
        return Counter(pull.stock for pull in self.pulls if pull.number not in self.asked)

    @property
    def remainders(self) -> frozenset[str]:
        """The ids of those that a sheet takes on which not all is laid anew."""
        uses = ((job.uses, _numbers(job)) for job in self.sheets if job.uses)
        return frozenset(id_ for id_, own in uses if not own or own - self.asked)

    def twice(self, laid: Collection[Job]) -> dict[str, tuple[str, ...]]:
        """The orders of these sheets that lie on another open one too, by its id."""
        new = frozenset[str]().union(*map(_numbers, laid))
        ids = {job.id for job in laid}
        both = {job.id: _numbers(job) & new for job in self.sheets if job.id not in ids}
        return {id_: tuple(sorted(numbers)) for id_, numbers in both.items() if numbers}


def _numbers(job: Job) -> frozenset[str]:
    """The orders on a sheet."""
    return frozenset(each.number for each in job.lies if not each.ahead)


def jobs_of(records: Archive) -> dict[str, Job]:
    """Every sheet that was ever laid, by its id."""
    return {e.subject: jobs.from_json(e.details) for e in records.entries(SHEET)}


def open_sheets(records: Archive) -> tuple[Job, ...]:
    """The sheets since the last run that laid all orders that are not cut; none that were begun."""
    found: dict[str, None] = {}
    for run in _decisions(records):
        if isinstance(run, Run):
            # Where that was not kept it is taken for one of all, as most are.
            found = {} if run.whole is not False else found
            found.update(dict.fromkeys(run.sheets))
    done = {entry.subject for entry in records.entries(SHEET_MADE, REST)}
    known = jobs_of(records)
    return tuple(known[each] for each in found if each not in done)


def open_pulls(records: Archive) -> tuple[Pull, ...]:
    """What is still to be pulled for each layer, by the last run that decided about it."""
    known = jobs_of(records)
    decided: dict[str, list[Pull]] = {}
    for each in _decisions(records):
        if isinstance(each, Entry):
            decided[each.details] = decided.get(each.details, [])[each.amount :]
            continue
        decided = {} if each.whole else decided
        lies = (lies for id_ in each.sheets for lies in known[id_].lies if not lies.ahead)
        new: dict[str, list[Pull]] = {
            layer_subject(own.number, own.code, own.layer): [] for own in lies
        }
        for pull in each.pulls:
            new.setdefault(layer_subject(pull.number, pull.code, pull.layer), []).append(pull)
        decided.update(new)
    return tuple(pull for pulls in decided.values() for pull in pulls)


def _decisions(records: Archive) -> Iterator[Run | Entry]:
    """The runs that laid something, and what was pulled, the oldest first.

    What is entered for the rest of a board repeats the run that laid the board, and decides
    nothing.
    """
    rests = {entry.subject for entry in records.entries(REST)}
    for entry in records.entries(RUN, PULLED):
        if entry.kind == PULLED:
            yield entry
            continue
        run = runs.from_json(entry.details)
        if rests.isdisjoint(run.sheets):
            yield run
        rests.difference_update(run.sheets)
