"""What is prepared once and used for every text: faces at their settings, reaches, zones."""

from __future__ import annotations

from functools import lru_cache, partial

import numpy as np

from proofgen.designs.design import Slot
from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.faces.cut import Cut
from proofgen.faces.face import Axes, Face
from proofgen.geometry.affine import Point
from proofgen.lettering.bent import CurvedSeat
from proofgen.lettering.border import AnyBorder
from proofgen.lettering.convex import ConvexZone
from proofgen.lettering.curve import Curve
from proofgen.lettering.layout import Layout, Supports
from proofgen.lettering.monotone import monotone
from proofgen.lettering.seat import Seat, StraightSeat
from proofgen.lettering.sliding import SlidingZone
from proofgen.lettering.suspects import Suspects
from proofgen.lettering.zone import KEEP_INSIDE, Floats, Zone


class Bench:
    """Faces and everything that is kept between texts; for one process."""

    def __init__(self, faces: Faces, cache: MeasureCache) -> None:
        self.faces = faces
        self.cache = cache
        self.suspects = Suspects()
        # Growth, family and fit ask for the same layouts one after the other.
        self.layout = lru_cache(maxsize=64)(self._layout)
        self._cuts: dict[tuple[str, Axes, float], Cut] = {}
        self._supports: dict[tuple[int, int], Supports] = {}
        self._seats: dict[object, Seat] = {}
        self._zones: dict[tuple[tuple[Point, ...], float], Zone] = {}

    def cut(self, face: Face, axes: Axes, squeeze: float) -> Cut:
        """The face at that setting."""
        at = (face.id, axes, squeeze)
        if at not in self._cuts:
            self._cuts[at] = Cut(face, axes, squeeze, self.cache)
        return self._cuts[at]

    def _layout(
        self,
        face: Face,
        axes: Axes,
        squeeze: float,
        texts: tuple[str, ...],
        tracking: float,
        leading: float,
        align: str,
    ) -> Layout:
        """The texts laid out at that setting, in ems."""
        cut = self.cut(face, axes, squeeze)
        return Layout(cut, partial(self.supports, cut), texts, tracking, leading, align)

    def supports(self, cut: Cut, directions: Floats) -> Supports:
        """The reaches of that setting's units; `directions` is one of a zone's own arrays."""
        at = (id(cut), id(directions))
        if at not in self._supports:
            self._supports[at] = Supports(cut, directions)
        return self._supports[at]

    def seat(self, slot: Slot) -> Seat:
        """Where the slot's text goes; KEEP_INSIDE is taken off its zone all round."""
        place = (slot.align, slot.anchor, slot.baseline, slot.leading)
        at = (slot.zone, slot.path, slot.bolder, place)
        if at not in self._seats:
            self._seats[at] = self._new_seat(slot)
        return self._seats[at]

    def _new_seat(self, slot: Slot) -> Seat:
        if slot.path:
            return CurvedSeat(slot, Curve(slot.path), _inner(slot.zone, slot.bolder))
        return StraightSeat(slot, self.zone(slot.zone, slot.bolder))

    def zone(self, corners: tuple[Point, ...], border: float = 0.0) -> Zone:
        """The zone with KEEP_INSIDE and the letters' border taken off all round."""
        at = (corners, border)
        if at not in self._zones:
            self._zones[at] = _prepared(corners, border)
        return self._zones[at]


def _inner(corners: tuple[Point, ...], border: float) -> Floats:
    from proofgen.geometry.corners import inset

    return inset(np.array(corners, dtype=float), KEEP_INSIDE + border)


def _prepared(corners: tuple[Point, ...], border: float) -> Zone:
    from proofgen.geometry.corners import hull

    inner = _inner(corners, border)
    around = hull(inner)
    if len(around) == len(inner):
        return ConvexZone(around)
    return SlidingZone(monotone(inner) or AnyBorder(inner), around)
