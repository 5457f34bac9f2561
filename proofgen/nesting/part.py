"""What is laid on what. Millimetres, x to the right, y downwards."""

from __future__ import annotations

import math
from dataclasses import dataclass

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path
from proofgen.geometry.rect import Rect, covered

# What may end a search before it is done; a failure ends one of its parts.
HURRY, INTERRUPTION, NO_ENGINE, FAILURE = "hurry", "interruption", "no engine", "failure"


@dataclass(frozen=True, slots=True)
class Part:
    """Something to lay: what it fills, and the turns in degrees that it may lie at (None: any).

    `key` is its own. Lower `urgency` lies on earlier boards.
    """

    key: str
    outline: Path
    turns: tuple[float, ...] | None = (0.0,)
    urgency: int = 0


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
    def room(self) -> Rect:
        """What lies within the margins."""
        edge = self.margin
        return Rect(edge, edge, self.width - edge, self.height - edge)

    @property
    def usable(self) -> float:
        """Square millimetres within the margins and outside what is kept out."""
        room = self.room
        return room.width * room.height - covered(self.keep_out, room)


@dataclass(frozen=True, slots=True)
class Supply:
    """The wood there is: remainders, each once, and as many whole sheets as it takes."""

    sheet: Board
    remainders: tuple[Board, ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """A part turned about (0, 0) by `turn` degrees, clockwise as seen, and then moved by (x, y).

    `board_index` is the board's place in its layout.
    """

    key: str
    board_index: int
    turn: float
    x: float
    y: float

    def affine(self) -> Affine:
        """From the part's own millimetres to those of the board."""
        cos, sin = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return Affine(cos, sin, -sin, cos, self.x, self.y)


@dataclass(frozen=True, slots=True)
class Layout:
    """Boards in the order in which they are to be cut, what lies on them, and the keys of the
    parts that fit on none. `rotation` names the most turned class in use (see turns.py); `ended`
    is empty where the search went on until nothing better was found, else what ended it.
    """

    boards: tuple[Board, ...]
    placed: tuple[Placed, ...]
    rotation: str
    left: tuple[str, ...] = ()
    ended: str = ""

    def on(self, board_index: int) -> tuple[Placed, ...]:
        """What lies on one board."""
        return tuple(each for each in self.placed if each.board_index == board_index)
