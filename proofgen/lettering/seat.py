"""Where a layout goes in a zone."""

from __future__ import annotations

from typing import Protocol

from proofgen.designs.design import Slot
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path
from proofgen.lettering.layout import Layout
from proofgen.lettering.zone import Hold, Zone

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

    def nearer(self, layout: Layout, size: float, gap: float) -> bool:
        """Whether letters are nearer to each other at that size, as they are set."""

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

    def nearer(self, layout: Layout, size: float, gap: float) -> bool:
        """Letters that are far apart along the line are not measured."""
        return layout.apart(gap / size) < gap / size

    def place(self, layout: Layout, size: float) -> Places | None:
        """Origins of the baselines; centred as far as the zone allows where x is free."""
        centred = self._slot.anchor - size * sum(layout.ink) / 2
        spot = self._zone.place(layout, self._hold(layout), size, centred)
        if spot is None:
            return None
        starts = [(x, number * self._slot.leading) for number, x in enumerate(layout.shifts)]
        origins = tuple(snapped(spot[0] + x * size, spot[1] + y * size) for x, y in starts)
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


def snapped(x: float, y: float) -> Point:
    """A place as finely as it is made."""
    return round(x, 3), round(y, 3)
