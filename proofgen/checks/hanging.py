"""Findings about how a piece hangs: upright, and by a tab that holds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from proofgen.checks.wood import Wood
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.affine import Point
from proofgen.geometry.mass import centroid, tab_foot

TILT = 2.0  # degrees; common practice, no source
FOOT = 10.0  # mm of wood across the grain; from memory, no source
TAB = 0.4  # of the piece's smaller side: what a disc of that size does not reach is a tab


def tilt(woods: Sequence[Wood]) -> Iterator[Flag]:
    """How far the middle of the glued piece hangs from below its hole, as drawn."""
    hung = next((wood for wood in reversed(woods) if wood.layer.hole and wood.hole), None)
    if hung is None or hung.layer.hole is None:
        return
    x, y = hung.layer.hole
    middle = _middle(woods)
    angle = math.degrees(math.atan2(abs(middle[0] - x), middle[1] - y))
    if angle > TILT:
        cure = f"Move the hole to x = {middle[0]:.1f} mm, the y as it is, in every layer."
        if middle[1] <= y:
            cure = "Move the hole above the middle of the piece."
        yield Flag(kinds.HANGS_TILTED, hung.where("hole"), angle, TILT, "", cure)


def _middle(woods: Sequence[Wood]) -> Point:
    """The centroid of all layers together, weighted by what they weigh."""
    weights = [(wood.thickness, *centroid(wood.outline, wood.openings)) for wood in woods]
    whole = sum(thick * area for thick, area, _ in weights)
    x, y = (sum(t * a * middle[i] for t, a, middle in weights) / whole for i in (0, 1))
    return x, y


def grain(wood: Wood) -> Iterator[Flag]:
    """A tab that stands across the grain, which runs along x, needs a wide foot."""
    if wood.layer.hole is None or not wood.hole:
        return
    box = wood.outline.bounds()
    tab = tab_foot(wood.outline, wood.layer.hole, TAB * min(box.width, box.height))
    if tab is None:
        return
    width, (dx, dy) = tab
    if abs(dy) > abs(dx) and width < FOOT:
        yield Flag(kinds.GRAIN_SHORT, wood.where("hole"), width, FOOT)
