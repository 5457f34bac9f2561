"""Bottom-left filling on a raster: plain, needs no engine, and goes round whatever is in the way.

A cell counts as taken where a part touches it at all, and a new part is tested with its gap, so a
layout is never too tight; it is only less full than the engine's.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.apart import Mask, Outline, cells, turned
from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Board
from proofgen.nesting.shape import Lying, Shape, box_of
from proofgen.nesting.turns import STEP

CELL = 1.0  # mm
TINY = 1e-6
FEW = tuple(float(turn) for turn in range(0, 360, 3 * STEP))  # of any


def corner_fill(
    shapes: Sequence[Shape], board: Board, already: Sequence[Lying] = ()
) -> tuple[Lying, ...]:
    """What lies there already, and as many of the shapes as find a place, in their order,
    farthest left and then up.
    """
    taken = _kept_out(board)
    for lying in already:
        _take(taken, lying)
    found = list(already)
    given_up: set[Shape] = set()
    for shape in shapes:
        # The board only ever gets fuller.
        if shape in given_up:
            continue
        place = _first(shape, board, taken)
        if place is None:
            given_up.add(shape)
            continue
        _take(taken, place)
        found.append(place)
    return tuple(found)


def _kept_out(board: Board) -> Mask:
    """The cells of the board that are touched by what it keeps out."""
    taken = np.zeros((int(-(-board.height // CELL)), int(-(-board.width // CELL))), np.bool_)
    for rect in board.keep_out:
        top, left = max(int(rect.top // CELL), 0), max(int(rect.left // CELL), 0)
        taken[top : int(-(-rect.bottom // CELL)), left : int(-(-rect.right // CELL))] = True
    return taken


def _take(taken: Mask, lying: Lying) -> None:
    outline = tuple((x + lying.x, y + lying.y) for x, y in turned(lying.shape.outline, lying.turn))
    mask, (row, column) = cells(outline, 0.0, CELL)
    # Cells beyond the board's edge are nobody's.
    top, left = max(-row, 0), max(-column, 0)
    inner = mask[top : taken.shape[0] - row, left : taken.shape[1] - column]
    height, width = inner.shape
    taken[row + top : row + top + height, column + left : column + left + width] |= inner


def _first(shape: Shape, board: Board, taken: Mask) -> Lying | None:
    """The farthest left free place at any of its turns, None where none is free."""
    best: tuple[float, float, Lying] | None = None
    for turn in FEW if shape.turns is None else shape.turns:
        place = _free(shape, turn, board, taken)
        if place is not None and (best is None or place < best[:2]):
            best = *place, Lying(shape, turn, *place)
    return best[2] if best else None


def _free(shape: Shape, turn: float, board: Board, taken: Mask) -> tuple[float, float] | None:
    """How far to move the turned shape, in whole cells; by convolution of what is needed with
    what is taken.
    """
    needed, (row, column) = _needed(shape.outline, turn, board.gap)
    height, width = needed.shape
    room, box = board.room, Rect(*box_of(shape, turn))
    rows = _whole(room.top - box.top, room.bottom - box.bottom)
    columns = _whole(room.left - box.left, room.right - box.right)
    if not len(rows) or not len(columns):
        return None
    # The cells that some such place needs; beyond the board nothing is taken.
    window = np.zeros((len(rows) + height - 1, len(columns) + width - 1), np.float32)
    top, left = int(rows[0]) + row, int(columns[0]) + column
    inner = taken[max(top, 0) : top + len(window), max(left, 0) : left + window.shape[1]]
    up, aside = max(-top, 0), max(-left, 0)
    window[up : up + inner.shape[0], aside : aside + inner.shape[1]] = inner
    size = (window.shape[0] + height, window.shape[1] + width)
    product = np.fft.rfft2(window, size) * np.fft.rfft2(needed[::-1, ::-1].astype(np.float32), size)
    clash = np.fft.irfft2(product, size)[height - 1 :, width - 1 :][: len(rows), : len(columns)]
    free_columns, free_rows = np.nonzero(clash.T < 0.5)
    if not len(free_columns):
        return None
    return float(columns[free_columns[0]]) * CELL, float(rows[free_rows[0]]) * CELL


def _whole(low: float, high: float) -> NDArray[np.int64]:
    """The cells from low to high, where a part that fits exactly has one too."""
    return np.arange(int(np.ceil(low / CELL - TINY)), int(np.floor(high / CELL + TINY)) + 1)


@lru_cache(maxsize=512)
def _needed(outline: Outline, turn: float, gap: float) -> tuple[Mask, tuple[int, int]]:
    return cells(turned(outline, turn), gap, CELL)
