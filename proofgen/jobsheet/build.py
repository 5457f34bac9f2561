"""The whole job sheet of a run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from proofgen.artwork.artwork import Made, by_order
from proofgen.jobsheet.boards import Cut, board_of
from proofgen.jobsheet.data import JobSheet, Slip, Tray
from proofgen.jobsheet.orders import Pictures, slip_of, work_of
from proofgen.jobsheet.sessions import sessions
from proofgen.jobsheet.steps import steps_of
from proofgen.jobsheet.trays import Copy, trays_of
from proofgen.sheets.want import Want
from proofgen.workshop.workshop import Workshop

SETTLE = "still to be settled"  # on the slip of an order whose price cannot be told


@dataclass(frozen=True, slots=True)
class Run:
    """What a run of sheets came to: the boards, what is cut by key, what is pulled from stock or
    fits on no board, the titles of what is in stock by subject, all rows that were asked for, what
    has to wait for the next run, what the catalogue asks for orders that are not quoted, and the
    orders of which it is `unclear` what they cost. The
    `unfinished` copies were cut before and are not packed; `numbers` are those of trays in use.
    """

    cuts: tuple[Cut, ...]
    wants: Mapping[str, Want]
    pulled: tuple[Want, ...]
    too_large: tuple[Want, ...]
    shelves: Mapping[str, str]
    rows: tuple[Made, ...]
    later: tuple[Want, ...] = ()
    prices: Mapping[str, Decimal] = field(default_factory=dict)
    unclear: Collection[str] = ()
    unfinished: frozenset[Copy] = frozenset()
    numbers: Mapping[Copy, int] = field(default_factory=dict)


def job_sheet(run: Run, pictures: Pictures, workshop: Workshop, day: str) -> JobSheet:
    """Boards, trays, sessions, orders and slips; the same run gives the same."""
    on_boards = {cut.job.id: cut.order for cut in run.cuts}
    wants = run.pulled, run.too_large, run.later
    trays = trays_of(run.rows, on_boards, *wants, run.unfinished, run.numbers)
    boards = tuple(board_of(cut, run.wants, trays, workshop) for cut in run.cuts)
    steps = [step for tray in trays for step in steps_of(tray, workshop)]
    own = {number: [t for t in trays if t.order == number] for number in by_order(run.rows)}
    rows = {number: found for number, found in by_order(run.rows).items() if own[number]}
    pull = Counter(run.shelves[want.stock] for want in run.pulled)
    return JobSheet(
        title=workshop.title,
        day=day,
        inset=workshop.steps.glue_inset,
        pull=tuple(sorted(pull.items())),
        boards=boards,
        trays=trays,
        sessions=sessions(boards, trays, steps, workshop),
        orders=tuple(work_of(rows[n], own[n], steps, boards, workshop) for n in rows),
        slips=tuple(_slip(run, n, rows[n], own[n], pictures, workshop) for n in rows),
    )


def _slip(
    run: Run,
    number: str,
    rows: Sequence[Made],
    trays: Sequence[Tray],
    pictures: Pictures,
    workshop: Workshop,
) -> Slip:
    slip = slip_of(rows, trays, pictures, workshop, run.prices.get(number))
    return replace(slip, price=SETTLE, balance="") if number in run.unclear else slip
