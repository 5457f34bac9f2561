"""What parts have in common: many orders have the same outline."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from proofgen.geometry.apart import Outline, outline_area, turned
from proofgen.nesting.part import Board, Part


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline and the turns in degrees that it may lie at."""

    outline: Outline
    turns: tuple[float, ...]


def shape_of(part: Part) -> Shape:
    """What of a part decides where it fits."""
    return Shape(part.outline, part.turns)


def mix_of(parts: Iterable[Part]) -> dict[Shape, int]:
    """How many of each shape, in the order in which they come."""
    return dict(Counter(map(shape_of, parts)))


@lru_cache(maxsize=1024)
def area_of(shape: Shape) -> float:
    """Square millimetres inside the outline."""
    return outline_area(shape.outline)


@lru_cache(maxsize=1024)
def box_of(shape: Shape, turn: float) -> tuple[float, float]:
    """Width and height of the shape at that turn."""
    across, down = zip(*turned(shape.outline, turn), strict=True)
    return max(across) - min(across), max(down) - min(down)


def fits_alone(shape: Shape, board: Board) -> bool:
    """Whether the empty board takes one of it at some turn."""
    width, height = board.width - 2 * board.margin, board.height - 2 * board.margin
    boxes = (box_of(shape, turn) for turn in shape.turns)
    return any(w <= width and h <= height for w, h in boxes)


def in_proportion(parts: Sequence[Part]) -> list[Part]:
    """By rank, and within a rank so that any first few of them are mixed as all are."""
    found: list[tuple[int, float, int, Part]] = []
    count = Counter(map(shape_of, parts))
    groups: dict[tuple[int, Shape | None], list[Part]] = {}
    for part in parts:
        shape = shape_of(part)
        # Shapes of which there is but one are spread as one kind.
        groups.setdefault((part.rank, shape if count[shape] > 1 else None), []).append(part)
    for number, ((rank, _), alike) in enumerate(groups.items()):
        found += [(rank, (i + 0.5) / len(alike), number, part) for i, part in enumerate(alike)]
    return [part for *_, part in sorted(found, key=lambda each: each[:3])]
