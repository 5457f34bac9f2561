"""Areas made ready as lines, for machines that follow lines and fill nothing themselves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

import numpy as np

from proofgen.geometry.affine import Affine
from proofgen.geometry.hatching import contour_lines, scan_lines, uncovered
from proofgen.geometry.path import Path, Points
from proofgen.geometry.rows import rows
from proofgen.production.route import short_way
from proofgen.production.steps import Plan

MANNERS: dict[str, Callable[[Path, float], Path]] = {
    "scan": scan_lines,
    "contour": contour_lines,
}


def hatched(plan: Plan, manner: str, pitch: float) -> Plan:
    """The plan with every area as lines, "scan" or "contour", `pitch` mm apart.

    Every point of an area then lies within half the pitch of a line, corners aside; that is
    checked, and RuntimeError says where it failed. ValueError for an unknown manner.
    """
    if manner not in MANNERS:
        raise ValueError(f"unknown manner {manner!r}")
    steps = tuple(
        replace(step, path=_lines(step.path, manner, pitch))
        if step.operation == "engrave-area"
        else step
        for step in plan.steps
    )
    return replace(plan, steps=tuple(step for step in steps if step.path), hatch=manner)


def _lines(path: Path, manner: str, pitch: float) -> Path:
    """The lines of an area in a short order, made once for an area that lies in many places."""
    start = path.contours[0].start
    lines = _made(path.moved(Affine.shift(-start[0], -start[1])), manner, pitch)
    return lines.moved(Affine.shift(*start))


@lru_cache(maxsize=256)
def _made(path: Path, manner: str, pitch: float) -> Path:
    lines = MANNERS[manner](path, pitch)
    left = uncovered(path, lines, pitch)
    if left:
        raise RuntimeError(f"the hatch leaves out {left.bounds()}")
    order = short_way(_ends(lines), (0.0, 0.0))
    runs = (lines.contours[i].reversed() if back else lines.contours[i] for i, back in order)
    return Path(tuple(runs))


def _ends(lines: Path) -> Points:
    """Where each line begins and ends: an array (n, 2, 2)."""
    at = rows(lines.kinds)
    last = np.where(at.closed, at.starts, at.last)
    return np.stack([lines.points[at.starts], lines.points[last]], axis=1)
