"""What is said under the pieces of a picture: all in one size, which a phone still shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, pi, sin

import numpy as np

from proofgen.proofs.breaking import TYPED, broken
from proofgen.proofs.caption import GAP, INK, PAPER, QUIET, RED
from proofgen.proofs.paint import Coat
from proofgen.proofs.palette import Mask
from proofgen.proofs.raster import Floats, polygon_coverage
from proofgen.proofs.scene import Scene
from proofgen.proofs.soft import soft
from proofgen.proofs.spelled import joins, spelled
from proofgen.proofs.type import BOLD, REGULAR, Words, words
from proofgen.workshop.workshop import Colour

HEAD, LEAST, FOOT = 34.0, 27.0, 27.0  # px: 27 of 1080 are 10 of a phone's 390
LEADING = 1.28  # of the size
ABOVE, BETWEEN, BELOW = 6, 6, 14  # free over the title, under it and under the last line
EDGE = 14  # free at either side
BADGE = 24  # px, radius
BESIDE = 2 * BADGE + 12  # what a badge takes of the title's line
APART = "   "  # parts of a line


@dataclass(frozen=True, slots=True)
class Exhibit:
    """A piece with what is said under it; the parts of `foot` share lines where they fit, `number`
    is shown in a badge where it is not empty, and a `spell`ed head has its letters apart and its
    line breaks marked.
    """

    scene: Scene
    head: str
    foot: tuple[str, ...]
    number: str = ""
    spell: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """The lines of the title and those under it, each set, and the size of the title."""

    title: tuple[Words, ...]
    size: float
    foot: tuple[Words, ...]
    number: str

    @property
    def height(self) -> int:
        """Of all lines, px."""
        lines = len(self.title) * self.size + len(self.foot) * FOOT
        return ABOVE + ceil(lines * LEADING) + BETWEEN + BELOW


def labels(exhibits: Sequence[Exhibit], width: int) -> tuple[Label, ...]:
    """The labels of exhibits in cells of that width."""
    room = width - 2 * EDGE
    heads = room - (BESIDE if any(each.number for each in exhibits) else 0)
    lines = ((each, line) for each in exhibits for line in TYPED.split(each.head))
    widest = max(_head(each, line, HEAD).width for each, line in lines)
    size = min(max(heads / max(widest, 1.0), LEAST / HEAD), 1.0) * HEAD
    return tuple(_label(each, room, heads, size) for each in exhibits)


def _label(exhibit: Exhibit, room: float, heads: float, size: float) -> Label:
    title = broken(
        exhibit.head,
        heads,
        lambda text: _head(exhibit, text, size).width,
        exhibit.spell and not joins(exhibit.head),
    )
    foot = _packed(exhibit.foot, room)
    return Label(
        tuple(_head(exhibit, line, size) for line in title),
        size,
        tuple(map(_quiet, foot)),
        exhibit.number,
    )


def _packed(parts: Sequence[str], room: float) -> list[str]:
    lines: list[str] = []
    for part in parts:
        tried = f"{lines[-1]}{APART}{part}" if lines else part
        if lines and _quiet(tried).width <= room:
            lines[-1] = tried
        else:
            lines += broken(part, room, lambda text: _quiet(text).width)
    return lines


def _head(exhibit: Exhibit, text: str, size: float) -> Words:
    return spelled(text, size) if exhibit.spell else words(text.rstrip(), size, BOLD)


def _quiet(text: str) -> Words:
    return words(text.rstrip(), FOOT, REGULAR)


def say(canvas: Floats, label: Label) -> Mask:
    """Write a label on its part of the canvas; where there is anything of it."""
    beside = BESIDE if label.number else 0
    width = canvas.shape[2]
    written = np.zeros(canvas.shape[1:], np.bool_)
    y = float(ABOVE)
    for number, line in enumerate(label.title):
        y += label.size * LEADING
        left = (width - line.width - beside) / 2 + beside
        written |= write(canvas, line, INK, (max(left, EDGE + beside), y), width - EDGE) > 0
        if number == 0 and label.number:
            centre = (max(left, EDGE + beside) - beside + BADGE, y - 0.34 * label.size)
            written |= _badge(canvas, label.number, centre) > 0
    y += BETWEEN
    for line in label.foot:
        y += FOOT * LEADING
        left = max((width - line.width) / 2, EDGE)
        written |= write(canvas, line, QUIET, (left, y), width - EDGE) > 0
    return written


def _badge(canvas: Floats, number: str, centre: tuple[float, float]) -> Floats:
    shape = canvas.shape[1:]
    turns = np.linspace(0, 2 * pi, 65)
    circle = np.array(centre) + BADGE * np.array([(cos(t), sin(t)) for t in turns])
    amount = polygon_coverage([circle], shape)
    Coat(RED, soft(amount)).lay(canvas)
    found = words(number, 33, BOLD)
    at = found.at(centre[0] - found.width / 2, centre[1] + 11.5)
    Coat(PAPER, soft(polygon_coverage(at, shape))).lay(canvas)
    return amount


def write(
    canvas: Floats, said: Words, ink: Colour, at: tuple[float, float], right: float
) -> Floats:
    """From a point on the baseline; smaller where it would reach beyond `right`. Its mask."""
    shrink = min(1.0, (right - at[0]) / max(said.width, 1.0))
    amount = polygon_coverage(said.at(*at, shrink), canvas.shape[1:])
    Coat(ink, soft(amount)).lay(canvas)
    return amount


def side_by_side(canvas: Floats, left: Words, right: Words, baseline: float, side: float) -> None:
    """Two texts on one line, the left one smaller where they would meet."""
    width = canvas.shape[2]
    start = width - side - right.width
    write(canvas, right, INK, (start, baseline), width - side)
    write(canvas, left, INK, (side, baseline), start - GAP)
