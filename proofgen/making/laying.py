"""From what is to be cut to sheets, laid out once and checked; entered once they are written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import count

from proofgen.day.rows import Progress
from proofgen.errors import UnusableError
from proofgen.nesting.engine import Effort
from proofgen.nesting.part import FAILURE, HURRY, INTERRUPTION, NO_ENGINE, Board, Layout, Supply
from proofgen.nesting.remainder import remainder
from proofgen.nesting.saved import from_json, to_json
from proofgen.nesting.verify import verify
from proofgen.records.archive import Archive
from proofgen.records.record import Entry, now
from proofgen.sheets import job as jobs, stock, wood_left
from proofgen.sheets.job import Job, Lies, next_number
from proofgen.sheets.kept_places import both_sides, kept_places
from proofgen.sheets.layers_cut import LAYER_KINDS
from proofgen.sheets.run import RUN, Run, to_json as run_to_json
from proofgen.sheets.want import Want, Wood, outline, wood_of
from proofgen.workshop.workshop import Workshop

SHEET, SHEET_MADE, LAYOUT = "sheet", "sheet-made", "layout"
# The kind of a sheet that is left of one that failed, with the id of that.
REST = "rest"
# What is noted at the bench that changes what is to be laid, and on what.
NOTED = (*LAYER_KINDS, stock.CUT, stock.PULLED, wood_left.KEPT, wood_left.GONE, SHEET_MADE, REST)


@dataclass(frozen=True, slots=True)
class Laid:
    """A job for each sheet, in the order in which they are to be cut; what fits on no board; and
    what ended the search before it was done, if anything did (see nesting/part.py). `aside` has a
    sentence for each remainder of another thickness than its material has now.
    """

    jobs: tuple[Job, ...]
    too_large: tuple[Want, ...]
    ended: str
    aside: tuple[str, ...] = ()


def laid(
    wants: Sequence[Want],
    records: Archive,
    workshop: Workshop,
    seconds: float | None,
    progress: Progress,
    taken: Collection[str] = (),
) -> Laid:
    """Lay them wood by wood, what is due first on the first sheets, whatever their wood; on no
    remainder that is `taken`.

    A layout that was found before is used again unless a time is set; one whose search was ended
    is not kept, so that the next one searches.
    """
    groups: dict[Wood, list[Want]] = {}
    for want in sorted(wants, key=lambda want: want.rank):
        groups.setdefault(wood_of(want.layer, workshop), []).append(want)
    kept = wood_left.remainders(records.entries(wood_left.KEPT, wood_left.GONE))
    there = [each for each in kept if each.wood in groups and each.id not in taken]
    left = [each for each in there if not _unlike(each, workshop)]
    found: list[tuple[tuple[int, int], Job]] = []
    too_large: list[Want] = []
    ended: list[str] = []
    for wood, group in groups.items():
        share = seconds and seconds * len(group) / len(wants)
        effort = Effort(seconds=0.0 if INTERRUPTION in ended else share)
        supply = _supply(wood, group, left, workshop)
        layout = _layout(group, supply, records, effort, seconds is None, progress)
        ranks = {want.key: want.rank for want in group}
        sheets = _jobs(wood, group, layout, workshop)
        found += ((min(ranks[each.key] for each in job.lies), job) for job in sheets)
        too_large += (want for want in group if want.key in layout.left)
        ended.append(layout.ended)
    ordered = [job for _, job in sorted(found, key=lambda each: each[0])]
    why = next((each for each in (INTERRUPTION, FAILURE, HURRY, NO_ENGINE) if each in ended), "")
    aside = tuple(_aside(each, workshop) for each in there if each not in left)
    return Laid(_named(ordered, records), tuple(too_large), why, aside)


def _unlike(left: wood_left.Remainder, workshop: Workshop) -> bool:
    """Whether its thickness is known and not that which its material has now."""
    return left.thickness not in (None, workshop.material(left.wood.material).thickness)


def _aside(left: wood_left.Remainder, workshop: Workshop) -> str:
    material = workshop.material(left.wood.material)
    return (
        f"{left.id} is left aside: it is {left.thickness:g} mm thick, and {material.id} is "
        f"{material.thickness:g} mm now. Give the other wood an id of its own in the workshop "
        f"file, or take it out: stock --gone {left.id}."
    )


def _named(found: Sequence[Job], records: Archive) -> tuple[Job, ...]:
    """The jobs with their ids: that of the same sheet if it was laid before and is not cut yet,
    else the next.
    """
    known = [jobs.from_json(entry.details) for entry in records.entries(SHEET)]
    # A rest has the digest of the sheet that failed, and less on it.
    gone = {entry.subject for entry in records.entries(SHEET_MADE, REST)}
    old = {job.digest: job.id for job in known if job.id not in gone}
    following = count(next_number(job.id for job in known))
    ids = (old.get(job.digest) or f"S-{next(following):04}" for job in found)
    return tuple(replace(job, id=id_) for job, id_ in zip(found, ids, strict=True))


def noted(records: Archive) -> int:
    """How much was noted at the bench by now; it only ever grows."""
    return len(records.entries(*NOTED))


def enter_run(
    run: Run, sheets: Iterable[Job], records: Archive, seen: int, more: Iterable[Entry] = ()
) -> None:
    """The run, with its sheets as far as the ledger has them not, and more: all, or nothing.

    UnusableError where another run has taken one of their ids since they were laid, or one of them
    was noted as made, or anything else at the bench since so much had been (`seen`).
    """
    at = now()
    sheets = tuple(sheets)
    known = {e.subject: jobs.from_json(e.details).digest for e in records.entries(SHEET)}
    taken = next((job.id for job in sheets if known.get(job.id, job.digest) != job.digest), "")
    if taken:
        raise UnusableError(f"{taken} was laid by another run meanwhile; run this once more.")
    made = {entry.subject for entry in records.entries(SHEET_MADE)}
    gone = next((job.id for job in sheets if job.id in made), "")
    if gone:
        raise UnusableError(f"{gone} was noted as made meanwhile; run this once more.")
    if noted(records) != seen:
        raise UnusableError(
            "What was cut, spoiled, pulled or used up was noted meanwhile, and these sheets were "
            "laid without it; run this once more."
        )
    new = (job for job in sheets if job.id not in known)
    entries = [Entry(at, SHEET, job.id, details=jobs.to_json(job)) for job in new]
    records.enter([*entries, Entry(at, RUN, "", details=run_to_json(run)), *more])


def rests(records: Archive) -> tuple[Job, ...]:
    """The sheets that failed and are still to be finished."""
    done = {e.subject for e in records.entries(SHEET_MADE, wood_left.GONE)}
    left = {e.subject for e in records.entries(REST)} - done
    return tuple(jobs.from_json(e.details) for e in records.entries(SHEET) if e.subject in left)


def _supply(
    wood: Wood, group: Iterable[Want], left: Iterable[wood_left.Remainder], workshop: Workshop
) -> Supply:
    size = workshop.material(wood.material).board
    places = kept_places(size)
    turned = any(mark.side == "back" for want in group for mark in want.layer.marks)

    def board(width: float, height: float, id_: str = "") -> Board:
        kept = both_sides(places, width) if turned else places
        return Board(width, height, size.margin, size.gap, kept, id_)

    # A remainder goes into the same corner, under the same pins and clamps.
    remainders = (board(each.width, each.height, each.id) for each in left if each.wood == wood)
    return Supply(board(size.width, size.height), tuple(remainders))


def _layout(
    group: Sequence[Want],
    supply: Supply,
    records: Archive,
    effort: Effort,
    known: bool,
    progress: Progress,
) -> Layout:
    """The layout of these outlines: the one that was found before, where that is `known` to be
    good enough and passes its check, else a new one, kept if its search was not ended.
    """
    from proofgen.nesting.nest import nest

    parts = [replace(want.part(), key=str(i)) for i, want in enumerate(group)]
    told = [(p.outline.flatten(0.01), p.turns, p.urgency) for p in parts]
    text = json.dumps([[[run.round(4).tolist() for run in o], t, u] for o, t, u in told])
    asked = hashlib.sha256(f"{text}{supply}".encode()).hexdigest()
    kept = {e.subject: e.details for e in records.entries(LAYOUT)}.get(asked)
    layout = from_json(kept) if kept and known else None
    if layout is None or verify(layout, parts):
        layout = nest(parts, supply, effort, progress)
        if not layout.ended:
            records.enter([Entry(now(), LAYOUT, asked, details=to_json(layout))])
    keys = {str(i): want.key for i, want in enumerate(group)}
    return replace(
        layout,
        placed=tuple(replace(each, key=keys[each.key]) for each in layout.placed),
        left=tuple(keys[key] for key in layout.left),
    )


def _jobs(wood: Wood, group: Sequence[Want], layout: Layout, workshop: Workshop) -> list[Job]:
    """The sheets of a layout, without ids yet."""
    wants = {want.key: want for want in group}
    size = workshop.material(wood.material).board
    found = []
    for index, board in enumerate(layout.boards):
        placed = layout.on(index)
        outlines = [outline(wants[each.key].layer).moved(each.affine()) for each in placed]
        left = remainder(replace(board, keep_out=kept_places(size)), outlines, size.least)
        job = Job(
            id="",
            digest="",
            wood=wood,
            width=board.width,
            height=board.height,
            uses=board.id,
            lies=tuple(_lies(wants[each.key], each.turn, each.x, each.y) for each in placed),
            leaves=(round(left.width, 1), round(left.height, 1)) if left else None,
        )
        at = (round(left.left, 1), round(left.top, 1)) if left else None
        found.append(replace(job, digest=_digest(job), left_at=at))
    return found


def _lies(want: Want, turn: float, x: float, y: float) -> Lies:
    return Lies(
        want.number,
        want.line,
        want.code,
        want.name,
        want.copy,
        want.layer.name,
        turn,
        x,
        y,
        want.ahead,
        want.stock if want.ahead else "",
    )


def _digest(job: Job) -> str:
    """Of all that tells a sheet from another."""
    return hashlib.sha256(jobs.to_json(job).encode("utf-8", "surrogatepass")).hexdigest()
