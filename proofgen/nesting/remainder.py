"""What is left of a board once it is cut, where it is worth keeping."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.apart import depths
from proofgen.geometry.path import Path
from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Board

STEP = 1.0  # mm, how exactly its length along the edge is found


def remainder(board: Board, outlines: Sequence[Path], least: tuple[float, float]) -> Rect | None:
    """The largest upright rectangle along an edge of the board that no outline enters.

    `outlines` are where they were cut. The board's gap is kept to them and to what the board keeps
    out. `least` are the shorter and the longer side in mm below which a rectangle is of no use;
    None where there is none of use.
    """
    width, height = board.width, board.height
    room = Rect(0.0, 0.0, width, height)
    left, right, top, bottom = depths(outlines, board.keep_out, room, board.gap, STEP)
    rects = [
        *(Rect(0.0, a, deep, b) for a, b, deep in _largest(left, height, least)),
        *(Rect(width - deep, a, width, b) for a, b, deep in _largest(right, height, least)),
        *(Rect(a, 0.0, b, deep) for a, b, deep in _largest(top, width, least)),
        *(Rect(a, height - deep, b, height) for a, b, deep in _largest(bottom, width, least)),
    ]
    return max(rects, key=lambda rect: rect.width * rect.height, default=None)


def _largest(
    depth: NDArray[np.float64], length: float, least: tuple[float, float]
) -> list[tuple[float, float, float]]:
    """From where to where along an edge, and how deep: the largest of use, or nothing."""
    best: tuple[float, tuple[float, float, float]] | None = None
    ends = np.minimum(np.arange(1, len(depth) + 1) * STEP, length)
    for i in range(len(depth)):
        along, deep = ends[i:] - i * STEP, np.minimum.accumulate(depth[i:])
        short, long = np.minimum(along, deep), np.maximum(along, deep)
        areas = np.where((short >= min(least)) & (long >= max(least)), along * deep, 0.0)
        k = int(areas.argmax())
        if areas[k] > (best[0] if best else 0.0):
            best = float(areas[k]), (i * STEP, float(ends[i + k]), float(deep[k]))
    return [best[1]] if best else []
