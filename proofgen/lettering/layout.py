"""Text laid out in ems: lines of units, one below the other."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property
from itertools import pairwise

import numpy as np

from proofgen.faces.cut import Cut, Key, Unit
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, placed
from proofgen.lettering.zone import Floats

# Where the ink of a shorter line starts, as a share of the room beside it.
SHARES = {"left": 0.0, "centre": 0.5, "free": 0.5, "right": 1.0}


class Supports:
    """How far each unit reaches along fixed directions, kept from text to text."""

    def __init__(self, cut: Cut, directions: Floats) -> None:
        self._cut = cut
        self._directions = directions
        self._rows: dict[object, Floats] = {}

    def of(self, unit: Unit) -> Floats:
        """The reach (m,) of a unit about its own origin."""
        row = self._rows.get(unit.key)
        if row is None:
            row = (self._cut.points(unit.key) @ self._directions.T).max(axis=0)
            self._rows[unit.key] = row
        return row


SupportsOf = Callable[[Floats], Supports]


class Layout:
    """Lines of a text at one setting of a face, in ems; the first baseline is y = 0."""

    def __init__(
        self,
        cut: Cut,
        supports: SupportsOf,
        texts: tuple[str, ...],
        tracking: float,
        leading: float,
        align: str,
    ) -> None:
        self.cut = cut
        self.texts = texts
        self.lines = tuple(cut.units(text, tracking) for text in texts)
        self._supports = supports
        self._leading = leading
        self._align = align
        self._reaches: dict[Supports, Floats] = {}

    @property
    def blank(self) -> bool:
        """Whether nothing would be drawn."""
        return not any(self.lines)

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        """The units that are drawn, each once."""
        return tuple(dict.fromkeys(unit.key for line in self.lines for unit in line))

    @cached_property
    def shifts(self) -> tuple[float, ...]:
        """How far right each line's origin lies, so that their ink is aligned."""
        widest = self.ink[1]
        share = SHARES[self._align]
        return tuple((widest - (right - left)) * share - left for left, right in self._spans)

    @cached_property
    def ink(self) -> tuple[float, float]:
        """Where the ink begins and ends along x."""
        return 0.0, max(right - left for left, right in self._spans)

    def support(self, directions: Floats) -> Floats:
        """The furthest extent (m,) of the outline along each direction (m, 2)."""
        known = self._supports(directions)
        if known not in self._reaches:
            self._reaches[known] = self._reach(known, directions)
        return self._reaches[known]

    def _reach(self, known: Supports, directions: Floats) -> Floats:
        rows = [known.of(unit) for line in self.lines for unit in line]
        origins = np.array(
            [
                (unit.x + shift, number * self._leading)
                for number, (line, shift) in enumerate(zip(self.lines, self.shifts, strict=True))
                for unit in line
            ]
        )
        return np.asarray((np.array(rows) + origins @ directions.T).max(axis=0))

    def edges(self) -> Floats:
        """The flattened outline as edges (n, 4)."""
        return self._edges

    @cached_property
    def stroke(self) -> float:
        """The thinnest stroke in ems."""
        return min((self.cut.stroke(u.key) for line in self.lines for u in line), default=math.inf)

    @cached_property
    def inner_gap(self) -> float:
        """The narrowest gap within units, in ems."""
        within = (self.cut.gap_within(unit.key) for line in self.lines for unit in line)
        return min(within, default=math.inf)

    @cached_property
    def gap(self) -> float:
        """The narrowest gap in ems: within units, between neighbours and lines."""
        return self.apart(self.inner_gap)

    def apart(self, bound: float) -> float:
        """The narrowest gap between neighbours and lines in ems; the bound where none is less."""
        gap = bound
        for line in self.lines:
            for left, right in pairwise(line):
                if self.cut.room(left, right) < gap:
                    gap = min(gap, self.cut.gap(left, right))
        return min(gap, self._between_lines(gap))

    def middle(self, unit: Unit) -> float:
        """The middle of a unit's ink, from its origin."""
        left, _, right, _ = self.cut.box(unit.key)
        return (left + right) / 2

    def outline(self, number: int, by: Affine) -> Path:
        """The outline of a line, in ems about the layout's origin, under a map."""
        shift, y = self.shifts[number], number * self._leading
        return placed(
            (self.cut.outline(unit.key), Affine.shift(unit.x + shift, y).then(by))
            for unit in self.lines[number]
        )

    def outlines(self) -> tuple[Path, ...]:
        """One outline a line, in ems about the layout's origin."""
        return tuple(self.outline(number, Affine()) for number in range(len(self.lines)))

    @cached_property
    def _edges(self) -> Floats:
        parts = [
            self.cut.edges(unit.key) + np.array([unit.x + shift, number * self._leading] * 2)
            for number, (line, shift) in enumerate(zip(self.lines, self.shifts, strict=True))
            for unit in line
        ]
        return np.concatenate(parts)

    @cached_property
    def _spans(self) -> tuple[tuple[float, float], ...]:
        """Where the ink of each line begins and ends, from its own origin."""
        return tuple(self._span(line) for line in self.lines)

    def _span(self, line: tuple[Unit, ...]) -> tuple[float, float]:
        boxes = [(unit.x, self.cut.box(unit.key)) for unit in line]
        left = min((x + box[0] for x, box in boxes), default=0.0)
        return left, max((x + box[2] for x, box in boxes), default=0.0)

    def _between_lines(self, least: float) -> float:
        """The gap between lines where it is narrower than `least`."""
        if len(self.lines) < 2:
            return math.inf
        gap = math.inf
        box = self.cut.box
        for number, (above, below) in enumerate(pairwise(self.lines)):
            drop = max((box(unit.key)[3] for unit in above), default=0.0)
            rise = max((-box(unit.key)[1] for unit in below), default=0.0)
            if self._leading - drop - rise < least:
                gap = min(gap, self._distance(number))
        return gap

    def _distance(self, number: int) -> float:
        from proofgen.geometry.polygons import distance

        above, below = self.outlines()[number : number + 2]
        return distance(above, below, 1e-3) if above and below else math.inf
