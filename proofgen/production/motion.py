"""Seconds that moves take: trapezoids of speed (Lynch & Park, Modern Robotics, ch. 9, from memory).

Distances in mm, speeds in mm/s, acceleration in mm/s².
"""

from __future__ import annotations

import math

import numpy as np

from proofgen.geometry.path import Points

# mm; curves are driven as chords this close to them.
CHORD = 0.02


def rapid(distance: float, speed: float, acceleration: float) -> float:
    """From rest to rest: D/v + v/a, or 2 sqrt(D/a) where the speed is never reached."""
    if distance >= speed**2 / acceleration:
        return distance / speed + speed / acceleration
    return 2 * math.sqrt(distance / acceleration)


def corner_speed(turn: float, deviation: float, acceleration: float) -> float:
    """How fast a corner may be taken that is rounded by `deviation` mm at most.

    `turn` is the angle between the two lines in degrees, 180 for straight on: the corner is driven
    as an arc of radius R = deviation s / (1 - s), s = sin(turn / 2), at sqrt(a R).
    """
    s = math.sin(math.radians(turn) / 2)
    return math.sqrt(acceleration * deviation * s / (1 - s)) if s < 1 else math.inf


def row(span: float, overscan: float, speed: float, acceleration: float) -> float:
    """One row of a raster from rest to rest: at full speed over the ink, turning outside of it.

    The machine runs on by `overscan`, and by no less than it needs to stop: v² / 2a.
    """
    stop = speed**2 / (2 * acceleration)
    return 2 * speed / acceleration + (span + 2 * (max(overscan, stop) - stop)) / speed


def follow(run: Points, speed: float, deviation: float, acceleration: float) -> float:
    """Along a polyline (n, 2) from rest to rest, slowing down for corners."""
    steps = np.diff(run, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    steps, lengths = steps[lengths > 0], lengths[lengths > 0]
    if not len(lengths):
        return 0.0
    limits = _limits(steps / lengths[:, None], speed, deviation, acceleration)
    gains = (2 * acceleration * lengths).tolist()
    for i, gain in enumerate(gains):
        limits[i + 1] = min(limits[i + 1], math.sqrt(limits[i] ** 2 + gain))
    for i, gain in reversed(list(enumerate(gains))):
        limits[i] = min(limits[i], math.sqrt(limits[i + 1] ** 2 + gain))
    return _seconds(lengths, np.array(limits), speed, acceleration)


def _limits(directions: Points, speed: float, deviation: float, acceleration: float) -> list[float]:
    """The most speed at every corner, and none at the two ends."""
    before, after = directions[:-1], directions[1:]
    # sin of half the inner angle is cos of half the turn: sqrt((1 + cos turn) / 2).
    s = np.sqrt(np.clip((1 + (before * after).sum(axis=1)) / 2, 0, 1 - 1e-12))
    corners = np.sqrt(acceleration * deviation * s / (1 - s))
    return [0.0, *np.minimum(corners, speed).tolist(), 0.0]


def _seconds(lengths: Points, speeds: Points, speed: float, acceleration: float) -> float:
    """From speed to speed over each length: up to the top speed or a peak, and down."""
    first, last = speeds[:-1], speeds[1:]
    squares = first**2 + last**2
    peak = np.minimum(speed, np.sqrt(acceleration * lengths + squares / 2))
    cruise = np.maximum(0, lengths - (2 * peak**2 - squares) / (2 * acceleration)) / peak
    return float(((2 * peak - first - last) / acceleration + cruise).sum())
