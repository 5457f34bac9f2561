"""A sheet as it is laid, and the steps in which the machine makes it.

Sheet coordinates: millimetres from the top left corner, y down, the side that is worked on up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from proofgen.artwork.artwork import Layer
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.inside import Obstacles
from proofgen.geometry.path import Path
from proofgen.geometry.rect import Rect

PARTS = ("all", "engrave", "cut")


@dataclass(frozen=True, slots=True)
class Laid:
    """A layer of wood on a sheet: `at` takes its own coordinates to the sheet's."""

    layer: Layer
    at: Affine
    label: str


@dataclass(frozen=True, slots=True)
class SheetArt:
    """What lies on one sheet; of every layer only the marks of `side` (front or back) are made.

    No cut begins in a place of `keep_out`.
    """

    width: float
    height: float
    laid: tuple[Laid, ...]
    side: str = "front"
    keep_out: tuple[Rect, ...] = ()


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece on the sheet, and the outlines (as drawn) by which it is cut free."""

    label: str
    outline: Path


@dataclass(frozen=True, slots=True)
class Step:
    """One contour, or one area, of the piece of that number.

    A contour that is held by tabs is several open ones. `frees` says that the piece is loose once
    this is cut.
    """

    operation: str
    path: Path
    piece: int
    frees: bool = False

    @property
    def begin(self) -> Point:
        """Where the machine starts."""
        return self.path.contours[0].start

    @property
    def end(self) -> Point:
        """Where the machine leaves off."""
        last = self.path.contours[-1]
        return last.start if last.closed or not last.segments else last.segments[-1][-1]


@dataclass(frozen=True, slots=True)
class Plan:
    """The steps of one sheet in the order of work, from the origin in the top left corner.

    `hatch` is empty where areas are closed fills, else how they have been made into lines.
    """

    width: float
    height: float
    side: str
    manner: str
    pieces: tuple[Piece, ...]
    steps: tuple[Step, ...]
    hatch: str = ""

    def part(self, wanted: str) -> Plan:
        """The same sheet with its engraving or its cuts alone; all of it for "all"."""
        if wanted not in PARTS:
            raise ValueError(f"unknown part {wanted!r}")
        kept = (s for s in self.steps if wanted == "all" or s.operation.startswith(wanted))
        return replace(self, steps=tuple(kept))

    def filled(self, operation: str) -> bool:
        """Whether what the operation's steps surround is engraved, and not the lines themselves."""
        return operation == "engrave-area" and not self.hatch

    def rapids(self) -> Iterator[tuple[Point, Point]]:
        """The straight moves from the origin to the first step, and from each step to the next."""
        here = (0.0, 0.0)
        for step in self.steps:
            yield here, step.begin
            here = step.end


def is_cut(operation: str) -> bool:
    """Whether the operation goes through the wood."""
    return operation.startswith("cut-")


def over_finished(plan: Plan) -> int:
    """How many moves pass over a piece that has been cut free already."""
    moves = np.array([(*a, *b) for a, b in plan.rapids()])
    over = Obstacles([piece.outline for piece in plan.pieces]).passed(moves)
    free: list[int] = []
    count = 0
    for step, passed in zip(plan.steps, over, strict=True):
        count += bool(passed[free].any())
        if step.frees:
            free.append(step.piece)
    return count
