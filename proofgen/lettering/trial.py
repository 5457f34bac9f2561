"""One setting of a text, tried in a zone."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from heapq import heapify, heappop, heappush

from proofgen.designs.design import Slot
from proofgen.faces.face import Axes, Face
from proofgen.lettering.bench import Bench
from proofgen.lettering.ladder import Level, levels
from proofgen.lettering.layout import Layout
from proofgen.lettering.rules import Rules
from proofgen.lettering.seat import Seat

# Sizes that differ by less are one size.
SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Task:
    """A text on its lines, to be set in one face; `cap` is the cap height of one em."""

    texts: tuple[str, ...]
    face: Face
    cap: float
    slot: Slot
    rules: Rules
    bench: Bench
    seat: Seat


@dataclass(frozen=True)
class Trial:
    """A layout with the greatest size (mm an em) that the zone allows, up to the wanted one.

    Its cap height is a whole number of hundredths of a millimetre. A size under `least`, mm an
    em, is of no use and may be told as 0.

    Sizes, strokes and gaps are found only when they are asked for.
    """

    task: Task
    layout: Layout
    tracking: float
    least: float = 0.0

    @cached_property
    def bound(self) -> float:
        """A cap height, mm, that it does not exceed; found in no time."""
        return (
            _snapped(self.task.seat.bound(self.layout, self._wanted), self.task.cap) * self.task.cap
        )

    @cached_property
    def largest(self) -> float:
        """The greatest size, mm an em."""
        largest = self.task.seat.largest(self.layout, self._wanted, self.least)
        return _snapped(largest, self.task.cap)

    @property
    def _wanted(self) -> float:
        return self.task.slot.cap_height.wanted / self.task.cap

    @property
    def cap_height(self) -> float:
        """The greatest cap height, mm."""
        return self.largest * self.task.cap

    @cached_property
    def stroke(self) -> float:
        """The thinnest stroke as it is drawn at the largest size, mm."""
        return self.layout.stroke * self.largest

    @cached_property
    def gap(self) -> float:
        """The narrowest gap as it is drawn at the largest size, mm; infinite where any will do."""
        if self.task.rules.drawn_gap <= 0:
            return math.inf
        return self.task.seat.gap(self.layout, self.largest)

    @property
    def stroke_too_thin(self) -> bool:
        """Whether the thinnest stroke is under its limit."""
        return self.stroke < self.task.rules.drawn_stroke - SAME

    @property
    def gap_too_narrow(self) -> bool:
        """Whether the narrowest gap is under its limit."""
        return self.gap < self.task.rules.drawn_gap - SAME

    @property
    def legible(self) -> bool:
        """Whether stroke and gap meet their limits at the largest size."""
        return not self.stroke_too_thin and not self.gap_too_narrow

    @property
    def width(self) -> float:
        """The ink's width in ems."""
        left, right = self.layout.ink
        return right - left


@dataclass(frozen=True, slots=True)
class Rung:
    """One level of the ladder; `first` is its shortest trial, so no other is larger.

    `narrowed` is the width as a factor of the natural one.
    """

    level: Level
    first: Trial
    narrowed: float

    def reaches(self, cap_height: float) -> bool:
        """Whether its first trial is that large; not looked for where the bound says no."""
        least = cap_height - SAME
        return self.first.bound >= least and self.first.cap_height >= least

    def search(self) -> Trial:
        """The lightest weight and tightest tracking that is legible, else the first trial."""
        if self.first.legible:
            return self.first
        task, level = self.first.task, self.level
        first = level.weights[0], level.trackings[0]
        for axes in level.weights:
            least = self._least(axes)
            if self.first.bound < least * task.cap - SAME or self.first.largest < least:
                continue
            for tracking in level.trackings:
                known = (axes, tracking) == first
                trial = self.first if known else _try(task, axes, level.squeeze, tracking, least)
                if trial.bound < least * task.cap - SAME:
                    break
                if trial.legible:
                    return trial
                # Set looser it is smaller yet.
                if trial.stroke_too_thin or trial.largest < least:
                    break
        return self.first

    def _least(self, axes: Axes) -> float:
        """The size, mm an em, under which it is not legible at those axes however loosely set:
        strokes are too thin, or gaps within letters too narrow.
        """
        task, level = self.first.task, self.level
        loosest = _layout(task, axes, level.squeeze, level.trackings[-1])
        stroke = task.rules.drawn_stroke / loosest.stroke
        return max(stroke, task.rules.drawn_gap / loosest.inner_gap) * (1 - SAME)


def rungs(task: Task) -> Iterator[Rung]:
    """The levels of the face, least narrowed first, down to what the slot allows.

    A text that leaves no mark has none.
    """
    natural: float | None = None
    for level in levels(task.face, task.rules):
        trial = _try(task, level.weights[0], level.squeeze, level.trackings[0])
        if trial.layout.blank:
            return
        natural = natural or trial.width
        narrowed = round(min(trial.width / natural, 1.0), 4)
        if narrowed >= task.slot.narrow:
            yield Rung(level, trial, narrowed)


def largest_first(seen: Sequence[Rung]) -> Iterator[Rung]:
    """Rungs by the cap height of their first trials, those alike in the order given.

    A size is looked for only when no other rung's bound is above it.
    """
    waiting = [(-round(r.first.bound, 2), False, place) for place, r in enumerate(seen)]
    heapify(waiting)
    while waiting:
        _, known, place = heappop(waiting)
        if known:
            yield seen[place]
        else:
            heappush(waiting, (-round(seen[place].first.cap_height, 2), True, place))


def _layout(task: Task, axes: Axes, squeeze: float, tracking: float) -> Layout:
    cut = task.bench.cut(task.face, axes, squeeze)
    supports = partial(task.bench.supports, cut)
    return Layout(cut, supports, task.texts, tracking, task.slot.leading, task.slot.align)


def _try(task: Task, axes: Axes, squeeze: float, tracking: float, least: float = 0.0) -> Trial:
    return Trial(task, _layout(task, axes, squeeze, tracking), tracking, least)


def _snapped(size: float, cap: float) -> float:
    """The size with its cap height rounded down to 0.01 mm: limits are held at what is made."""
    return math.floor(size * cap * 100 + 1e-6) / 100 / cap
