"""One setting of a text, tried in a zone."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from proofgen.designs.design import Slot
from proofgen.faces.face import Axes, Face
from proofgen.lettering.bench import Bench
from proofgen.lettering.ladder import Level, levels
from proofgen.lettering.layout import Layout
from proofgen.lettering.rules import Rules
from proofgen.lettering.zone import Hold

# Sizes that differ by less are one size.
SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Task:
    """A text to be set: its lines, where, by what rules, at which sizes (cap heights, mm)."""

    texts: tuple[str, ...]
    slot: Slot
    rules: Rules
    least: float
    wanted: float


@dataclass(frozen=True, slots=True)
class Trial:
    """A layout with the sizes (mm an em) that the zone allows, and that stroke and gap ask for.

    `cap` is the cap height of one em; `narrowed` the ink's width as a factor of the natural one.
    """

    layout: Layout
    tracking: float
    narrowed: float
    cap: float
    largest: float
    for_stroke: float
    for_gap: float

    @property
    def legible(self) -> bool:
        """Whether stroke and gap meet their limits at the largest size."""
        return max(self.for_stroke, self.for_gap) <= self.largest + SAME

    @property
    def cap_height(self) -> float:
        """The greatest cap height, mm."""
        return self.largest * self.cap

    def reaches(self, cap_height: float) -> bool:
        """Whether it is legible at that cap height or more."""
        return self.legible and self.cap_height >= cap_height - SAME


def hold(slot: Slot, layout: Layout) -> Hold:
    """What the slot fixes of the layout's place."""
    left, right = layout.ink
    starts = {"left": left, "centre": (left + right) / 2, "right": right}
    x = (slot.anchor, -starts[slot.align]) if slot.align != "free" else None
    y = (slot.baseline, 0.0) if slot.baseline is not None else None
    return Hold(x, y)


def trials(bench: Bench, face: Face, task: Task, cap: float) -> Iterator[Trial]:
    """The best trial of every level of the ladder, least narrowed first."""
    natural: float | None = None
    for level in levels(face, task.rules):
        trial = _level(bench, face, level, task, cap, natural)
        if trial is None:
            return
        natural = natural or _width(trial.layout)
        if trial.narrowed < task.slot.narrow - SAME:
            return
        yield trial


def _level(
    bench: Bench, face: Face, level: Level, task: Task, cap: float, natural: float | None
) -> Trial | None:
    """The lightest weight and tightest tracking that is legible, else the first that was tried."""
    first: Trial | None = None
    for axes in level.weights:
        for tracking in level.trackings:
            trial = _try(bench, face, axes, level.squeeze, tracking, task, cap, natural)
            if trial is None:
                return None
            first = first or trial
            if trial.legible:
                return trial
            if trial.for_stroke > trial.largest:
                break
    return first


def _try(
    bench: Bench,
    face: Face,
    axes: Axes,
    squeeze: float,
    tracking: float,
    task: Task,
    cap: float,
    natural: float | None,
) -> Trial | None:
    slot = task.slot
    cut = bench.cut(face, axes, squeeze)
    supports = partial(bench.supports, cut)
    layout = Layout(cut, supports, task.texts, tracking, slot.leading, slot.align)
    if layout.blank:
        return None
    largest = bench.zone(slot.zone).largest(layout, hold(slot, layout), task.wanted / cap)
    stroke, gap = layout.measure
    narrowed = min(_width(layout) / natural, 1.0) if natural else 1.0
    rules = task.rules
    return Trial(
        layout,
        tracking,
        round(narrowed, 4),
        cap,
        largest,
        _size_for(rules.drawn_stroke, stroke),
        _size_for(rules.drawn_gap, gap),
    )


def _size_for(limit: float, measure: float) -> float:
    return limit / measure if measure > 0 else math.inf


def _width(layout: Layout) -> float:
    left, right = layout.ink
    return right - left
