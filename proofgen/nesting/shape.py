"""What parts have in common: many orders have the same outline."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from proofgen.geometry.apart import Outline, around, outline_area, turned
from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Board, Part


@dataclass(frozen=True, slots=True)
class Shape:
    """A simple polygon round a part, and the turns in degrees that it may lie at (None: any)."""

    outline: Outline
    turns: tuple[float, ...] | None


@dataclass(frozen=True, slots=True)
class Lying:
    """A shape turned about (0, 0) and then moved by (x, y)."""

    shape: Shape
    turn: float
    x: float
    y: float


def shape_of(part: Part) -> Shape:
    """What of a part decides where it fits."""
    return Shape(around(part.outline), part.turns)


def mix_of(shapes: Iterable[Shape]) -> dict[Shape, int]:
    """How many of each shape, in the order in which they come."""
    return dict(Counter(shapes))


@lru_cache(maxsize=4096)
def area_of(shape: Shape) -> float:
    """Square millimetres inside the outline."""
    return outline_area(shape.outline)


@lru_cache(maxsize=4096)
def box_of(shape: Shape, turn: float) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the shape at that turn about (0, 0)."""
    across, down = zip(*turned(shape.outline, turn), strict=True)
    return min(across), min(down), max(across), max(down)


def fits_alone(shape: Shape, board: Board) -> bool:
    """Whether the empty board, without what it keeps out, takes one of it at some turn."""
    room = board.room
    turns = range(0, 180, 5) if shape.turns is None else shape.turns
    boxes = (Rect(*box_of(shape, turn)) for turn in turns)
    return any(box.width <= room.width and box.height <= room.height for box in boxes)


def in_proportion(
    shapes: Sequence[tuple[Part, Shape]],
) -> list[tuple[Part, Shape]]:
    """By urgency, and within it so that any first few of them are mixed as all are."""
    count = Counter(shape for _, shape in shapes)
    groups: dict[tuple[int, Shape | None], list[tuple[Part, Shape]]] = {}
    for part, shape in shapes:
        # Shapes of which there is but one are spread as one kind.
        key = (part.urgency, shape if count[shape] > 1 else None)
        groups.setdefault(key, []).append((part, shape))
    found = [
        (urgency, (i + 0.5) / len(alike), number, each)
        for number, ((urgency, _), alike) in enumerate(groups.items())
        for i, each in enumerate(alike)
    ]
    return [each for *_, each in sorted(found, key=lambda one: one[:3])]
