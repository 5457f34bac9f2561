"""A last board with little on it, laid on the boards before it."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.nesting.fill import DENSE, Filler, area_on
from proofgen.nesting.part import Board
from proofgen.nesting.shape import Lying, Shape, area_of, fits_alone

LEAST = 0.9  # of its area must seem free for a shape to be tried
ASKED = 6  # boards at most, for each shape: to be refused takes long

Filled = tuple[Board, tuple[Lying, ...]]


def absorbed(filled: Sequence[Filled], filler: Filler) -> list[Filled]:
    """The boards without the last ones, where all that lies on those finds place before."""
    best = list(filled)
    while len(best) > 1:
        *others, (_, last) = best
        if sum(max(_free(each), 0.0) for each in others) < area_on(last):
            break
        for shape in sorted((each.shape for each in last), key=area_of, reverse=True):
            if not _taken(others, shape, filler):
                return best
        best = others
    return best


def _taken(others: list[Filled], shape: Shape, filler: Filler) -> bool:
    """Whether one of the boards took the shape too; the emptiest are tried first."""
    order = sorted(range(len(others)), key=lambda i: -_free(others[i]))
    order = [
        i
        for i in order
        if _free(others[i]) >= area_of(shape) * LEAST and fits_alone(shape, others[i][0])
    ][:ASKED]
    for board in dict.fromkeys(others[i][0] for i in order):
        alike = [i for i in order if others[i][0] == board]
        mixes = [(*(each.shape for each in others[i][1]), shape) for i in alike]
        for i, found in zip(alike, filler.whole(mixes, board, quick=False), strict=False):
            if found:
                others[i] = board, found
                return True
    return False


def _free(filled: Filled) -> float:
    """Square millimetres until the board is as full as boards of irregular shapes were."""
    board, lying = filled
    return board.usable * DENSE - area_on(lying)
