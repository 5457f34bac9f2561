"""The largest upright rectangle of a board that is clear of what it keeps out."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Board


def clear_room(board: Board) -> tuple[Board, tuple[float, float]]:
    """A board that keeps nothing out, and where it lies on this one.

    Its margin is this board's; where it ends at a kept out place, the gap is kept to that.
    """
    room, gap, edge = board.room, board.gap, board.margin
    near = [rect for rect in board.keep_out if rect.apart(room) < gap]
    if not near:
        return replace(board, keep_out=()), (0.0, 0.0)
    kept = [Rect(r.left - gap, r.top - gap, r.right + gap, r.bottom + gap) for r in near]
    # A largest rectangle ends at the room's sides or at those of kept out places.
    across = sorted({room.left, room.right, *(x for r in kept for x in (r.left, r.right))})
    down = sorted({room.top, room.bottom, *(y for r in kept for y in (r.top, r.bottom))})
    best = Rect(room.left, room.top, room.left, room.top)
    for left, right in combinations((x for x in across if room.left <= x <= room.right), 2):
        for top, bottom in combinations((y for y in down if room.top <= y <= room.bottom), 2):
            rect = Rect(left, top, right, bottom)
            if _area(rect) > _area(best) and not any(_meets(rect, each) for each in kept):
                best = rect
    inner = replace(board, width=best.width + 2 * edge, height=best.height + 2 * edge, keep_out=())
    return inner, (best.left - edge, best.top - edge)


def _area(rect: Rect) -> float:
    return rect.width * rect.height


def _meets(one: Rect, other: Rect) -> bool:
    return (
        one.left < other.right
        and other.left < one.right
        and one.top < other.bottom
        and other.top < one.bottom
    )
