"""What is laid on what. Millimetres, x to the right, y downwards."""

from __future__ import annotations

import math
from dataclasses import dataclass

from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.rect import Rect


@dataclass(frozen=True, slots=True)
class Part:
    """Something to lay: a simple polygon that holds all of it, and the turns in degrees that it
    may lie at. Lower `rank` lies on earlier boards; `key` is its own.
    """

    key: str
    outline: tuple[Point, ...]
    turns: tuple[float, ...] = (0.0,)
    rank: int = 0


@dataclass(frozen=True, slots=True)
class Board:
    """A rectangle of wood from (0, 0): nothing nearer its edges than `margin`, nothing nearer
    another part or a place of `keep_out` than `gap`. `id` is that of a remainder, else empty.
    """

    width: float
    height: float
    margin: float
    gap: float
    keep_out: tuple[Rect, ...] = ()
    id: str = ""

    @property
    def usable(self) -> float:
        """Square millimetres within the margins and outside what is kept out."""
        inner = (self.width - 2 * self.margin) * (self.height - 2 * self.margin)
        return inner - sum(each.width * each.height for each in self.keep_out)


@dataclass(frozen=True, slots=True)
class Placed:
    """A part turned about (0, 0) by `turn` degrees, clockwise as seen, and then moved by (x, y)."""

    key: str
    turn: float
    x: float
    y: float

    @property
    def affine(self) -> Affine:
        """From the part's own millimetres to those of the board."""
        cos, sin = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return Affine(cos, sin, -sin, cos, self.x, self.y)


@dataclass(frozen=True, slots=True)
class Filled:
    """A board with what lies on it."""

    board: Board
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """Boards in the order in which they are to be cut, and the keys of parts that fit on none."""

    filled: tuple[Filled, ...]
    left: tuple[str, ...] = ()
