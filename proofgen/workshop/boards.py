"""The boards that pieces are cut from, and how they lie on the machine."""

from __future__ import annotations

from dataclasses import dataclass

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class BoardSize:
    """A whole board as it is put into the machine; millimetres.

    Nothing lies nearer its edges than `margin`, nor nearer another piece or a place of `keep_out`
    than `gap`. `keep_out` are (left, top, width, height) of pins, clamps or warp, measured from the
    machine's origin, so that remainders keep them clear too. What is left of a board is worth
    keeping from `least` on, its shorter and longer side.
    """

    width: float
    height: float
    margin: float
    gap: float
    keep_out: tuple[Box, ...]
    least: tuple[float, float]
