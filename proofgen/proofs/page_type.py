"""Text on a page of paper: in a font that goes with the file, or as outlines where it lacks any."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from proofgen.faces.static import CHARACTERS, static
from proofgen.geometry.affine import Point
from proofgen.proofs.sheet import Sheet, embed
from proofgen.proofs.type import BOLD, REGULAR, words
from proofgen.resources import folder
from proofgen.workshop.workshop import Colour

FILE = "Nunito-wght.ttf"
DRAWN = 100.0  # px at which outlines are made
DOTS = "\u2026"


@lru_cache(maxsize=2)
def _measure(weight: float) -> Callable[[str, float], float]:
    return embed(_name(weight), static(folder("fonts") / FILE, weight, _name(weight)))


def _name(weight: float) -> str:
    return f"Nunito-{weight:.0f}"


def weight_of(bold: bool) -> float:
    """The weight of plain and of strong text."""
    return BOLD if bold else REGULAR


@lru_cache(maxsize=8192)
def width(text: str, size: float, bold: bool = False) -> float:
    """How wide a text is in mm."""
    if _plain(text):
        return _measure(weight_of(bold))(text, size)
    return words(text, DRAWN, weight_of(bold)).width * size / DRAWN


def write(
    sheet: Sheet, text: str, at: Point, size: float, colour: Colour, bold: bool = False
) -> None:
    """A text from the left end of its baseline; it can be searched and copied in any script."""
    weight = weight_of(bold)
    _measure(weight)  # makes the font known
    if _plain(text):
        sheet.text(text, at, size, _name(weight), colour)
        return
    found = words(text, DRAWN, weight)
    with sheet.meaning(text, at, size, width(text, size, bold), _name(weight)):
        sheet.polygons((polygon * (size / DRAWN) + at for polygon in found.polygons), colour)


def wrapped(text: str, size: float, room: float, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no wider than `room` mm; what has no space is broken where it must be."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and width(longer, size, bold) > room:
            lines.append(line)
            longer = word
        while width(longer, size, bold) > room and len(longer) > 1:
            fits = _fitting(longer, size, room, bold)
            lines.append(longer[:fits])
            longer = longer[fits:]
        line = longer
    return (*lines, line) if line or not lines else tuple(lines)


def cut_off(text: str, size: float, room: float, bold: bool = False) -> str:
    """The text, or as much of its start as the room takes, and dots."""
    if width(text, size, bold) <= room:
        return text
    return text[: _fitting(text, size, room - width(DOTS, size, bold), bold)].rstrip() + DOTS


def _fitting(text: str, size: float, room: float, bold: bool) -> int:
    """How many characters fit, at least one."""
    return max((n for n in range(1, len(text)) if width(text[:n], size, bold) <= room), default=1)


def _plain(text: str) -> bool:
    """Whether the font that goes along has all of it."""
    return all(character in CHARACTERS for character in text)
