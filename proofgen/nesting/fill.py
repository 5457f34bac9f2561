"""One board, as full as can be found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import ceil
from time import monotonic

from proofgen.nesting.aims import Aims, Waiting, area_of_all, mix_area
from proofgen.nesting.clear import clear_room
from proofgen.nesting.corner import corner_fill
from proofgen.nesting.engine import Effort, Search, Strip, available, strips
from proofgen.nesting.grid import grid_fill, tilts_for
from proofgen.nesting.part import Board
from proofgen.nesting.shape import Lying, Shape, area_of

# Of the usable area: no board is tried with more, and the first is tried with so much.
MOST, USUAL = 0.92, 0.66
FILLERS = 4  # of the smallest shapes are tried in what the engine leaves free
EMPTY: tuple[Lying, ...] = ()


@dataclass(slots=True)
class Filler:
    """Fills boards. Remembers which mixes of shapes fit on which, and how full the fullest is.

    An interruption (Ctrl-C) ends the use of the engine; what follows is laid plainly.
    """

    effort: Effort
    engine: bool = field(default_factory=available)
    _known: dict[object, Strip | None] = field(default_factory=dict)
    _usual: float = USUAL
    _end: float | None = None

    def __post_init__(self) -> None:
        if self.effort.seconds is not None:
            self._end = monotonic() + self.effort.seconds

    def fullest(self, queue: Sequence[Waiting], board: Board) -> tuple[Lying, ...]:
        """As many of the first shapes as are found to fit, with small ones from behind."""
        shapes = [shape for _, shape in queue]
        plain = self._plain(shapes, board)
        if len(plain) == len(queue) or not self._hunting():
            return plain
        inner, (x, y) = clear_room(board)
        found = self._searched(queue, inner)
        lying = tuple(replace(each, x=each.x + x, y=each.y + y) for each in found)
        rest = without(shapes, lying)
        small = sorted({*rest}, key=lambda shape: (area_of(shape), shape.outline))[:FILLERS]
        free = board.usable * MOST - area_on(lying)
        fillers = [shape for shape in rest if shape in small and area_of(shape) < free]
        lying = corner_fill(fillers, board, lying)
        return lying if area_on(lying) >= area_on(plain) else plain

    def all_of(self, mixes: Sequence[tuple[Shape, ...]], board: Board) -> list[tuple[Lying, ...]]:
        """For each mix all of it on the board, or nothing where no way is found."""
        if board.keep_out or not self._hunting():
            return [EMPTY for _ in mixes]
        found = self._tried(mixes, board, 2 * len(mixes))
        return [strip.lying if strip else EMPTY for strip in found]

    def _plain(self, shapes: Sequence[Shape], board: Board) -> tuple[Lying, ...]:
        """Without the engine: a grid of the commonest shape with others round it, or no grid."""
        ((common, count),) = Counter(shapes).most_common(1)
        grid = grid_fill(common, count, board, tilts_for(common))
        # Others may be more urgent than the commonest.
        if self._hunting() and not board.keep_out:
            return grid if count == len(shapes) else EMPTY
        tries = (corner_fill(shapes, board), corner_fill(without(shapes, grid), board, grid))
        return max(tries, key=area_on)

    def _searched(self, queue: Sequence[Waiting], board: Board) -> tuple[Lying, ...]:
        """By the engine: mixes of ever more area, some at once, until a fuller one does not fit."""
        room = board.usable
        aims = Aims(queue, self._usual * room, MOST * room, self.effort.searches)
        best = EMPTY
        while mixes := aims.next():
            boards = ceil(area_of_all(queue) / (room * self._usual))
            found = self._tried(mixes, board, 2 * boards)
            if not self._hunting():
                break
            for mix, strip in zip(mixes, found, strict=True):
                aims.tell(mix, strip is not None)
                if strip and mix_area(mix) >= aims.good:
                    best = strip.lying
        if len(best) < len(queue):
            self._usual = min(max(aims.good / room, USUAL / 2), MOST)
        return best

    def _tried(
        self, mixes: Sequence[tuple[Shape, ...]], board: Board, shares: int
    ) -> list[Strip | None]:
        """Each mix on the board, None where it is not found to fit; known answers again."""
        searches = {_key(mix, board): Search(mix, board, board.width) for mix in mixes}
        new = [key for key in searches if key not in self._known]
        try:
            for first in range(0, len(new), self.effort.searches):
                keys = new[first : first + self.effort.searches]
                answers = strips([searches[key] for key in keys], self.effort, self._share(shares))
                for key, strip in zip(keys, answers, strict=True):
                    self._known[key] = strip if strip and strip.width <= board.width else None
        except KeyboardInterrupt:
            self.engine = False
        return [self._known.get(_key(mix, board)) for mix in mixes]

    def _hunting(self) -> bool:
        return self.engine and (self._end is None or monotonic() < self._end)

    def _share(self, shares: int) -> float | None:
        """Seconds for one search out of so many."""
        return None if self._end is None else max((self._end - monotonic()) / max(shares, 1), 0.1)


def area_on(lying: Sequence[Lying]) -> float:
    """Square millimetres of all that lies there."""
    return sum(area_of(each.shape) for each in lying)


def without(shapes: Sequence[Shape], lying: Sequence[Lying]) -> list[Shape]:
    """The shapes that do not lie there, in their order."""
    gone = Counter(each.shape for each in lying)
    left: list[Shape] = []
    for shape in shapes:
        if gone[shape]:
            gone[shape] -= 1
        else:
            left.append(shape)
    return left


def _key(mix: tuple[Shape, ...], board: Board) -> object:
    size = (board.width, board.height, board.margin, board.gap)
    return size, frozenset(Counter(mix).items())
