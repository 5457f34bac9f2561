"""Whether a layout may be cut: nothing overlaps, every gap, margin and kept out place is kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from proofgen.geometry.apart import FINE, near_rect, outside, too_near
from proofgen.nesting.part import Board, Layout, Part, Placed


def verify(layout: Layout, parts: Sequence[Part]) -> tuple[str, ...]:
    """A sentence for everything that is wrong with a layout, judged on the parts' own outlines."""
    known = {part.key: part for part in parts}
    laid = Counter((*(each.key for each in layout.placed), *layout.left))
    found = [f"{key} is not laid" for key in known if key not in laid]
    found += [f"{key} is no part" for key in laid if key not in known]
    found += [f"{key} is laid {count} times" for key, count in laid.items() if count > 1]
    for number, board in enumerate(layout.boards):
        placed = [each for each in layout.on(number) if each.key in known]
        found += [f"board {number + 1}: {said}" for said in _faults(board, placed, known)]
    strays = (each for each in layout.placed if not 0 <= each.board_index < len(layout.boards))
    return (*found, *(f"{each.key} lies on no board" for each in strays))


def _faults(board: Board, placed: Sequence[Placed], known: Mapping[str, Part]) -> Iterator[str]:
    paths = [known[each.key].outline.moved(each.affine()) for each in placed]
    for one, other, apart in too_near(paths, board.gap):
        yield (
            f"{placed[one].key} and {placed[other].key} are {apart:.3f} mm apart;"
            f" at least {board.gap:g} mm are needed"
        )
    for each, path in zip(placed, paths, strict=True):
        if beyond := outside(path, board.room):
            yield f"{each.key} is {beyond:.3f} mm into the margin"
        turns = known[each.key].turns
        if turns is not None and all((each.turn - turn) % 360 for turn in turns):
            yield f"{each.key} is turned by {each.turn:g} degrees"
        if any(near_rect(path, rect) < board.gap - FINE for rect in board.keep_out):
            yield f"{each.key} is nearer than {board.gap:g} mm to a place that is kept out"
