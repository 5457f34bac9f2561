"""From what is to be cut to sheets: laid out once, checked, and kept in the workshop's ledger."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import UTC, datetime

from proofgen.errors import UnusableError
from proofgen.geometry.rect import Rect
from proofgen.nesting.engine import Effort
from proofgen.nesting.part import Board, Layout, Supply
from proofgen.nesting.remainder import remainder
from proofgen.nesting.saved import from_json, to_json
from proofgen.nesting.verify import verify
from proofgen.records.archive import Archive
from proofgen.records.record import Entry
from proofgen.rows import Progress
from proofgen.sheets import job as jobs, wood_left
from proofgen.sheets.job import Job, Lies, next_number
from proofgen.sheets.want import Want, Wood, outline, wood_of
from proofgen.workshop.workshop import Workshop

SHEET, SHEET_MADE, LAYOUT = "sheet", "sheet-made", "layout"
REST = "rest"  # the kind of a sheet that is left of one that failed


def now() -> str:
    """The time for the records: ISO, in UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def laid(
    wants: Sequence[Want],
    records: Archive,
    workshop: Workshop,
    seconds: float | None,
    progress: Progress,
) -> tuple[tuple[Job, ...], tuple[Want, ...]]:
    """A job for each sheet, wood by wood, and what fits on no board."""
    groups: dict[Wood, list[Want]] = {}
    for want in sorted(wants, key=lambda want: want.urgency):
        groups.setdefault(wood_of(want.layer, workshop), []).append(want)
    left = wood_left.remainders(records.entries(wood_left.KEPT, wood_left.GONE))
    known = [jobs.from_json(entry.details) for entry in records.entries(SHEET)]
    cut = {entry.subject for entry in records.entries(SHEET_MADE)}
    found: list[Job] = []
    too_large: list[Want] = []
    following = next_number(job.id for job in known)
    for wood, group in groups.items():
        supply = _supply(wood, left, workshop)
        layout = _layout(group, supply, records, seconds, progress)
        digest = _digest([want.key for want in group], layout)
        old = {job.id: job for job in known if job.digest == digest and job.id not in cut}
        new = _jobs(wood, group, layout, workshop, digest, list(old) or following)
        if not old:
            following += len(new)
            records.enter(Entry(now(), SHEET, job.id, details=jobs.to_json(job)) for job in new)
        found += new
        too_large += (want for want in group if want.key in layout.left)
    return tuple(found), tuple(too_large)


def rests(records: Archive) -> tuple[Job, ...]:
    """The sheets that failed and are still to be finished."""
    done = {e.subject for e in records.entries(SHEET_MADE, wood_left.GONE)}
    left = {e.subject for e in records.entries(REST)} - done
    return tuple(jobs.from_json(e.details) for e in records.entries(SHEET) if e.subject in left)


def _supply(wood: Wood, left: Iterable[wood_left.Remainder], workshop: Workshop) -> Supply:
    size = workshop.material(wood.material).board
    keep_out = tuple(Rect(x, y, x + w, y + h) for x, y, w, h in size.keep_out)
    sheet = Board(size.width, size.height, size.margin, size.gap, keep_out)
    own = (each for each in left if each.wood == wood)
    return Supply(
        sheet, tuple(Board(r.width, r.height, size.margin, size.gap, (), r.id) for r in own)
    )


def _layout(
    group: Sequence[Want],
    supply: Supply,
    records: Archive,
    seconds: float | None,
    progress: Progress,
) -> Layout:
    """The layout of these outlines: the one that was found before, else a new one, kept.

    UnusableError where a kept one fails its check.
    """
    from proofgen.nesting.nest import nest

    parts = [replace(want.part(), key=str(i)) for i, want in enumerate(group)]
    told = [(p.outline.flatten(0.01), p.turns, p.urgency) for p in parts]
    text = json.dumps([[[run.round(4).tolist() for run in o], t, u] for o, t, u in told])
    asked = hashlib.sha256(f"{text}{supply}".encode()).hexdigest()
    kept = {e.subject: e.details for e in records.entries(LAYOUT)}.get(asked)
    if kept and seconds is None:
        layout = from_json(kept, "the workshop's ledger")
        wrong = verify(layout, parts)
        if wrong:
            raise UnusableError(f"a layout in the records fails its check: {wrong[0]}.")
    else:
        effort = Effort() if seconds is None else Effort(seconds=seconds)
        layout = nest(parts, supply, effort, progress)
        if not layout.hurried:
            records.enter([Entry(now(), LAYOUT, asked, details=to_json(layout))])
    keys = {str(i): want.key for i, want in enumerate(group)}
    return replace(
        layout,
        placed=tuple(replace(each, key=keys[each.key]) for each in layout.placed),
        left=tuple(keys[key] for key in layout.left),
    )


def _jobs(
    wood: Wood,
    group: Sequence[Want],
    layout: Layout,
    workshop: Workshop,
    digest: str,
    ids: list[str] | int,
) -> list[Job]:
    wants = {want.key: want for want in group}
    least = workshop.material(wood.material).board.least
    found = []
    for index, board in enumerate(layout.boards):
        placed = layout.on(index)
        outlines = [outline(wants[each.key].layer).moved(each.affine()) for each in placed]
        left = remainder(board, outlines, least)
        found.append(
            Job(
                id=ids[index] if isinstance(ids, list) else f"S-{ids + index:04}",
                digest=digest,
                wood=wood,
                width=board.width,
                height=board.height,
                uses=board.id,
                lies=tuple(_lies(wants[each.key], each.turn, each.x, each.y) for each in placed),
                leaves=(round(left.width, 1), round(left.height, 1)) if left else None,
            )
        )
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


def _digest(keys: Sequence[str], layout: Layout) -> str:
    text = json.dumps(keys) + to_json(layout)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
