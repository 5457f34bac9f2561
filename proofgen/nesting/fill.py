"""One board, as full as can be found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import batched, islice
from math import ceil
from time import monotonic

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

    def fullest(self, shapes: Sequence[Shape], board: Board) -> tuple[Lying, ...]:
        """As many of the first shapes as are found to fit, with small ones from behind."""
        plain = self._plain(shapes, board)
        inner, (x, y) = clear_room(board)
        found = self._searched(shapes, inner, area_on(plain)) if self._hunting() else EMPTY
        if not found:
            return plain
        lying = tuple(replace(each, x=each.x + x, y=each.y + y) for each in found)
        rest = without(shapes, lying)
        small = sorted({*rest}, key=lambda shape: (area_of(shape), shape.outline))[:FILLERS]
        free = board.usable * MOST - area_on(lying)
        fillers = [shape for shape in rest if shape in small and area_of(shape) < free]
        lying = corner_fill(fillers, board, lying)
        self._usual = min(max(area_on(lying) / board.usable, USUAL / 2), MOST)
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
        # Only what is urgent would lie there, were it not for the others.
        if len({*shapes}) == 1 and len(grid) == count:
            return grid
        if self._hunting() and not board.keep_out:
            return grid if len({*shapes}) == 1 else EMPTY
        tries = (corner_fill(shapes, board), corner_fill(without(shapes, grid), board, grid))
        return max(tries, key=area_on)

    def _searched(
        self, shapes: Sequence[Shape], board: Board, least: float
    ) -> tuple[Lying, ...]:
        """By the engine: two counts of shapes at a time, until one fits and one more does not."""
        most = within(shapes, board.usable * MOST)
        start = min(max(within(shapes, board.usable * self._usual), within(shapes, least), 1), most)
        counts = Counts(start, most, self.effort.searches)
        best = EMPTY
        while tries := counts.next():
            boards = ceil(sum(map(area_of, shapes)) / (board.usable * self._usual))
            found = self._tried([tuple(shapes[:count]) for count in tries], board, 2 * boards)
            if not self._hunting():
                break
            for count, strip in zip(tries, found, strict=True):
                counts.tell(count, strip is not None)
                if strip and count == counts.good:
                    best = strip.lying
            if best and not _would_save(shapes, len(best)):
                break
        return best

    def _tried(
        self, mixes: Sequence[tuple[Shape, ...]], board: Board, shares: int
    ) -> list[Strip | None]:
        """Each mix on the board, None where it is not found to fit; known answers again."""
        searches = {_key(mix, board): Search(mix, board, board.width) for mix in mixes}
        new = [key for key in searches if key not in self._known]
        try:
            for keys in batched(new, self.effort.searches):
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


@dataclass(slots=True)
class Counts:
    """Which counts to try next: upwards while they fit, downwards until one does, then between."""

    start: int
    most: int
    at_once: int
    good: int = 0
    bad: int | None = None

    def next(self) -> list[int]:
        """The counts to try at once, none when the most that fits is known."""
        step = max(1, self.start // 12)
        if self.bad is None:
            first = self.good + step if self.good else self.start
            wanted = range(first, first + step * self.at_once, step)
            return sorted({min(count, self.most) for count in wanted if self.good < self.most})
        if not self.good:
            wanted = range(self.bad - step, self.bad - step * (self.at_once + 1), -step)
            return sorted({max(count, 1) for count in wanted if self.bad > 1})
        inside = range(self.good + 1, self.bad)
        every = ceil(len(inside) / self.at_once) if inside else 1
        return list(islice(inside, every // 2, None, every))

    def tell(self, count: int, fits: bool) -> None:
        """What came of a try; of a smaller count that does not fit, nothing is believed more."""
        if fits:
            self.good = max(self.good, count)
            self.bad = None if self.bad is not None and self.bad <= count else self.bad
        elif count > self.good:
            self.bad = count if self.bad is None else min(self.bad, count)


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


def within(shapes: Sequence[Shape], area: float) -> int:
    """How many of the first shapes have no more than that area together."""
    total = 0.0
    for count, shape in enumerate(shapes):
        total += area_of(shape)
        if total > area:
            return count
    return len(shapes)


def _would_save(shapes: Sequence[Shape], count: int) -> bool:
    """Whether one shape more on this board could save one, were all others as full as it is."""
    areas = [*map(area_of, shapes)]
    here, more, total = sum(areas[:count]), sum(areas[: count + 1]), sum(areas)
    return ceil((total - more) / here) < ceil((total - here) / here)


def _key(mix: tuple[Shape, ...], board: Board) -> object:
    size = (board.width, board.height, board.margin, board.gap)
    return size, frozenset(Counter(mix).items())
