"""The levels of a face that a text is tried at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from heapq import heapify, heappop, heappush

from proofgen.faces.face import Axes
from proofgen.lettering.ladder import Level, levels
from proofgen.lettering.layout import Layout
from proofgen.lettering.trial import SAME, Task, Trial, layout_of, spoils, tried


@dataclass(frozen=True)
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
        return self.bound >= least and self.first.cap_height >= least

    @property
    def bound(self) -> float:
        """A cap height, mm, that the first trial does not exceed; found in no time."""
        return self.first.bound * self.first.task.cap

    @cached_property
    def best(self) -> Trial:
        """The lightest weight and tightest tracking that is legible, else the first trial."""
        task, level, first = self.first.task, self.level, self.first
        at_first = level.weights[0], level.trackings[0]
        if not self._ruled_out(at_first[0]) and first.legible:
            return first
        for axes in level.weights:
            if self._ruled_out(axes):
                continue
            loosest = layout_of(task, axes, level.squeeze, level.trackings[-1])
            for tracking in level.trackings:
                known = (axes, tracking) == at_first
                trial = first if known else tried(task, axes, level.squeeze, tracking)
                # Set looser it is smaller yet.
                if self._spoilt(loosest, min(first.largest, trial.bound)):
                    break
                if trial.legible:
                    return trial
                if trial.surely_thin or self._spoilt(loosest, trial.largest):
                    break
        return first

    def _ruled_out(self, axes: Axes) -> bool:
        """Whether a letter that spoilt other settings of the face spoils this one."""
        task = self.first.task
        cut = task.bench.cut(task.face, axes, self.level.squeeze)
        suspects = task.bench.suspects.among(task.face, self.first.layout.keys)
        return any(spoils(cut, key, task.rules, self.first.largest) for key in suspects)

    def _spoilt(self, loosest: Layout, size: float) -> bool:
        """Whether it is illegible at that size, mm an em, however loosely it is set: strokes are
        surely too thin, or gaps within letters too narrow.
        """
        task = self.first.task
        keys = (key for key in loosest.keys if spoils(loosest.cut, key, task.rules, size))
        found = next(keys, None)
        if found:
            task.bench.suspects.note(task.face, found)
        return found is not None


def rungs(task: Task) -> Iterator[Rung]:
    """The levels of the face, least narrowed first, down to what the slot allows.

    A text that leaves no mark has none.
    """
    natural: float | None = None
    for level in levels(task.face, task.rules):
        trial = tried(task, level.weights[0], level.squeeze, level.trackings[0])
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
    waiting = [(-round(r.bound, 2), False, place) for place, r in enumerate(seen)]
    heapify(waiting)
    while waiting:
        _, known, place = heappop(waiting)
        if known:
            yield seen[place]
        else:
            heappush(waiting, (-round(seen[place].first.cap_height, 2), True, place))
