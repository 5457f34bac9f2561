"""One board, as full as can be found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Generator, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field, replace
from math import ceil, inf
from time import monotonic

from proofgen.nesting.aims import TINY, Aims, Mix, Waiting, area_of_all, mix_key
from proofgen.nesting.clear import clear_room
from proofgen.nesting.corner import corner_fill
from proofgen.nesting.engine import Effort, Failed, Search, Strip, strips
from proofgen.nesting.grid import grid_fill, tilts_for
from proofgen.nesting.part import Board
from proofgen.nesting.shape import Lying, Shape, area_of, fits_alone

# Of the usable area: no board is tried with more, most take so much, so much is thought likely
# before any board was laid, and the fullest of irregular shapes were so full when measured.
MOST, USUAL, LIKELY, DENSE = 0.92, 0.66, 0.72, 0.74
# How much more, or less, is thought likely after a board whose first mix fitted, or did not. A
# search that fails takes ten times as long as one that succeeds, so two in three should succeed.
RISE, FALL = 1.01, 0.98
QUICK = 3  # times less patience in laying a board again
FILLERS = 4  # of the smallest shapes are tried in what the engine leaves free
EMPTY: tuple[Lying, ...] = ()


@dataclass(slots=True)
class Filler:
    """Fills boards. Remembers which mixes of shapes fit on which, and learns how full boards get.

    An interruption (Ctrl-C) of a search ends the use of the engine; what follows is laid plainly.
    Where a search `failed` it is taken to have found nothing.
    """

    effort: Effort
    engine: bool
    failed: bool = False
    _known: dict[object, Strip | None] = field(default_factory=dict)
    _likely: float = LIKELY
    _end: float | None = None

    def __post_init__(self) -> None:
        if self.effort.seconds is not None:
            self._end = monotonic() + self.effort.seconds

    def fullest(self, queue: Sequence[Waiting], board: Board) -> tuple[Lying, ...]:
        """As many of the first shapes as are found to fit, with small ones from behind."""
        shapes = [shape for _, shape in queue]
        ((common, count),) = Counter(shapes).most_common(1)
        grid = grid_fill(common, count, board, tilts_for(common))
        if len(grid) == len(queue):
            return grid
        found = self._topped(queue, board) if self._hunting() else EMPTY
        # A grid of the commonest alone would pass over what is more urgent.
        tries = [found, grid if count == len(queue) else EMPTY]
        if not found:
            tries += [corner_fill(shapes, board), corner_fill(without(shapes, grid), board, grid)]
        return max(tries, key=area_on)

    def whole(self, mixes: Sequence[Mix], board: Board, quick: bool) -> Iterator[tuple[Lying, ...]]:
        """For each mix all of it on the board, or nothing where no way is found; nothing for any of
        them once interrupted.

        Where the board keeps places out, all of it is tried in its largest clear rectangle.
        """
        inner, shift = clear_room(board)
        effort, size = self.effort, self.effort.searches
        if quick:
            effort = replace(effort, patience=effort.patience // QUICK)
        try:
            for first in range(0, len(mixes), size):
                if not self._hunting():
                    return
                for strip in self._tried(mixes[first : first + size], inner, effort, len(mixes)):
                    yield moved(strip.lying, shift) if strip else EMPTY
        except KeyboardInterrupt:
            self.engine = False

    def narrowest(self, mix: Mix, board: Board) -> tuple[Lying, ...]:
        """All of it in as little of the board's width as is found, so that the rest is of use."""
        if not self._hunting():
            return EMPTY
        inner, shift = clear_room(board)
        effort = replace(self.effort, patience=self.effort.patience // QUICK)
        with closing(strips([Search(mix, inner)], effort, self._share(1))) as answers:
            strip = self._heard(next(answers))
        return moved(strip.lying, shift) if strip and strip.width <= inner.width else EMPTY

    def _topped(self, queue: Sequence[Waiting], board: Board) -> tuple[Lying, ...]:
        """What the engine lays, with small shapes in what it leaves free; nothing if it cannot."""
        inner, shift = clear_room(board)
        lying = moved(self._searched(queue, inner), shift)
        if not lying:
            return EMPTY
        rest = without([shape for _, shape in queue], lying)
        small = sorted({*rest}, key=lambda shape: (area_of(shape), shape.outline))[:FILLERS]
        free = board.usable * MOST - area_on(lying)
        fillers = [shape for shape in rest if shape in small and area_of(shape) < free]
        return corner_fill(fillers, board, lying)

    def _searched(self, queue: Sequence[Waiting], board: Board) -> tuple[Lying, ...]:
        """By the engine: the mix that is likely to fit, then others, some at once, until so much is
        on the board that no other is needed for it, or a fuller mix does not fit.
        """
        room, total = board.usable, area_of_all(queue)
        shares = ceil(total / (room * USUAL)) * self.effort.searches
        aims = Aims(queue, min(self._likely, MOST) * room, MOST * room)
        enough = self._enough(total, room)
        best = EMPTY
        try:
            while aims.good < enough - TINY and self._hunting():
                mixes = aims.next(self.effort.searches)
                if not mixes:
                    break
                best = self._fullest_of(mixes, board, shares, aims) or best
        except KeyboardInterrupt:
            self.engine = False
        self._likely *= RISE if aims.bad == inf else FALL
        return best

    def _fullest_of(
        self, mixes: Sequence[Mix], board: Board, shares: int, aims: Aims
    ) -> tuple[Lying, ...]:
        """The first of the mixes that fits; the aims are told."""
        with closing(self._tried(mixes, board, self.effort, shares)) as answers:
            for mix, strip in zip(mixes, answers, strict=False):
                aims.tell(mix, strip is not None)
                if strip:
                    return strip.lying
        return EMPTY

    def _enough(self, total: float, room: float) -> float:
        """Square millimetres: what is left for this board, were all others as full as is likely."""
        each = room * min(self._likely, MOST)
        return total - (ceil(total / each) - 1) * each

    def _tried(
        self, mixes: Sequence[Mix], board: Board, effort: Effort, shares: int
    ) -> Generator[Strip | None]:
        """Each mix on the board, None where it is not found to fit; known answers again."""
        keys = [(board.width, board.height, board.margin, board.gap, mix_key(m)) for m in mixes]
        for key, mix in zip(keys, mixes, strict=True):
            if not could_hold(board, mix):
                self._known[key] = None
        new = {key: mix for key, mix in zip(keys, mixes, strict=True) if key not in self._known}
        searches = [Search(mix, board, board.width) for mix in new.values()]
        with closing(strips(searches, effort, self._share(shares))) as answers:
            for key in keys:
                if key in new and key not in self._known:
                    strip = self._heard(next(answers))
                    fits = strip is not None and strip.width <= board.width
                    self._known[key] = strip if fits else None
                yield self._known[key]

    def _heard(self, answer: Strip | Failed | None) -> Strip | None:
        if isinstance(answer, Failed):
            self.failed = True
            return None
        return answer

    def _hunting(self) -> bool:
        return self.engine and (self._end is None or monotonic() < self._end)

    def _share(self, shares: int) -> float | None:
        """Seconds for one search out of so many."""
        return None if self._end is None else max((self._end - monotonic()) / max(shares, 1), 0.1)


def could_hold(board: Board, mix: Mix) -> bool:
    """Whether the mix is worth trying on the board."""
    area = sum(area_of(shape) for shape in mix)
    return area <= board.usable * MOST and all(fits_alone(shape, board) for shape in {*mix})


def moved(lying: Sequence[Lying], shift: tuple[float, float]) -> tuple[Lying, ...]:
    """The same, moved by that in mm."""
    return tuple(replace(each, x=each.x + shift[0], y=each.y + shift[1]) for each in lying)


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
