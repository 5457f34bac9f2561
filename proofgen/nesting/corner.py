"""Bottom-left filling on a raster: plain, needs no engine, and goes round what is kept out.

A cell counts as taken where a part touches it at all, and a new part is tested with its gap, so a
layout is never too tight; it is only less full than the engine's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.apart import Outline, grown, turned
from proofgen.geometry.coverage import polygon_coverage
from proofgen.geometry.path import Points
from proofgen.nesting.part import Board, Part, Placed
from proofgen.nesting.shape import Shape, shape_of

CELL = 1.0  # mm

Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class _Stamp:
    """A shape at a turn on cells: what it takes and what it needs free, both from `corner` on."""

    taken: Mask
    needed: Mask
    corner: tuple[float, float]  # mm from the part's own origin


def corner_fill(parts: Sequence[Part], board: Board) -> tuple[Placed, ...]:
    """As many of the parts as find a place, in their order, farthest left and up first."""
    rows, columns = int(board.height // CELL), int(board.width // CELL)
    free = _free(board, rows, columns)
    placed: list[Placed] = []
    given_up: set[Shape] = set()
    for part in parts:
        shape = shape_of(part)
        # The board only ever gets fuller.
        if shape in given_up:
            continue
        found = _place(shape, board, free)
        if found is None:
            given_up.add(shape)
            continue
        turn, row, column, stamp = found
        height, width = stamp.taken.shape
        free[row : row + height, column : column + width] &= ~stamp.taken
        x, y = column * CELL - stamp.corner[0], row * CELL - stamp.corner[1]
        placed.append(Placed(part.key, turn, x, y))
    return tuple(placed)


def _free(board: Board, rows: int, columns: int) -> Mask:
    """The cells of the board beyond which nothing may reach."""
    free = np.ones((rows, columns), np.bool_)
    for rect in board.keep_out:
        top, left = int(max(rect.top, 0) // CELL), int(max(rect.left, 0) // CELL)
        free[top : int(-(-rect.bottom // CELL)), left : int(-(-rect.right // CELL))] = False
    return free


def _place(shape: Shape, board: Board, free: Mask) -> tuple[float, int, int, _Stamp] | None:
    """Turn, row and column of the stamp's corner, the farthest left; None where none is free."""
    best: tuple[int, int, float, _Stamp] | None = None
    for turn in shape.turns:
        stamp = _stamp(shape.outline, turn, board.gap)
        for column, row in _first(stamp, board, free):
            if best is None or (column, row) < best[:2]:
                best = column, row, turn, stamp
    return (best[2], best[1], best[0], best[3]) if best else None


def _first(stamp: _Stamp, board: Board, free: Mask) -> list[tuple[int, int]]:
    """The first column and row where the stamp may lie, by convolution; none or one."""
    height, width = stamp.needed.shape
    edge = int(-(-board.margin // CELL))
    # Its own gap may reach into the margin, but not the part: the stamp has a rim for that.
    rim = (height - stamp.taken.any(axis=1).sum()) // 2
    reach = max(rim - edge, 0)
    padded = np.pad(~free, reach)
    if padded.shape[0] < height or padded.shape[1] < width:
        return []
    shape = [padded.shape[0] + height, padded.shape[1] + width]
    product = np.fft.rfft2(padded, shape) * np.fft.rfft2(stamp.needed[::-1, ::-1], shape)
    clash = np.fft.irfft2(product, shape)[height - 1 : padded.shape[0], width - 1 : padded.shape[1]]
    open_ = clash < 0.5
    ys, xs = np.nonzero(stamp.taken)
    top, bottom = edge - ys.min(), int((board.height - board.margin) // CELL) - ys.max() - 1
    left, right = edge - xs.min(), int((board.width - board.margin) // CELL) - xs.max() - 1
    rows = np.arange(open_.shape[0]) - reach
    columns = np.arange(open_.shape[1]) - reach
    open_ &= ((rows >= top) & (rows <= bottom))[:, None]
    open_ &= ((columns >= left) & (columns <= right))[None, :]
    columns_open = np.flatnonzero(open_.any(axis=0))
    if not len(columns_open):
        return []
    column = int(columns_open[0])
    return [(column - reach, int(np.flatnonzero(open_[:, column])[0]) - reach)]


@lru_cache(maxsize=512)
def _stamp(outline: Outline, turn: float, gap: float) -> _Stamp:
    lying = turned(outline, turn)
    wide = np.array(grown(lying, gap))
    corner = np.floor(wide.min(axis=0) / CELL) * CELL
    width, height = np.ceil((wide.max(axis=0) - corner) / CELL).astype(int) + 1
    taken, needed = (_cells(np.array(o), corner, (height, width)) for o in (lying, wide))
    return _Stamp(taken, needed, (float(corner[0]), float(corner[1])))


def _cells(outline: Points, corner: Points, shape: tuple[int, int]) -> Mask:
    """Every cell that the outline touches."""
    closed = np.concatenate([outline, outline[:1]])
    return np.asarray(polygon_coverage([(closed - corner) / CELL], shape) > 0)
