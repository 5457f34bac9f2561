"""One shape again and again at the knots of a grid, upright or all at one common tilt.

Common practice, no source: some pieces go on a sheet once more when all of them are tilted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache

import numpy as np

from proofgen.geometry.apart import Outline, clearance, turned
from proofgen.geometry.path import Points
from proofgen.nesting.clear import clear_room
from proofgen.nesting.part import Board
from proofgen.nesting.shape import Lying, Shape, box_of
from proofgen.nesting.turns import TILTS

COARSE, EXACT = 1.0, 0.01  # mm, between two distances that are tried
STAGGERS = 8  # by how much of its pitch the next row is moved aside
STARTS = 8  # places of the first knot, along either of the grid's steps

Step = tuple[float, float]


def grid_fill(shape: Shape, count: int, board: Board, tilts: Sequence[float]) -> tuple[Lying, ...]:
    """As many of the shape, at most `count`, as one grid at the best of the tilts takes.

    Where the board keeps places out, it lies in the largest clear rectangle.
    """
    best: tuple[Lying, ...] = ()
    inner, (right, down) = clear_room(board)
    for tilt in tilts:
        for across, along in _steps(shape.outline, board.gap):
            found = _knots(shape, tilt, np.array([across, along]), inner)
            if min(len(found), count) > len(best):
                best = tuple(
                    Lying(shape, tilt, float(x + right), float(y + down)) for x, y in found[:count]
                )
    return best


def tilts_for(shape: Shape) -> tuple[float, ...]:
    """The tilts of a grid that the shape may lie at, upright first."""
    if shape.turns is None:
        return TILTS
    return tuple(sorted({turn % 360 for turn in shape.turns}))


def _knots(shape: Shape, tilt: float, steps: Points, board: Board) -> Points:
    """Where the shape lies inside the room, for the first knot that serves most."""
    left, top, right, bottom = box_of(shape, tilt)
    room = board.room
    low = np.array([room.left - left, room.top - top])
    high = np.array([room.right - right, room.bottom - bottom])
    if (low > high).any():
        return np.empty((0, 2))
    lying = np.array(turned(tuple(map(tuple, steps)), tilt))
    # In units of the steps, the room is a parallelogram; all knots in its box, and one more.
    corners = np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)]) * (high - low)
    units = corners @ np.linalg.inv(lying)
    first, last = np.floor(units.min(axis=0)) - 1, np.ceil(units.max(axis=0)) + 1
    ranges = (np.arange(a, b + 1) for a, b in zip(first, last, strict=True))
    knots = np.stack(np.meshgrid(*ranges), axis=-1).reshape(-1, 2) @ lying
    # The first start puts a knot into the room's corner, which serves an upright grid best.
    share = np.arange(STARTS) / STARTS
    starts = np.stack(np.meshgrid(share, share), axis=-1).reshape(-1, 2) @ lying
    places = knots[None] + low + starts[:, None]
    inside = ((places >= low - 1e-9) & (places <= high + 1e-9)).all(axis=2)
    best = int(inside.sum(axis=1).argmax())
    return np.asarray(places[best][inside[best]])


@lru_cache(maxsize=128)
def _steps(outline: Outline, gap: float) -> tuple[tuple[Step, Step], ...]:
    """Pairs of steps at which copies keep the gap: rows as close as they go, then columns."""
    found: list[tuple[Step, Step]] = []
    for turn in (0.0, 90.0):
        lying = turned(outline, turn)
        for across, along in _rows(lying, gap):
            one, other = turned((across, along), -turn)
            found.append((one, other))
    return tuple(found)


def _rows(outline: Outline, gap: float) -> Iterator[tuple[Step, Step]]:
    x, y = np.array(outline).T
    width, height = np.ptp(x) + gap, np.ptp(y) + gap
    pitch = _least(outline, gap, width, lambda d: [(d, 0.0), (2 * d, 0.0)])
    for i in range(STAGGERS):
        aside = pitch * i / STAGGERS

        def others(down: float, aside: float = aside) -> list[Step]:
            near = range(-2, 3)
            return [(row * aside + k * pitch, row * down) for row in (1, 2) for k in near]

        yield (pitch, 0.0), (aside, _least(outline, gap, height, others))


def _least(
    outline: Outline, gap: float, most: float, others: Callable[[float], list[Step]]
) -> float:
    """The smallest distance, found from above, at which the copies keep the gap."""
    good = most
    for step in (COARSE, EXACT):
        while good > step and clearance(outline, others(good - step)) >= gap:
            good -= step
    return float(good)
