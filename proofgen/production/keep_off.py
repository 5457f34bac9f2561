"""In which order pieces are finished, so that moves are short and pass over no finished piece."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.geometry.inside import Obstacles
from proofgen.geometry.path import Points

# mm; a longer way is better than one over a loose piece, which may stand up and catch the head.
PENALTY = 1000.0
LEAST = 1e-6
# So many pieces near the origin are tried as the first, fewer where all pieces of the tries would
# be more than so many; parts so long are changed.
TRIES, MANY, REACH = 6, 240, 30

Orders = NDArray[np.int32]
Bits = NDArray[np.uint64]


def order_of_pieces(
    entries: Points, exits: Sequence[Sequence[Point]], obstacles: Obstacles, start: Point
) -> list[int]:
    """The order in which to make n pieces that are entered at (n, 2) and left at one of `exits`.

    `obstacles` are their outlines, which lie in the way once a piece is made.
    """
    away, over = _moves(entries, exits, obstacles)
    first = np.hypot(*(entries - np.array(start)).T)
    tries = max(1, min(TRIES, MANY // len(first)))
    firsts = np.argsort(first, kind="stable")[:tries].tolist()
    tried = (_improved(_nearest(begin, away), first, away, _bits(over)) for begin in firsts)
    best, _ = min(tried, key=lambda found: found[1])
    return [int(index) for index in best]


def _costs(orders: Orders, first: Points, away: Points, over: Bits) -> Points:
    """Of each of the orders (m, n): its way, and what it passes over that is made by then."""
    here, there = orders[:, :-1], orders[:, 1:]
    made = np.bitwise_or.accumulate(_bits(np.eye(len(first), dtype=bool))[here], axis=1)
    passed = (over[here, there] & made).any(axis=2).sum(axis=1)
    return np.asarray(first[orders[:, 0]] + away[here, there].sum(axis=1) + PENALTY * passed)


def _bits(flags: NDArray[np.bool_]) -> Bits:
    """The last axis as sets in words of 64 bits."""
    room = -flags.shape[-1] % 64
    padded = np.pad(flags, [(0, 0)] * (flags.ndim - 1) + [(0, room)])
    return np.packbits(padded, axis=-1).view(np.uint64)


def _moves(
    entries: Points, exits: Sequence[Sequence[Point]], obstacles: Obstacles
) -> tuple[Points, NDArray[np.bool_]]:
    """From every piece to every other, by its best exit: the distance, and what is passed over."""
    n = len(entries)
    owner = np.repeat(np.arange(n), [len(each) for each in exits])
    places = np.array([at for each in exits for at in each])
    pairs = np.concatenate(
        [np.repeat(places, n, axis=0), np.tile(entries, (len(places), 1))], axis=1
    )
    # A piece that is yet to be made is not in the way of the move to it.
    over = obstacles.passed(pairs, but=np.tile(np.arange(n), len(places))).reshape(-1, n, n)
    away = np.hypot(*(pairs[:, 2:] - pairs[:, :2]).T).reshape(len(places), n)
    itself = over[np.arange(len(places)), :, owner]
    priced = away + PENALTY * itself
    best = np.stack(
        [np.flatnonzero(owner == i)[np.argmin(priced[owner == i], axis=0)] for i in range(n)]
    )
    there = np.arange(n)
    return away[best, there], over[best, there]


def _nearest(begin: int, away: Points) -> list[int]:
    order = [begin]
    left = set(range(len(away))) - {begin}
    while left:
        order.append(min(left, key=lambda i: (away[order[-1], i], i)))
        left.discard(order[-1])
    return order


def _improved(order: list[int], first: Points, away: Points, over: Bits) -> tuple[Orders, float]:
    """The order, changed for as long as that costs less, and what it then costs."""
    best = np.array(order)
    least = float(_costs(best[None], first, away, over)[0])
    while len(best) > 1:
        others = best[_changes(len(best))]
        costs = _costs(others, first, away, over)
        at = int(costs.argmin())
        if costs[at] > least - LEAST:
            break
        best, least = others[at], float(costs[at])
    return best, least


@lru_cache(maxsize=8)
def _changes(count: int) -> Orders:
    """Every order with one part turned round, or with one piece elsewhere, not far away."""
    order = list(range(count))
    near = [(i, j) for i, j in combinations(order, 2) if j - i <= REACH]
    turned = [order[:i] + order[i : j + 1][::-1] + order[j + 1 :] for i, j in near]
    later = [[*order[:i], *order[i + 1 : j + 1], i, *order[j + 1 :]] for i, j in near]
    sooner = [[*order[:i], j, *order[i:j], *order[j + 1 :]] for i, j in near]
    return np.array(turned + later + sooner, dtype=np.int32)
