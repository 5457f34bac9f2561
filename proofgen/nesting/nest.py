"""Parts on as few boards as are found, the most urgent first, turned no more than that takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from proofgen.nesting.absorb import Filled, absorbed
from proofgen.nesting.aims import Waiting, waiting_still
from proofgen.nesting.engine import STEADY, Effort, available
from proofgen.nesting.fill import Filler
from proofgen.nesting.grid import grid_fill
from proofgen.nesting.part import (
    FAILURE,
    HURRY,
    INTERRUPTION,
    NO_ENGINE,
    Board,
    Layout,
    Part,
    Placed,
    Supply,
)
from proofgen.nesting.shape import Lying, Shape, box_of, fits_alone, in_proportion, shape_of
from proofgen.nesting.turns import CLASSES, HALF, TILTED, UPRIGHT, class_of, half, tilts_of, upright
from proofgen.nesting.verify import verify

Progress = Callable[[int, int], None]


def nest(
    parts: Sequence[Part],
    supply: Supply,
    effort: Effort = STEADY,
    progress: Progress = lambda _done, _total: None,
) -> Layout:
    """The parts on remainders, the smallest first, and then on as many sheets as it takes.

    All turns that the parts allow serve to reach the fewest boards; each board is then laid again
    with its parts turned as little as is found. What fits on no board is in `left`. `progress` is
    told (parts laid, parts). An interruption ends the search; what is not laid by then is laid
    plainly. RuntimeError where a layout fails its own check, which would be a mistake of ours.
    """
    ordered = in_proportion([(part, shape_of(part)) for part in parts])
    filler = Filler(effort, available())
    queue = [(part.urgency, shape) for part, shape in ordered]
    filled = _fill(queue, supply, filler, progress)
    filled = _drawn_in(_least_turned(absorbed(filled, filler), filler), filler)
    layout = replace(_named(ordered, filled), ended=_ended(filler))
    wrong = verify(layout, parts)
    if wrong:
        raise RuntimeError(f"a layout is wrong: {wrong[0]}")
    return layout


def _ended(filler: Filler) -> str:
    """What ended the search, empty where nothing did."""
    if not available():
        return NO_ENGINE
    if not filler.engine:
        return INTERRUPTION
    if filler.failed:
        return FAILURE
    return "" if filler.effort.seconds is None else HURRY


def _fill(
    queue: Sequence[Waiting], supply: Supply, filler: Filler, progress: Progress
) -> list[Filled]:
    """One board after the other, until nothing more finds place."""
    left, found = list(queue), list[Filled]()
    if supply.sheet.usable <= 0:
        return found
    waiting = sorted(supply.remainders, key=lambda board: board.usable)
    while left:
        board = waiting.pop(0) if waiting else supply.sheet
        fitting = [each for each in left if fits_alone(each[1], board)]
        lying = _laid(fitting, board, filler) if fitting else ()
        if lying:
            found.append((board, lying))
            left = waiting_still(left, lying)
            progress(len(queue) - len(left), len(queue))
        elif board is supply.sheet:
            break
    return found


def _laid(fitting: Sequence[Waiting], board: Board, filler: Filler) -> tuple[Lying, ...]:
    try:
        return filler.fullest(fitting, board)
    except KeyboardInterrupt:
        filler.engine = False
        return filler.fullest(fitting, board)


def _least_turned(filled: Sequence[Filled], filler: Filler) -> list[Filled]:
    """The same on each board, turned as little as is found."""
    best = list(filled)
    for limit, wanted in ((upright, UPRIGHT), (half, HALF)):
        _replace(best, limit, wanted, filler)
    for i, (board, lying) in enumerate(best):
        shapes = [each.shape for each in lying]
        if _rank(lying) > CLASSES.index(TILTED) and len({*shapes}) == 1:
            grid = grid_fill(shapes[0], len(shapes), board, tilts_of(shapes))
            best[i] = (board, grid) if len(grid) == len(shapes) else best[i]
    return best


def _replace(
    best: list[Filled], limit: Callable[[Shape], Shape], wanted: str, filler: Filler
) -> None:
    """Lay each board that is turned more than is wanted again within the limit, where it goes."""
    turned = [i for i, (_, lying) in enumerate(best) if _rank(lying) > CLASSES.index(wanted)]
    for size in dict.fromkeys(replace(best[i][0], id="") for i in turned):
        alike = [i for i in turned if replace(best[i][0], id="") == size]
        mixes = [tuple(limit(each.shape) for each in best[i][1]) for i in alike]
        for i, mix, found in zip(alike, mixes, filler.whole(mixes, size, quick=True), strict=False):
            if found and _rank(found) < _rank(best[i][1]):
                best[i] = best[i][0], _as_before(found, mix, [each.shape for each in best[i][1]])


def _drawn_in(filled: Sequence[Filled], filler: Filler) -> list[Filled]:
    """The same, the last sheet laid as narrow as is found, and no more turned than it is."""
    if not filled:
        return []
    *others, (board, lying) = filled
    limits = {UPRIGHT: upright, HALF: half}
    shapes = [each.shape for each in lying]
    limit = limits.get(class_of([each.turn for each in lying]))
    mix = tuple(limit(shape) for shape in shapes) if limit else tuple(shapes)
    try:
        found = filler.narrowest(mix, board) if mix and not board.id else ()
    except KeyboardInterrupt:
        filler.engine = False
        found = ()
    if found and _reach(found) < _reach(lying):
        return [*others, (board, _as_before(found, mix, shapes))]
    return list(filled)


def _reach(lying: Sequence[Lying]) -> float:
    """The right end of all that lies there, in mm."""
    return max(each.x + box_of(each.shape, each.turn)[2] for each in lying)


def _as_before(
    found: Sequence[Lying], mix: Sequence[Shape], shapes: Sequence[Shape]
) -> tuple[Lying, ...]:
    """What was found with limited shapes, of the shapes that they come from."""
    waiting: dict[Shape, list[Shape]] = {}
    for limited, shape in zip(mix, shapes, strict=True):
        waiting.setdefault(limited, []).append(shape)
    return tuple(replace(each, shape=waiting[each.shape].pop()) for each in found)


def _rank(lying: Sequence[Lying]) -> int:
    return CLASSES.index(class_of([each.turn for each in lying]))


def _named(ordered: Sequence[tuple[Part, Shape]], filled: Sequence[Filled]) -> Layout:
    """With keys: of parts of one shape, the most urgent lie on the first boards."""
    waiting: dict[Shape, list[str]] = {}
    for part, shape in ordered:
        waiting.setdefault(shape, []).append(part.key)
    placed = tuple(
        Placed(waiting[each.shape].pop(0), number, each.turn % 360, each.x, each.y)
        for number, (_, lying) in enumerate(filled)
        for each in lying
    )
    left = tuple(key for keys in waiting.values() for key in keys)
    rotation = class_of([each.turn for each in placed])
    return Layout(tuple(board for board, _ in filled), placed, rotation, left)
