"""Bézier curves as arrays of control points: places on them, chords, and how far they reach."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point

Points = NDArray[np.float64]
Box = tuple[float, float, float, float]


def points_on(control: Points, t: Points) -> Points:
    """One Bézier curve (degree + 1, 2), or one each (n, degree + 1, 2), at parameters t (n, 1)."""
    return blended([control[..., i, :] for i in range(control.shape[-2])], t)


def blended(p: Sequence[Points] | Points, t: Points) -> Points:
    """The control points of a curve, first to last, as they count at parameters t."""
    u = 1 - t
    if len(p) == 2:
        return np.asarray(u * p[0] + t * p[1])
    if len(p) == 3:
        return np.asarray(u * u * p[0] + 2 * u * t * p[1] + t * t * p[2])
    # Products, since a power takes numpy ten times as long.
    return np.asarray(
        u * u * u * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2] + t * t * t * p[3]
    )


def chords(control: Points, tolerance: float) -> NDArray[np.int64]:
    """How many each of n curves (degree + 1, 2, n) needs: second differences bound the error."""
    degree = len(control) - 1
    second = control[:-2] - 2 * control[1:-1] + control[2:]
    bend = np.hypot(second[:, 0], second[:, 1]).max(axis=0) * degree * (degree - 1)
    return np.asarray(np.maximum(1, np.ceil(np.sqrt(bend / (8 * tolerance)))), dtype=np.int64)


def stretched(box: Box, control: Sequence[Point]) -> Box:
    """The box (left, top, right, bottom) made to hold the points where a curve turns."""
    left, top, right, bottom = box
    if all(left <= x <= right and top <= y <= bottom for x, y in control):
        return box
    turns = [t for axis in zip(*control, strict=True) for t in _turns(axis)]
    for x, y in points_on(np.array(control), np.array(turns)[:, None]).tolist():
        left, top, right, bottom = min(left, x), min(top, y), max(right, x), max(bottom, y)
    return left, top, right, bottom


def _turns(values: tuple[float, ...]) -> list[float]:
    """Parameters in (0, 1) where one coordinate's derivative is zero."""
    d = [b - a for a, b in pairwise(values)]
    if len(d) == 2:
        roots = _roots(0.0, d[1] - d[0], d[0])
    else:
        roots = _roots(d[0] - 2 * d[1] + d[2], 2 * (d[1] - d[0]), d[0])
    return [t for t in roots if 0 < t < 1]


def _roots(a: float, b: float, c: float) -> list[float]:
    """Real roots of a t^2 + b t + c, in the form that keeps its digits."""
    if abs(a) <= 1e-12 * (abs(b) + abs(c)):
        return [-c / b] if b else []
    inside = b * b - 4 * a * c
    if inside < 0:
        return []
    q = -(b + math.copysign(math.sqrt(inside), b)) / 2
    return [q / a, c / q] if q else [0.0]
