"""What each sheet takes and brings in: the board that is bought for it, its minutes, its share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from proofgen.books.reckoning import Reckoned
from proofgen.day.rows import Progress
from proofgen.making.as_written import as_written
from proofgen.making.completing import run_of
from proofgen.making.laying import REST, SHEET_MADE
from proofgen.making.recorded import finder
from proofgen.making.undone import jobs_of
from proofgen.money.shares import shared
from proofgen.records.archive import Archive
from proofgen.sheets import run as runs
from proofgen.sheets.job import Job
from proofgen.workshop.workshop import Workshop

# A layer of a copy of a piece: order, code, layer, copy.
Spot = tuple[str, str, str, int]


@dataclass(frozen=True, slots=True)
class SheetTotal:
    """A sheet that is made or still to be cut. `bought` is what its board costs: nothing for a
    remainder, None where the workshop file has no price; `minutes` are the machine's. `income` and
    `profit` are its layers' shares, by area, of what their pieces bring in.

    Without an id it is all that lies on no such sheet: from stock, made by the piece, not laid yet.
    """

    id: str
    wood: str
    made: bool
    layers: int
    bought: Decimal | None
    minutes: Decimal
    income: Decimal
    profit: Decimal


def sheet_totals(
    rows: Sequence[Reckoned], records: Archive, workshop: Workshop, progress: Progress
) -> tuple[SheetTotal, ...]:
    """A total a sheet and one for what lies on none; together they are those of all `rows`."""
    done = {entry.subject for entry in records.entries(SHEET_MADE)}
    numbers = {row.order.number for row in rows}
    jobs = [
        job
        for job in _counted(records, done)
        if any(each.number in numbers and not each.ahead for each in job.lies)
    ]
    on: dict[Spot, str] = {
        (each.number, each.code, each.layer, each.copy): job.id
        for job in jobs
        for each in job.lies
        if not each.ahead
    }
    decimals, zero = workshop.money.decimals, workshop.money.amount(0)
    incomes = _by_sheet(((row, row.account.income) for row in rows), on, decimals)
    profits = _by_sheet(((row, row.account.profit) for row in rows), on, decimals)
    found: list[SheetTotal] = []
    for number, job in enumerate(jobs, 1):
        taken = _taken(job, records, workshop)
        sums = (incomes.get(job.id, zero), profits.get(job.id, zero))
        found.append(SheetTotal(job.id, _wood(job), job.id in done, *taken, *sums))
        progress(number, len(jobs))
    rest = (incomes.get("", zero), profits.get("", zero))
    layers = sum(1 for row in rows for spot in _spots(row) if spot not in on)
    return (*found, SheetTotal("", "", False, layers, zero, zero, *rest))


def _counted(records: Archive, done: Iterable[str]) -> list[Job]:
    """The sheets that are made, of those that failed what came of them, and those of the last run
    that are still to be cut.
    """
    known = jobs_of(records)
    last = records.entries(runs.RUN)[-1:]
    current = {id_ for entry in last for id_ in runs.from_json(entry.details).sheets}
    left = {entry.subject for entry in records.entries(REST)}
    found = [job for id_, job in known.items() if id_ in {*done, *current, *left}]
    return [_without(job, [known[id_] for id_ in sorted(left)]) for job in found]


def _without(job: Job, rests: Iterable[Job]) -> Job:
    """What came of a sheet that left a rest, which has its digest and a later id."""
    later = {e.key for rest in rests if rest.digest == job.digest and rest.id > job.id
             for e in rest.lies}  # fmt: skip
    return replace(job, lies=tuple(each for each in job.lies if each.key not in later))


def _taken(job: Job, records: Archive, workshop: Workshop) -> tuple[int, Decimal | None, Decimal]:
    """Layers, what the board costs, minutes of the machine."""
    run = run_of(job, records)
    steps = as_written(job, run, finder(records), workshop)
    minutes = Decimal(round(steps.expected.total / 6)) / 10
    begun = {entry.subject for entry in records.entries(REST)}
    if job.uses or job.id in begun:
        return len(job.lies), workshop.money.amount(0), minutes
    price = workshop.material(job.wood.material).price
    if price is None:
        return len(job.lies), None, minutes
    return len(job.lies), workshop.money.amount(price.of(job.width, job.height)), minutes


def _wood(job: Job) -> str:
    return ", ".join(filter(None, (job.wood.material, job.wood.finish)))


def _by_sheet(
    amounts: Iterable[tuple[Reckoned, Decimal]], on: Mapping[Spot, str], decimals: int
) -> dict[str, Decimal]:
    """Each row's amount shared out over its layers, to the last cent."""
    found: dict[str, Decimal] = {}
    for row, amount in amounts:
        weights = [area for _ in range(row.order.quantity) for _, area in row.each.layers]
        parts = shared(amount, weights, decimals)
        for spot, part in zip(_spots(row), parts, strict=True):
            sheet = on.get(spot, "")
            found[sheet] = found.get(sheet, Decimal()) + part
    return found


def _spots(row: Reckoned) -> Iterator[Spot]:
    """Every layer of every copy, copies together."""
    for copy in range(1, row.order.quantity + 1):
        for layer in row.layers:
            yield row.order.number, row.code, layer, copy
