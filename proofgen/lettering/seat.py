"""Where a layout goes: straight in a zone, or along a line in a zone."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Protocol

import numpy as np

from proofgen.designs.design import Slot
from proofgen.faces.cut import Unit
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path, join
from proofgen.geometry.region import Region, apart
from proofgen.lettering.bracket import greatest
from proofgen.lettering.curve import Curve
from proofgen.lettering.layout import Layout
from proofgen.lettering.zone import Floats, Hold, Zone

# Where a line of text starts, as a share of the room that it leaves.
SHARES = {"left": 0.0, "centre": 0.5, "free": 0.5, "right": 1.0}


class Seat(Protocol):
    """Sizes are mm an em; measures are millimetres, infinite where there is nothing to measure."""

    def largest(self, layout: Layout, wanted: float, least: float = 0.0, /) -> float:
        """The greatest size up to `wanted` at which the layout stays in its zone; 0 for none.

        A size under `least` is of no use, and may be told as 0.
        """

    def gap(self, layout: Layout, size: float) -> float:
        """The narrowest gap of the layout at that size, as it is set."""

    def place(self, layout: Layout, size: float) -> tuple[tuple[Point, ...], tuple[Path, ...]]:
        """Origins (snapped to 0.001 mm) and outlines, one a line of text."""


class StraightSeat:
    """Upright text."""

    def __init__(self, slot: Slot, zone: Zone) -> None:
        self._slot = slot
        self._zone = zone

    def largest(self, layout: Layout, wanted: float, _least: float = 0.0, /) -> float:
        """The greatest size up to `wanted`."""
        return self._zone.largest(layout, self._hold(layout), wanted)

    def gap(self, layout: Layout, size: float) -> float:
        """It grows with the size."""
        return layout.gap * size

    def place(self, layout: Layout, size: float) -> tuple[tuple[Point, ...], tuple[Path, ...]]:
        """Origins of the baselines; centred as far as the zone allows where x is free."""
        centred = self._slot.anchor - size * sum(layout.ink) / 2
        spot = self._zone.place(layout, self._hold(layout), size, centred)
        if spot is None:
            raise AssertionError(f"{self._slot.field}: a size that fits has no place")
        starts = [(x, number * self._slot.leading) for number, x in enumerate(layout.shifts)]
        origins = tuple(_snapped(spot[0] + x * size, spot[1] + y * size) for x, y in starts)
        outlines = tuple(
            outline.moved(Affine.shift(-x, -y))
            .moved(Affine.scale(size))
            .moved(Affine.shift(*origin))
            for outline, (x, y), origin in zip(layout.outlines(), starts, origins, strict=True)
        )
        return origins, outlines

    def _hold(self, layout: Layout) -> Hold:
        """What the slot fixes of the layout's place."""
        slot = self._slot
        left, right = layout.ink
        starts = {"left": left, "centre": (left + right) / 2, "right": right}
        x = (slot.anchor, -starts[slot.align]) if slot.align != "free" else None
        y = (slot.baseline, 0.0) if slot.baseline is not None else None
        return Hold(x, y)


class CurvedSeat:
    """One line of text along a line: letters keep their shape, each turned about its middle.

    An origin is (how far along the line the ink starts, 0).
    """

    def __init__(self, slot: Slot, curve: Curve, corners: Floats) -> None:
        self._share = SHARES[slot.align]
        self._curve = curve
        self._region = Region(corners)

    def largest(self, layout: Layout, wanted: float, least: float = 0.0, /) -> float:
        """The greatest size up to `wanted`; the ink is never longer than the line."""
        left, right = layout.ink
        bound = min(wanted, self._curve.length / (right - left))
        return greatest(bound, lambda size: self._fits(layout, size), least)

    def gap(self, layout: Layout, size: float) -> float:
        """The gaps within letters, and those between neighbours as they are turned."""
        units = layout.lines[0]
        own = min((layout.cut.gap_within(unit.key) for unit in units), default=math.inf) * size
        turned = self._turned(layout, size)
        return min([own, *(apart(a, b) for a, b in pairwise(turned))])

    def place(self, layout: Layout, size: float) -> tuple[tuple[Point, ...], tuple[Path, ...]]:
        """The start along the line, and the bent outline."""
        start, _ = _snapped(self._start(layout, size), 0.0)
        return ((start, 0.0),), (join(self._outlines(layout, size, start)),)

    def _start(self, layout: Layout, size: float) -> float:
        left, right = layout.ink
        return (self._curve.length - (right - left) * size) * self._share

    def _seats(self, layout: Layout, size: float, start: float) -> list[tuple[Unit, Affine]]:
        found = []
        for unit in layout.lines[0]:
            middle = layout.middle(unit)
            along = start + (unit.x + layout.shifts[0] + middle) * size
            found.append((unit, self._curve.seat(along, middle, size)))
        return found

    def _outlines(self, layout: Layout, size: float, start: float) -> list[Path]:
        seats = self._seats(layout, size, start)
        return [layout.cut.outline(unit.key).moved(seat) for unit, seat in seats]

    def _fits(self, layout: Layout, size: float) -> bool:
        return self._region.holds(np.concatenate(self._turned(layout, size)))

    def _turned(self, layout: Layout, size: float) -> list[Floats]:
        """The flattened outline of every letter as it is set."""
        seats = self._seats(layout, size, self._start(layout, size))
        return [_turned(layout.cut.edges(unit.key), seat) for unit, seat in seats]


def _turned(edges: Floats, by: Affine) -> Floats:
    matrix = np.array([[by.a, by.b], [by.c, by.d]])
    turned = np.hstack([edges[:, :2] @ matrix, edges[:, 2:] @ matrix])
    return np.asarray(turned + np.array([by.e, by.f, by.e, by.f]))


def _snapped(x: float, y: float) -> Point:
    return round(x, 3), round(y, 3)
