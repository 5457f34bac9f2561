"""Which mix of waiting shapes to try on a board next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf

from proofgen.geometry.apart import Outline
from proofgen.nesting.shape import Lying, Shape, area_of

# A shape that waits for its board, after its urgency.
Waiting = tuple[int, Shape]

STEP = 0.05  # of the area, between two aims
STEPS = 20
FINER = 0.03  # of the area: between fits and does not, nothing finer is tried
TINY = 1e-6  # mm²


Mix = tuple[Shape, ...]


@dataclass(slots=True)
class Aims:
    """Mixes to try next: fuller ones while they fit, emptier ones until one does.

    `start` and `most` are square millimetres; `good` is the largest area that fits, `bad` the
    smallest that does not.
    """

    queue: Sequence[Waiting]
    start: float
    most: float
    good: float = 0.0
    bad: float = inf

    def next(self, at_once: int) -> list[Mix]:
        """Mixes of different areas, the fullest first; none where the best is known well enough."""
        found: dict[float, Mix] = {}
        for aim in self._wanted():
            mix = mix_of_area(self.queue, min(aim, self.most))
            area = mix_area(mix)
            if self.good + TINY < area < self.bad - TINY:
                found.setdefault(round(area, 3), mix)
            if len(found) == at_once:
                break
        return [found[area] for area in sorted(found, reverse=True)]

    def _wanted(self) -> list[float]:
        if self.good and self.bad < inf:
            fine = self.bad < self.good * (1 + 2 * FINER)
            return [] if fine else [(self.good + self.bad) / 2]
        steps = range(STEPS)
        if self.good:
            return [self.good * (1 + STEP * (i + 1)) for i in steps]
        if self.bad < inf:
            return [self.bad * (1 - STEP * (i + 1)) for i in steps]
        return [self.start, *(self.start * (1 - STEP * (i + 1)) for i in steps)]

    def tell(self, mix: Mix, fits: bool) -> None:
        """What came of a try."""
        area = mix_area(mix)
        if fits:
            self.good = max(self.good, area)
            self.bad = self.bad if self.bad > area else inf
        elif area > self.good:
            self.bad = min(self.bad, area)


def mix_of_area(queue: Sequence[Waiting], area: float) -> Mix:
    """The first shapes with no more than that area, and what of equal urgency comes nearest to it.

    At least one shape.
    """
    count, left = 0, area
    while count < len(queue) and area_of(queue[count][1]) <= left + TINY:
        left -= area_of(queue[count][1])
        count += 1
    first = [shape for _, shape in queue[:count]]
    if count == len(queue) or not count:
        return tuple(first) or (queue[0][1],)
    urgency = queue[count][0]
    others = {shape for each, shape in queue[count:] if each == urgency}
    fitting = [shape for shape in others if area_of(shape) <= left]
    if fitting:
        return (*first, max(fitting, key=_size))
    if queue[count - 1][0] != urgency:
        return tuple(first)
    least = area_of(first[-1])
    fitting = [shape for shape in others if least < area_of(shape) <= least + left]
    return (*first[:-1], max(fitting, key=_size, default=first[-1]))


def mix_area(mix: Sequence[Shape]) -> float:
    """Square millimetres of a mix."""
    return sum(map(area_of, mix))


def mix_key(mix: Mix) -> frozenset[tuple[Shape, int]]:
    """The same for the same shapes in any order."""
    return frozenset(Counter(mix).items())


def area_of_all(queue: Sequence[Waiting]) -> float:
    """Square millimetres of all that waits."""
    return sum(area_of(shape) for _, shape in queue)


def waiting_still(queue: Sequence[Waiting], lying: Iterable[Lying]) -> list[Waiting]:
    """What of the queue does not lie there; the first of a shape went first."""
    gone = Counter(each.shape for each in lying)
    left: list[Waiting] = []
    for each in queue:
        if gone[each[1]]:
            gone[each[1]] -= 1
        else:
            left.append(each)
    return left


def _size(shape: Shape) -> tuple[float, Outline]:
    # Of equal areas the same one every time.
    return area_of(shape), shape.outline
