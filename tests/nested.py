"""A second opinion about layouts, in numpy; it shares nothing with the package."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]


def placed_points(points: Sequence[tuple[float, float]], turn: float, x: float, y: float) -> Points:
    """Turned clockwise as seen (y down), then moved."""
    angle = math.radians(turn)
    return np.array(
        [
            (
                px * math.cos(angle) - py * math.sin(angle) + x,
                px * math.sin(angle) + py * math.cos(angle) + y,
            )
            for px, py in points
        ]
    )


def least_distance(one: Points, other: Points) -> float:
    """Between two filled polygons; 0 where they overlap."""
    if inside(one[0], other) or inside(other[0], one) or _cross(one, other):
        return 0.0
    return min(_to_segments(one, other), _to_segments(other, one))


def area(polygon: Points) -> float:
    x, y = polygon.T
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2


def inside(point: Points, polygon: Points) -> bool:
    """By how often a ray to the right meets the border."""
    a, b = polygon, np.roll(polygon, -1, axis=0)
    spans = (a[:, 1] > point[1]) != (b[:, 1] > point[1])
    with np.errstate(divide="ignore", invalid="ignore"):
        x = a[:, 0] + (point[1] - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return bool(np.sum(spans & (x > point[0])) % 2)


def faults(
    polygons: Sequence[Points],
    size: tuple[float, float],
    margin: float,
    gap: float,
    kept_out: Sequence[tuple[float, float, float, float]] = (),
    tolerance: float = 0.003,
) -> list[str]:
    """What is wrong on one board."""
    found = []
    for (i, one), (j, other) in combinations(enumerate(polygons), 2):
        if least_distance(one, other) < gap - tolerance:
            found.append(f"{i} and {j} are too near")
    for i, polygon in enumerate(polygons):
        low, high = polygon.min(axis=0), polygon.max(axis=0)
        if (low < margin - tolerance).any() or (high > np.array(size) - margin + tolerance).any():
            found.append(f"{i} is in the margin")
        for left, top, right, bottom in kept_out:
            rect = np.array([(left, top), (right, top), (right, bottom), (left, bottom)])
            if least_distance(polygon, rect) < gap - tolerance:
                found.append(f"{i} is at a kept out place")
    return found


def _cross(one: Points, other: Points) -> bool:
    a, b = one[:, None], np.roll(one, -1, axis=0)[:, None]
    c, d = other[None], np.roll(other, -1, axis=0)[None]
    return bool(
        ((_side(a, b, c) * _side(a, b, d) < 0) & (_side(c, d, a) * _side(c, d, b) < 0)).any()
    )


def _side(a: Points, b: Points, c: Points) -> Points:
    return np.asarray(
        (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1])
        - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])
    )


def _to_segments(points: Points, polygon: Points) -> float:
    """From the nearest of the points to the nearest of the sides."""
    start, along = polygon[None], (np.roll(polygon, -1, axis=0) - polygon)[None]
    to = points[:, None] - start
    length = np.maximum((along**2).sum(axis=2), 1e-12)
    share = np.clip((to * along).sum(axis=2) / length, 0, 1)
    return float(np.hypot(*np.moveaxis(to - share[..., None] * along, 2, 0)).min())
