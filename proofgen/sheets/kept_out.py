"""The places of a board, as it lies in the machine, that are kept out."""

from __future__ import annotations

from collections.abc import Iterable

from proofgen.geometry.rect import Rect
from proofgen.workshop.boards import BoardSize


def kept_out(size: BoardSize) -> tuple[Rect, ...]:
    """Those of the workshop file."""
    return tuple(Rect(x, y, x + wide, y + high) for x, y, wide, high in size.keep_out)


def both_sides(places: Iterable[Rect], width: float) -> tuple[Rect, ...]:
    """The places, and what lies on them once a board of that width in mm is turned over left to
    right: the machine's pins and clamps stay where they are.
    """
    front = tuple(places)
    turned = (Rect(width - r.right, r.top, width - r.left, r.bottom) for r in front)
    return tuple(dict.fromkeys((*front, *turned)))
