"""What is prepared once and used for every text: faces at their settings, reaches, zones."""

from __future__ import annotations

import numpy as np

from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.faces.cut import Cut
from proofgen.faces.face import Axes, Face
from proofgen.geometry.affine import Point
from proofgen.lettering.border import AnyBorder
from proofgen.lettering.convex import ConvexZone
from proofgen.lettering.layout import Supports
from proofgen.lettering.monotone import monotone
from proofgen.lettering.sliding import SlidingZone
from proofgen.lettering.zone import KEEP_INSIDE, Floats, Zone


class Bench:
    """Faces and everything that is kept between texts; for one process."""

    def __init__(self, faces: Faces, cache: MeasureCache) -> None:
        self.faces = faces
        self.cache = cache
        self._cuts: dict[tuple[str, Axes, float], Cut] = {}
        self._supports: dict[tuple[int, int], Supports] = {}
        self._zones: dict[tuple[Point, ...], Zone] = {}

    def cut(self, face: Face, axes: Axes, squeeze: float) -> Cut:
        """The face at that setting."""
        at = (face.id, axes, squeeze)
        if at not in self._cuts:
            self._cuts[at] = Cut(face, axes, squeeze, self.cache)
        return self._cuts[at]

    def supports(self, cut: Cut, directions: Floats) -> Supports:
        """The reaches of that setting's units; `directions` is one of a zone's own arrays."""
        at = (id(cut), id(directions))
        if at not in self._supports:
            self._supports[at] = Supports(cut, directions)
        return self._supports[at]

    def zone(self, corners: tuple[Point, ...]) -> Zone:
        """The zone with KEEP_INSIDE taken off all round."""
        if corners not in self._zones:
            self._zones[corners] = _prepared(corners)
        return self._zones[corners]


def _prepared(corners: tuple[Point, ...]) -> Zone:
    from proofgen.geometry.corners import hull, inset

    inner = inset(np.array(corners, dtype=float), KEEP_INSIDE)
    around = hull(inner)
    if len(around) == len(inner):
        return ConvexZone(around)
    return SlidingZone(monotone(inner) or AnyBorder(inner), around)
