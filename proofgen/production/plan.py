"""From a laid sheet to the steps in which it is made.

Piece by piece, or operation by operation; in both of them cuts go from the inside out, at every
depth, and nothing is engraved on a piece that is loose already.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.geometry.inside import Obstacles
from proofgen.geometry.path import Contour, Path, Points
from proofgen.production.keep_off import PENALTY, order_of_pieces
from proofgen.production.route import short_way
from proofgen.production.starts import begun, led_in
from proofgen.production.steps import Piece, Plan, SheetArt, Step, is_cut
from proofgen.production.tasks import Task, tasks_of, work_order
from proofgen.workshop.workshop import Workshop

MANNERS = ("piece", "operation")
ORIGIN = (0.0, 0.0)

# A task, and whether an open contour is followed backwards.
Turn = tuple[Task, bool]


def plan(sheet: SheetArt, manner: str, workshop: Workshop) -> Plan:
    """The steps of a sheet, in the manner "piece" or "operation"; ValueError for another."""
    if manner not in MANNERS:
        raise ValueError(f"unknown manner {manner!r}")
    pieces, tasks = tasks_of(sheet, workshop)
    turns = _by_piece(tasks, pieces) if manner == "piece" else _by_operation(tasks)
    steps = _freeing(_led_in(turns, _begun(turns, pieces, workshop), workshop))
    return Plan(sheet.width, sheet.height, sheet.side, manner, pieces, steps)


def _by_piece(tasks: Sequence[Task], pieces: Sequence[Piece]) -> list[Turn]:
    """Pieces that lie in another's opening come before that one."""
    own: dict[int, list[Task]] = {}
    for task in sorted(tasks, key=work_order):
        own.setdefault(task.piece, []).append(task)
    deep = {p: min((t.depth for t in own[p] if is_cut(t.operation)), default=0) for p in own}
    turns: list[Turn] = []
    for depth in sorted(set(deep.values()), reverse=True):
        level = sorted(piece for piece in own if deep[piece] == depth)
        entries = np.array([_middle(own[piece][0]) for piece in level])
        exits = [_places(own[piece][-1]) for piece in level]
        outlines = Obstacles([pieces[piece].outline for piece in level])
        for index in order_of_pieces(entries, exits, outlines, _here(turns)):
            for block in _blocks(own[level[index]]):
                turns += _routed(block, _here(turns))
    return turns


def _by_operation(tasks: Sequence[Task]) -> list[Turn]:
    """Outlines at one depth are put in such an order that moves keep off what is loose."""
    turns: list[Turn] = []
    for block in _blocks(sorted(tasks, key=work_order)):
        turns += _routed([task for task in block if not task.outline], _here(turns))
        outlines = [task for task in block if task.outline]
        if outlines:
            entries = np.array([_middle(task) for task in outlines])
            exits = [_places(task) for task in outlines]
            loose = Obstacles([task.path for task in outlines])
            order = order_of_pieces(entries, exits, loose, _here(turns))
            turns += [(outlines[index], False) for index in order]
    return turns


def _blocks(tasks: list[Task]) -> list[list[Task]]:
    """Runs of tasks whose order is free."""
    return [list(block) for _, block in groupby(tasks, key=work_order)]


def _routed(tasks: list[Task], start: Point) -> list[Turn]:
    ends = np.array([_ends(task) for task in tasks]).reshape(-1, 2, 2)
    return [(tasks[index], back) for index, back in short_way(ends, start)]


def _ends(task: Task) -> tuple[Point, Point]:
    """Where an open contour begins and ends; about where a closed one or an area is."""
    contour = task.path.contours[0]
    if task.starts or contour.closed or task.operation == "engrave-area":
        return _middle(task), _middle(task)
    return contour.start, contour.segments[-1][-1]


def _middle(task: Task) -> Point:
    places = _places(task)
    x, y = places[len(places) // 2] if task.outline else places.mean(axis=0)
    return float(x), float(y)


def _places(task: Task) -> Points:
    """Where the task may be begun, (n, 2)."""
    return np.array([at for _, at in task.starts] or [task.path.contours[0].start])


def _here(turns: Sequence[Turn]) -> Point:
    if not turns:
        return ORIGIN
    task, back = turns[-1]
    return _ends(task)[0 if back else 1]


def _begun(turns: Sequence[Turn], pieces: Sequence[Piece], workshop: Workshop) -> list[Step]:
    """The steps, each closed contour begun where the moves to and from it are shortest.

    Outlines are begun where those moves also keep off pieces that are loose by then.
    """
    obstacles = Obstacles([piece.outline for piece in pieces])
    cutting = workshop.cutting
    here, loose = ORIGIN, np.zeros(len(pieces), dtype=bool)
    steps: list[Step] = []
    for number, (task, back) in enumerate(turns):
        contour = task.path.contours[0]
        path = task.path
        if task.starts:
            after = (
                _ends(turns[number + 1][0])[turns[number + 1][1]] if turns[number + 1 :] else None
            )
            at = _best_start(task, here, after, obstacles, loose)
            tabs = cutting.tabs if task.outline else 0
            laid = cutting if is_cut(task.operation) else replace(cutting, overcut=0.0)
            path = begun(contour, at, laid, tabs)
        elif back and task.operation != "engrave-area":
            path = Path((contour.reversed(),))
        steps.append(Step(task.operation, path, task.piece, task.outline))
        here = steps[-1].end
        loose[task.piece] |= task.outline
    return steps


def _best_start(
    task: Task, here: Point, after: Point | None, obstacles: Obstacles, loose: NDArray[np.bool_]
) -> float:
    """Where to begin a closed contour; an outline elsewhere than below only if it must be."""
    least, best = np.inf, 0.0
    for starts in (task.starts, task.spare):
        if starts and least >= PENALTY:
            places = np.array([at for _, at in starts])
            cost = _cost_of_starts(task, places, here, after, obstacles, loose)
            if cost.min() < least:
                least, best = float(cost.min()), starts[int(np.argmin(cost))][0]
    return best


def _cost_of_starts(
    task: Task,
    places: Points,
    here: Point,
    after: Point | None,
    obstacles: Obstacles,
    loose: NDArray[np.bool_],
) -> Points:
    moves = [np.concatenate([np.broadcast_to(here, places.shape), places], axis=1)]
    if after is not None:
        moves.append(np.concatenate([places, np.broadcast_to(after, places.shape)], axis=1))
    cost = np.zeros(len(places))
    for move, gone in zip(moves, (loose, _with(loose, task)), strict=False):
        cost += np.hypot(*(move[:, 2:] - move[:, :2]).T)
        if task.outline and gone.any():
            cost += PENALTY * obstacles.passed(move)[:, gone].any(axis=1)
    return cost


def _with(loose: NDArray[np.bool_], task: Task) -> NDArray[np.bool_]:
    both = loose.copy()
    both[task.piece] |= task.outline
    return both


def _led_in(turns: Sequence[Turn], steps: list[Step], workshop: Workshop) -> list[Step]:
    """The cuts with a way in from the waste, where the workshop wants one and there is room."""
    reach = workshop.cutting.lead_in
    if not reach:
        return steps
    cuts = [task.path.contours[0] for task, _ in turns if is_cut(task.operation)]
    return [
        replace(step, path=_way_in(task, step.path, reach, cuts)) if task.starts else step
        for (task, _), step in zip(turns, steps, strict=True)
    ]


def _way_in(task: Task, path: Path, reach: float, cuts: Sequence[Contour]) -> Path:
    own = task.path.contours[0]
    if not is_cut(task.operation):
        return path
    others = [contour for contour in cuts if contour is not own]
    return led_in(path, own, reach, task.operation == "cut-outside", others)


def _freeing(steps: Sequence[Step]) -> tuple[Step, ...]:
    """A piece with several outlines is loose once the last of them is cut."""
    last = {step.piece: number for number, step in enumerate(steps) if step.frees}
    return tuple(
        replace(step, frees=last.get(step.piece) == number) for number, step in enumerate(steps)
    )
