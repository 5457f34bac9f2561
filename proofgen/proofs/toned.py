"""Wood that is seen through one coat as of glass and nothing else: a table tells its colours."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from proofgen.proofs.paint import Board, Coat, Numbers
from proofgen.proofs.palette import Indices, nearest, whole
from proofgen.workshop.workshop import Colour


def toned(board: Board, glass: Coat, palette: Indices, first: int) -> Indices:
    """The indices (height, width) of a board, without its own coats, under one of glass that is as
    large, among the colours of the palette (n, 3) from `first` on.
    """
    assert glass.glass and isinstance(glass.paint, tuple)
    colours = palette[first:].tobytes()
    table = _table(board.table.tobytes(), glass.paint, glass.strength, colours, first)
    at = board.tone.astype(np.uint16)
    at <<= 8
    at |= glass.amount
    return table.take(at)


def toned_at(board: Board, glass: Coat, local: Numbers, palette: Indices, first: int) -> Indices:
    """The same (n,) of the pixels that have those numbers in both."""
    tone, amount = (mask.ravel().take(local) for mask in (board.tone, glass.amount))
    return toned(Board(board.table, tone), replace(glass, amount=amount), palette, first)


@lru_cache(maxsize=128)
def _table(tones: bytes, glass: Colour, strength: float, colours: bytes, first: int) -> Indices:
    """The index of each tone, 256 times as it is darkened more and more."""
    plain = np.frombuffer(tones, np.float32).reshape(256, 1, 3)
    share = np.linspace(0, strength, 256, dtype=np.float32)[:, None]
    through = 1 - (1 - np.asarray(glass, np.float32) / 255) * share
    closest = nearest(np.frombuffer(colours, np.uint8).reshape(-1, 3))
    return closest(whole((plain * through).reshape(-1, 3))) + np.uint8(first)
