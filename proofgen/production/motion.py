"""Seconds that moves take: trapezoids of speed (Lynch & Park, Modern Robotics, ch. 9, from memory).

Distances in mm, speeds in mm/s, acceleration in mm/s².
"""

from __future__ import annotations

import math
from collections.abc import Sequence

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
    return float(_arc_speed(np.array([s]), deviation, acceleration)[0]) if s < 1 else math.inf


def _arc_speed(s: Points, deviation: float, acceleration: float) -> Points:
    """How fast the arcs of corners are driven, by the sines (n,) of half their inner angles."""
    return np.asarray(np.sqrt(acceleration * deviation * s / (1 - s)))


def row(span: float, overscan: float, speed: float, acceleration: float) -> float:
    """One row of a raster from rest to rest: at full speed over the ink, turning outside of it.

    The machine runs on by `overscan`, and by no less than it needs to stop: v² / 2a.
    """
    stop = speed**2 / (2 * acceleration)
    return 2 * speed / acceleration + (span + 2 * (max(overscan, stop) - stop)) / speed


def follow(runs: Sequence[Points], speed: float, deviation: float, acceleration: float) -> Points:
    """Along each of the polylines (n, 2) from rest to rest, slowing down for corners: seconds (m).

    All are reckoned at once, one after the other with a stop between them.
    """
    owner = np.repeat(np.arange(len(runs)), [len(run) - 1 for run in runs])
    steps = np.concatenate([np.empty((0, 2)), *(np.diff(run, axis=0) for run in runs)])
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    moving = lengths > 0
    owner, steps, lengths = owner[moving], steps[moving], lengths[moving]
    if not len(lengths):
        return np.zeros(len(runs))
    limits = np.zeros(len(lengths) + 1)
    corners = _corners(steps / lengths[:, None], speed, deviation, acceleration)
    limits[1:-1] = np.where(owner[1:] == owner[:-1], corners, 0.0)
    # v² rises by 2 a a mm at most, and falls so: the least of all limits, each that far away.
    along = 2 * acceleration * np.concatenate([[0.0], np.cumsum(lengths)])
    up = np.minimum.accumulate(limits**2 - along) + along
    down = np.minimum.accumulate((limits**2 + along)[::-1])[::-1] - along
    speeds = np.sqrt(np.maximum(np.minimum(up, down), 0.0))
    seconds = _seconds(lengths, speeds, speed, acceleration)
    return np.asarray(np.bincount(owner, seconds, len(runs)), dtype=float)


def _corners(directions: Points, speed: float, deviation: float, acceleration: float) -> Points:
    """The most speed at every corner."""
    before, after = directions[:-1], directions[1:]
    # sin of half the inner angle is cos of half the turn: sqrt((1 + cos turn) / 2).
    s = np.sqrt(np.clip((1 + (before * after).sum(axis=1)) / 2, 0, 1 - 1e-12))
    return np.minimum(_arc_speed(s, deviation, acceleration), speed)


def _seconds(lengths: Points, speeds: Points, speed: float, acceleration: float) -> Points:
    """From speed to speed over each length: up to the top speed or a peak, and down."""
    first, last = speeds[:-1], speeds[1:]
    squares = first**2 + last**2
    peak = np.minimum(speed, np.sqrt(acceleration * lengths + squares / 2))
    cruise = np.maximum(0, lengths - (2 * peak**2 - squares) / (2 * acceleration)) / peak
    return np.asarray((2 * peak - first - last) / acceleration + cruise)
