"""Outlines as one array of points: which rows are whose, polylines along them, their box.

The points (n, 2) are, of each contour, its start and then of each segment the control points and
the end.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.curves import Box, Points, blended, chords, stretched

# Of a contour the degrees of its segments, one byte each, and whether it is closed.
Kind = tuple[bytes, bool]
Numbers = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Rows:
    """Where in the array the points of contours are: rows of starts and last points (contours),
    of the ends of segments and the contours these belong to (segments).

    `curves` are, for each degree above one, the segments (m,) and their rows (degree + 1, m).
    """

    starts: Numbers
    last: Numbers
    closed: NDArray[np.bool_]
    ends: Numbers
    owners: Numbers
    curves: tuple[tuple[Numbers, Numbers], ...]


# Outlines are moved more often than drawn, and letters come again.
@lru_cache(maxsize=1024)
def rows(kinds: tuple[Kind, ...]) -> Rows:
    """The rows of contours of these kinds."""
    degrees = np.frombuffer(b"".join([each for each, _ in kinds]), np.uint8).astype(np.int64)
    owners = np.repeat(np.arange(len(kinds)), [len(each) for each, _ in kinds])
    ends = np.cumsum(degrees) + owners
    sizes = 1 + np.bincount(owners, degrees, len(kinds)).astype(np.int64)
    last = np.cumsum(sizes) - 1
    curves = []
    for degree in set(degrees.tolist()) - {1}:
        own = np.flatnonzero(degrees == degree)
        curves.append((own, ends[own] + np.arange(-degree, 1)[:, None]))
    closed = np.array([closed for _, closed in kinds], dtype=bool)
    return Rows(last - sizes + 1, last, closed, ends, owners, tuple(curves))


def flattened(points: Points, kinds: tuple[Kind, ...], tolerance: float) -> tuple[Points, ...]:
    """Of each contour its start and points on its segments, at uniform steps.

    Curves of one degree are computed together: calling numpy for each costs more than the points.
    """
    if not kinds:
        return ()
    at = rows(kinds)
    steps = np.ones(len(at.ends), dtype=np.int64)
    # Coordinates apart, so that numpy goes along many curves at a time.
    controls = [np.stack([points[:, 0][of], points[:, 1][of]], axis=1) for _, of in at.curves]
    for (own, _), control in zip(at.curves, controls, strict=True):
        steps[own] = chords(control, tolerance)
    origins = points[at.starts]
    back = at.closed & (points[at.last] != origins).any(axis=1)
    # Each contour has its start more than steps, and where it has to be drawn back that again.
    sizes = 1 + np.bincount(at.owners, steps, len(kinds)).astype(np.int64) + back
    borders = np.cumsum(sizes)
    first = np.cumsum(steps) - steps + (np.arange(len(kinds)) + np.cumsum(back) - back)[at.owners]
    found = np.empty((int(borders[-1]), 2))
    found[borders - sizes] = origins
    found[borders[back] - 1] = origins[back]
    found[first + steps] = points[at.ends]
    for (own, _), control in zip(at.curves, controls, strict=True):
        count = steps[own]
        step = 1 + np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
        places = blended(np.repeat(control, count, axis=2), step / np.repeat(count, count))
        found[np.repeat(first[own], count) + step] = places.T
    found.flags.writeable = False
    return tuple([found[a:b] for a, b in pairwise([0, *borders.tolist()])])


def box(points: Points, kinds: tuple[Kind, ...]) -> Box:
    """Left, top, right and bottom of what is drawn; ValueError where there are no points."""
    at = rows(kinds)
    ends = np.concatenate([points[at.starts], points[at.ends]]) if at.curves else points
    low, high = ends.min(axis=0), ends.max(axis=0)
    found = (*low.tolist(), *high.tolist())
    for _, of in at.curves:
        control = points[of]
        # Most curves stay within the box of all ends.
        outer = ((control < low) | (control > high)).any(axis=(0, 2))
        for each in control[:, outer].swapaxes(0, 1).tolist():
            found = stretched(found, each)
    return found
