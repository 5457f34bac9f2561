"""From a laid sheet to the steps in which it is made.

Piece by piece, or operation by operation; in both of them cuts go from the inside out, at every
depth, and nothing is engraved on a piece that is loose already.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.geometry.inside import Obstacles
from proofgen.geometry.path import Contour, Path
from proofgen.production.keep_off import PENALTY, order_of_pieces
from proofgen.production.route import short_way
from proofgen.production.starts import begun, led_in
from proofgen.production.steps import Plan, SheetArt, Step, is_cut
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
    outlines = Obstacles([piece.outline for piece in pieces])
    turns = (_by_piece if manner == "piece" else _by_operation)(tasks, outlines)
    steps = _freeing(_led_in(turns, _begun(turns, outlines, workshop), sheet, workshop))
    return Plan(sheet.width, sheet.height, sheet.side, manner, pieces, steps)


def _by_piece(tasks: Sequence[Task], outlines: Obstacles) -> list[Turn]:
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
        for index in order_of_pieces(entries, exits, outlines.some(level), _here(turns)):
            for block in _blocks(own[level[index]]):
                turns += _routed(block, _here(turns))
    return turns


def _by_operation(tasks: Sequence[Task], outlines: Obstacles) -> list[Turn]:
    """Outlines at one depth are put in such an order that moves keep off what is loose."""
    turns: list[Turn] = []
    for block in _blocks(sorted(tasks, key=work_order)):
        turns += _routed([task for task in block if not task.outline], _here(turns))
        freeing = [task for task in block if task.outline]
        if freeing:
            entries = np.array([_middle(task) for task in freeing])
            exits = [_places(task) for task in freeing]
            loose = outlines.some([task.piece for task in freeing])
            order = order_of_pieces(entries, exits, loose, _here(turns))
            turns += [(freeing[index], False) for index in order]
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
    if task.outline:
        return places[len(places) // 2]
    return sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places)


def _places(task: Task) -> list[Point]:
    """Where the task may be begun."""
    return [at for _, at in task.starts] or [task.path.contours[0].start]


def _here(turns: Sequence[Turn]) -> Point:
    if not turns:
        return ORIGIN
    task, back = turns[-1]
    return _ends(task)[0 if back else 1]


def _begun(turns: Sequence[Turn], outlines: Obstacles, workshop: Workshop) -> list[Step]:
    """The steps, each closed contour begun where the moves to and from it are shortest.

    Outlines are begun where those moves also keep off pieces that are loose by then.
    """
    cutting = workshop.cutting
    here, loose = ORIGIN, np.zeros(len(outlines), dtype=bool)
    steps: list[Step] = []
    for number, (task, back) in enumerate(turns):
        contour = task.path.contours[0]
        path = task.path
        if task.starts:
            after = (
                _ends(turns[number + 1][0])[turns[number + 1][1]] if turns[number + 1 :] else None
            )
            at = _best_start(task, here, after, outlines, loose)
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
    task: Task, here: Point, after: Point | None, outlines: Obstacles, loose: NDArray[np.bool_]
) -> float:
    """Where to begin a closed contour; an outline elsewhere than below only if it must be."""
    if not task.outline:
        return min(task.starts, key=lambda start: _way(here, start[1], after))[0]
    least, best = np.inf, 0.0
    for starts in (task.starts, task.spare):
        if starts and least >= PENALTY:
            places = [at for _, at in starts]
            cost = np.array([_way(here, at, after) for at in places])
            cost += PENALTY * _over(task, places, here, after, outlines, loose)
            if cost.min() < least:
                least, best = float(cost.min()), starts[int(np.argmin(cost))][0]
    return best


def _way(here: Point, at: Point, after: Point | None) -> float:
    return math.dist(here, at) + (math.dist(at, after) if after else 0.0)


def _over(
    task: Task,
    places: Sequence[Point],
    here: Point,
    after: Point | None,
    outlines: Obstacles,
    loose: NDArray[np.bool_],
) -> NDArray[np.int64]:
    """How many of the moves to each place and on from it pass over what is loose by then."""
    found = np.zeros(len(places), dtype=int)
    if loose.any():
        found += outlines.passed(np.array([(*here, *at) for at in places]))[:, loose].any(axis=1)
    if after:
        gone = _with(loose, task)
        found += outlines.passed(np.array([(*at, *after) for at in places]))[:, gone].any(axis=1)
    return found


def _with(loose: NDArray[np.bool_], task: Task) -> NDArray[np.bool_]:
    both = loose.copy()
    both[task.piece] |= task.outline
    return both


def _led_in(
    turns: Sequence[Turn], steps: list[Step], sheet: SheetArt, workshop: Workshop
) -> list[Step]:
    """The cuts with a way in from the waste, where the workshop wants one and there is room."""
    reach = workshop.cutting.lead_in
    if not reach:
        return steps
    cuts = [task.path.contours[0] for task, _ in turns if is_cut(task.operation)]
    found: list[Step] = []
    for (task, _), step in zip(turns, steps, strict=True):
        path = _way_in(task, step.path, reach, cuts, sheet) if task.starts else step.path
        if path is not step.path:
            # Another way in keeps off this one.
            cuts.append(Contour(path.contours[0].start, ((step.begin,),), closed=False))
        found.append(replace(step, path=path))
    return found


def _way_in(task: Task, path: Path, reach: float, cuts: Sequence[Contour], sheet: SheetArt) -> Path:
    own = task.path.contours[0]
    if not is_cut(task.operation):
        return path
    others = [contour for contour in cuts if contour is not own]
    return led_in(path, own, reach, task.operation == "cut-outside", others, sheet)


def _freeing(steps: Sequence[Step]) -> tuple[Step, ...]:
    """A piece with several outlines is loose once the last of them is cut."""
    last = {step.piece: number for number, step in enumerate(steps) if step.frees}
    return tuple(
        replace(step, frees=last.get(step.piece) == number) for number, step in enumerate(steps)
    )
