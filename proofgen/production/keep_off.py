"""In which order pieces are finished, so that moves are short and pass over no finished piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise, permutations

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.affine import Point
from proofgen.geometry.inside import Obstacles
from proofgen.geometry.path import Points

# mm; a longer way is better than one over a loose piece, which may stand up and catch the head.
PENALTY = 1000.0
LEAST = 1e-6
# So many pieces near the origin are tried as the first.
TRIES = 6


def order_of_pieces(
    entries: Points, exits: Sequence[Points], obstacles: Obstacles, start: Point
) -> list[int]:
    """The order in which to make n pieces that are entered at (n, 2) and left at one of `exits`.

    `obstacles` are their outlines, which lie in the way once a piece is made.
    """
    away, over = _moves(entries, exits, obstacles)
    first = np.hypot(*(entries - np.array(start)).T)
    # Sets of pieces as bits of a number: the cost is reckoned for thousands of orders.
    bits = (over @ (1 << np.arange(len(entries), dtype=object))).tolist()
    firsts = np.argsort(first, kind="stable")[:TRIES].tolist()
    tried = (
        _improved(_nearest(begin, away), first.tolist(), away.tolist(), bits) for begin in firsts
    )
    return min(tried, key=lambda found: found[1])[0]


def _cost(
    order: list[int], first: list[float], away: list[list[float]], bits: list[list[int]]
) -> float:
    total, made = first[order[0]], 0
    for here, there in pairwise(order):
        made |= 1 << here
        total += away[here][there] + (PENALTY if bits[here][there] & made else 0.0)
    return total


def _moves(
    entries: Points, exits: Sequence[Points], obstacles: Obstacles
) -> tuple[Points, NDArray[np.bool_]]:
    """From every piece to every other, by its best exit: the distance, and what is passed over."""
    n = len(entries)
    owner = np.repeat(np.arange(n), [len(each) for each in exits])
    places = np.concatenate(list(exits))
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


def _improved(
    order: list[int], first: list[float], away: list[list[float]], bits: list[list[int]]
) -> tuple[list[int], float]:
    """The order, changed a little for as long as that costs less, and what it then costs."""
    least, better = _cost(order, first, away, bits), True
    while better:
        better = False
        for other in _changes(order):
            cost = _cost(other, first, away, bits)
            if cost < least - LEAST:
                order, least, better = other, cost, True
                break
    return order, least


def _changes(order: list[int]) -> Iterator[list[int]]:
    """Every order with one part turned round, or with one piece elsewhere."""
    for i, j in combinations(range(len(order)), 2):
        yield order[:i] + order[i : j + 1][::-1] + order[j + 1 :]
    for i, j in permutations(range(len(order)), 2):
        rest = order[:i] + order[i + 1 :]
        yield [*rest[:j], order[i], *rest[j:]]
