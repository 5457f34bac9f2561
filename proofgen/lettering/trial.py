"""One setting of a text, tried in a zone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from proofgen.designs.design import Slot
from proofgen.faces.cut import Cut, Key
from proofgen.faces.face import Axes, Face
from proofgen.lettering.bench import Bench
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

    Its cap height is a whole number of hundredths of a millimetre.

    Sizes, strokes and gaps are found only when they are asked for.
    """

    task: Task
    layout: Layout
    tracking: float

    @cached_property
    def bound(self) -> float:
        """A size, mm an em, that it does not exceed; found in no time."""
        return _snapped(self.task.seat.bound(self.layout, self._wanted), self.task.cap)

    @cached_property
    def largest(self) -> float:
        """The greatest size, mm an em."""
        return _snapped(self.task.seat.largest(self.layout, self._wanted), self.task.cap)

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
        if self.largest <= 0:
            return 0.0
        within = self.layout.inner_gap * self.largest
        return self.task.seat.apart(self.layout, self.largest, within)

    @property
    def stroke_too_thin(self) -> bool:
        """Whether the thinnest stroke is under its limit."""
        return self.stroke < self.task.rules.drawn_stroke - SAME

    @property
    def gap_too_narrow(self) -> bool:
        """Whether the narrowest gap is under its limit."""
        return self.gap < self.task.rules.drawn_gap - SAME

    @cached_property
    def legible(self) -> bool:
        """Whether stroke and gap meet their limits at the largest size.

        What is quickly known comes first: whole measures are taken of what seems good.
        """
        rules, layout, size = self.task.rules, self.layout, self.largest
        if any(spoils(layout.cut, key, rules, size) for key in layout.keys):
            return False
        gap = rules.drawn_gap - SAME
        if gap > 0 and self.task.seat.nearer(layout, size, gap * (1 - SAME)):
            return False
        return not self.stroke_too_thin and (gap <= 0 or layout.inner_gap * size >= gap)

    @property
    def surely_thin(self) -> bool:
        """Whether a stroke is seen to be under its limit without being measured."""
        cut, rules, size = self.layout.cut, self.task.rules, self.largest
        return any(_thin(cut, key, rules, size) for key in self.layout.keys)

    @property
    def width(self) -> float:
        """The ink's width in ems."""
        left, right = self.layout.ink
        return right - left


def layout_of(task: Task, axes: Axes, squeeze: float, tracking: float) -> Layout:
    """The text laid out at one setting of its face, in ems."""
    slot = task.slot
    return task.bench.layout(
        task.face, axes, squeeze, task.texts, tracking, slot.leading, slot.align
    )


def tried(task: Task, axes: Axes, squeeze: float, tracking: float) -> Trial:
    """A text at one setting of its face."""
    return Trial(task, layout_of(task, axes, squeeze, tracking), tracking)


def spoils(cut: Cut, key: Key, rules: Rules, size: float) -> bool:
    """Whether a unit is surely too thin or too tight at that size, mm an em."""
    gap = rules.drawn_gap - SAME
    return _thin(cut, key, rules, size) or (gap > 0 and (size <= 0 or cut.has_gap(key, gap / size)))


def _thin(cut: Cut, key: Key, rules: Rules, size: float) -> bool:
    stroke = rules.drawn_stroke - SAME
    return stroke > 0 and (size <= 0 or cut.has_stroke(key, stroke / size))


def _snapped(size: float, cap: float) -> float:
    """The size with its cap height rounded down to 0.01 mm: limits are held at what is made."""
    return math.floor(size * cap * 100 + 1e-6) / 100 / cap
