"""Where a layout goes: straight in a zone, or along a line in a zone."""

from __future__ import annotations

from itertools import pairwise
from typing import Protocol

import numpy as np

from proofgen.designs.design import Slot
from proofgen.faces.cut import Unit
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path, placed
from proofgen.geometry.rect import Rect
from proofgen.geometry.region import Region, least_gap
from proofgen.lettering.bracket import greatest
from proofgen.lettering.curve import Curve
from proofgen.lettering.layout import Layout
from proofgen.lettering.zone import Floats, Hold, Zone

# Where a line of text starts, as a share of the room that it leaves.
SHARES = {"left": 0.0, "centre": 0.5, "free": 0.5, "right": 1.0}


# Origins (snapped to 0.001 mm) and outlines, one a line of text.
Places = tuple[tuple[Point, ...], tuple[Path, ...]]


class Seat(Protocol):
    """Sizes are mm an em; measures are millimetres, infinite where there is nothing to measure."""

    def bound(self, layout: Layout, wanted: float, /) -> float:
        """A size that the greatest one does not exceed, found without moving an outline."""

    def largest(self, layout: Layout, wanted: float, /) -> float:
        """The greatest size up to `wanted` at which the layout stays in its zone; 0 for none."""

    def apart(self, layout: Layout, size: float, bound: float) -> float:
        """The narrowest gap between letters at that size, as they are set, if under the bound."""

    def place(self, layout: Layout, size: float) -> Places | None:
        """Where it goes at that size; None where no place is found, though one was at a size
        that is greater by a rounding or less.
        """


class StraightSeat:
    """Upright text."""

    def __init__(self, slot: Slot, zone: Zone) -> None:
        self._slot = slot
        self._zone = zone

    def bound(self, layout: Layout, wanted: float, /) -> float:
        """That of the zone's convex hull."""
        return self._zone.bound(layout, self._hold(layout), wanted)

    def largest(self, layout: Layout, wanted: float, /) -> float:
        """The greatest size up to `wanted`."""
        return self._zone.largest(layout, self._hold(layout), wanted)

    def apart(self, layout: Layout, size: float, bound: float) -> float:
        """It grows with the size."""
        return layout.apart(bound / size) * size

    def place(self, layout: Layout, size: float) -> Places | None:
        """Origins of the baselines; centred as far as the zone allows where x is free."""
        centred = self._slot.anchor - size * sum(layout.ink) / 2
        spot = self._zone.place(layout, self._hold(layout), size, centred)
        if spot is None:
            return None
        starts = [(x, number * self._slot.leading) for number, x in enumerate(layout.shifts)]
        origins = tuple(_snapped(spot[0] + x * size, spot[1] + y * size) for x, y in starts)
        outlines = tuple(
            layout.outline(
                number, Affine.shift(-x, -y).then(Affine.scale(size)).then(Affine.shift(*origin))
            )
            for number, ((x, y), origin) in enumerate(zip(starts, origins, strict=True))
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

    def bound(self, layout: Layout, wanted: float, /) -> float:
        """The ink is never longer than the line."""
        left, right = layout.ink
        return min(wanted, self._curve.length / (right - left))

    def largest(self, layout: Layout, wanted: float, /) -> float:
        """The greatest size up to `wanted`."""
        bound = self.bound(layout, wanted)
        return greatest(bound, lambda size: self._fits(layout, size))

    def apart(self, layout: Layout, size: float, bound: float) -> float:
        """Between neighbours as they are turned, those whose hulls come so near."""
        cut, seats = layout.cut, self._seats(layout, size, self._start(layout, size))
        hulls = (_turned(cut.points(unit.key), seat) for unit, seat in seats)
        boxes = [Rect(*hull.min(axis=0).tolist(), *hull.max(axis=0).tolist()) for hull in hulls]
        near = [i for i, (a, b) in enumerate(pairwise(boxes)) if a.apart(b) < bound]
        turned = {
            i: _turned_edges(cut.edges(seats[i][0].key), seats[i][1])
            for i in {*near, *(i + 1 for i in near)}
        }
        return least_gap([(turned[i], turned[i + 1]) for i in near], bound)

    def place(self, layout: Layout, size: float) -> Places:
        """The start along the line, and the bent outline."""
        start, _ = _snapped(self._start(layout, size), 0.0)
        return ((start, 0.0),), (self._outline(layout, size, start),)

    def _start(self, layout: Layout, size: float) -> float:
        left, right = layout.ink
        return (self._curve.length - (right - left) * size) * self._share

    def _seats(self, layout: Layout, size: float, start: float) -> list[tuple[Unit, Affine]]:
        units = layout.lines[0]
        middles = [layout.middle(unit) for unit in units]
        places = [
            (start + (unit.x + layout.shifts[0] + middle) * size, middle)
            for unit, middle in zip(units, middles, strict=True)
        ]
        return list(zip(units, self._curve.seats(places, size), strict=True))

    def _outline(self, layout: Layout, size: float, start: float) -> Path:
        seats = self._seats(layout, size, start)
        return placed((layout.cut.outline(unit.key), seat) for unit, seat in seats)

    def _fits(self, layout: Layout, size: float) -> bool:
        seats = self._seats(layout, size, self._start(layout, size))
        cut = layout.cut
        held = self._region.holds_hulls([_turned(cut.points(u.key), seat) for u, seat in seats])
        if held is not None:
            return held
        outlines = [_turned_edges(cut.edges(unit.key), seat) for unit, seat in seats]
        return self._region.holds(np.concatenate(outlines))


def _turned_edges(edges: Floats, by: Affine) -> Floats:
    return _turned(edges.reshape(-1, 2), by).reshape(-1, 4)


def _turned(points: Floats, by: Affine) -> Floats:
    return np.asarray(points @ np.array([[by.a, by.b], [by.c, by.d]]) + np.array([by.e, by.f]))


def _snapped(x: float, y: float) -> Point:
    return round(x, 3), round(y, 3)
