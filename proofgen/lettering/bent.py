"""One line of text along a line: letters keep their shape, each turned about its middle."""

from __future__ import annotations

from functools import cached_property, lru_cache

import numpy as np

from proofgen.designs.design import Slot
from proofgen.geometry.affine import Affine
from proofgen.geometry.neighbours import Numbers, Row
from proofgen.geometry.outline import mapped
from proofgen.geometry.path import placed
from proofgen.geometry.region import Region
from proofgen.lettering.bracket import greatest
from proofgen.lettering.curve import Curve
from proofgen.lettering.layout import SHARES, Layout
from proofgen.lettering.seat import Places, snapped
from proofgen.lettering.zone import Floats


class CurvedSeat:
    """An origin is (how far along the line the ink starts, 0)."""

    def __init__(self, slot: Slot, curve: Curve, corners: Floats) -> None:
        self._share = SHARES[slot.align]
        self._curve = curve
        self._region = Region(corners)
        # Gaps are looked at when a setting is chosen, and told of afterwards.
        self._row = lru_cache(maxsize=4)(self._new_row)

    def bound(self, layout: Layout, wanted: float, /) -> float:
        """The ink is never longer than the line."""
        left, right = layout.ink
        return min(wanted, self._curve.length / (right - left))

    def largest(self, layout: Layout, wanted: float, /) -> float:
        """The greatest size up to `wanted`."""
        bound = self.bound(layout, wanted)
        return greatest(bound, lambda size: self._fits(layout, size))

    def apart(self, layout: Layout, size: float, bound: float) -> float:
        """Between neighbours as they are turned."""
        return min(bound, self._row(layout, size).gap)

    def nearer(self, layout: Layout, size: float, gap: float) -> bool:
        """Mostly some corners of letters tell that they are."""
        row = self._row(layout, size)
        return row.gap_at_most < gap or row.gap < gap

    def place(self, layout: Layout, size: float) -> Places:
        """The start along the line, and the bent outline."""
        start, _ = snapped(self._start(layout, size), 0.0)
        seats = self._seats(_letters(layout), size, start).tolist()
        pairs = zip(layout.lines[0], seats, strict=True)
        letters = ((layout.cut.outline(unit.key), Affine(*seat)) for unit, seat in pairs)
        return ((start, 0.0),), (placed(letters),)

    def _new_row(self, layout: Layout, size: float) -> Row:
        letters = _letters(layout)
        seats = self._seats(letters, size, self._start(layout, size))
        edges = _turned_edges(letters.edges, seats, letters.edge_counts)
        return Row(edges, letters.edge_counts)

    def _start(self, layout: Layout, size: float) -> float:
        left, right = layout.ink
        return (self._curve.length - (right - left) * size) * self._share

    def _seats(self, letters: _Letters, size: float, start: float) -> Floats:
        return self._curve.seats(start + letters.along * size, letters.middles, size)

    def _fits(self, layout: Layout, size: float) -> bool:
        letters = _letters(layout)
        seats = self._seats(letters, size, self._start(layout, size))
        hulls = _turned(letters.hulls, seats, letters.hull_counts)
        held = self._region.holds_hulls(hulls, letters.hull_counts)
        if held is not None:
            return held
        return self._region.holds(_turned_edges(letters.edges, seats, letters.edge_counts))


class _Letters:
    """The units of a line in ems: where the middle of each lies along it and from its own origin,
    and all hulls and edges about their own origins, which follow each other.
    """

    def __init__(self, layout: Layout) -> None:
        units = layout.lines[0]
        middles = [layout.middle(unit) for unit in units]
        starts = [unit.x + layout.shifts[0] for unit in units]
        self.middles = np.array(middles)
        self.along = np.array([x + middle for x, middle in zip(starts, middles, strict=True)])
        hulls = [layout.cut.points(unit.key) for unit in units]
        self.hulls, self.hull_counts = np.concatenate(hulls), _counts(hulls)
        self._layout = layout

    @cached_property
    def edges(self) -> Floats:
        """All flattened outlines (n, 4)."""
        return np.concatenate(self._parts)

    @cached_property
    def edge_counts(self) -> Numbers:
        """How many edges each unit has."""
        return _counts(self._parts)

    @cached_property
    def _parts(self) -> list[Floats]:
        return [self._layout.cut.edges(unit.key) for unit in self._layout.lines[0]]


# A size is looked for at many, and then the gaps are measured.
_letters = lru_cache(maxsize=4)(_Letters)


def _counts(parts: list[Floats]) -> Numbers:
    return np.array([len(part) for part in parts], dtype=np.intp)


def _turned_edges(edges: Floats, seats: Floats, counts: Numbers) -> Floats:
    return _turned(edges.reshape(-1, 2), seats, 2 * counts).reshape(-1, 4)


def _turned(points: Floats, seats: Floats, counts: Numbers) -> Floats:
    """Points (n, 2) that follow each other under one map (6,) for so many of them each."""
    return mapped(points, *np.repeat(seats.T, counts, axis=1))
