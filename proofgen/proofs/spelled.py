"""A name spelled out: its letters apart, its spaces and line breaks to be seen, so that a slip is
noticed.

Letters of scripts that join are left together, since apart they are other shapes.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
import unicodedata2

from proofgen.faces.direction import visual_runs
from proofgen.orders.text import letters
from proofgen.proofs.type import BOLD, Letter, Words, words

APART = 0.20  # of the size, between letters
SPACE = 0.42  # of the size, the width of the mark for a space


@lru_cache(maxsize=256)
def spelled(text: str, size: float) -> Words:
    """One line from x = 0 on the baseline y = 0; its width ends with the last letter, or with the
    mark for the line break that ends it.
    """
    placed: list[tuple[Letter, float, float]] = []
    pen = 0.0
    for part in _parts(text):
        found = _mark(part, size) or words(part, size, BOLD)
        placed += ((letter, pen + x, y) for letter, x, y in found.letters)
        pen += found.width + APART * size
    return Words(tuple(placed), max(pen - APART * size, 0.0))


def _parts(text: str) -> Iterator[str]:
    """Letters with their marks, whole words where they join, and spaces, from left to right."""
    line = text.removesuffix("\n")
    runs = visual_runs(line)
    ending = text[len(line) :]
    turned = bool(runs) and not any(rightward for _, _, rightward in runs)
    yield from ending if turned else ""
    for _, run, rightward in runs:
        parts = list(_words(run) if not rightward and joins(run) else letters(run))
        yield from parts if rightward else reversed(parts)
    yield from "" if turned else ending


def joins(run: str) -> bool:
    """Whether its letters are written together."""
    return any(unicodedata2.bidirectional(character) == "AL" for character in run)


def _words(run: str) -> Iterator[str]:
    for number, word in enumerate(run.split(" ")):
        if number:
            yield " "
        if word:
            yield word


def _mark(part: str, size: float) -> Words | None:
    if part == "\n":
        return new_line(size)
    return _space(size) if part == " " else None


@lru_cache(maxsize=32)
def _space(size: float) -> Words:
    """An open box under the line, as wide as a space."""
    width, depth, high, pen = SPACE * size, 0.05 * size, 0.11 * size, 0.045 * size
    box = [(0, -high), (pen, -high), (pen, depth - pen), (width - pen, depth - pen)]
    box += [(width - pen, -high), (width, -high), (width, depth), (0, depth), (0, -high)]
    return Words(((Letter((np.array(box),)), 0.0, 0.0),), width)


@lru_cache(maxsize=32)
def new_line(size: float) -> Words:
    """An arrow down and back, the mark for a line break, which no lettering has."""
    width, high, shaft, pen = 0.62 * size, 0.58 * size, 0.2 * size, 0.08 * size
    head, half = 0.25 * size, 0.19 * size
    tip = [(head, half - shaft), (0, -shaft), (head, -half - shaft), (head, -pen / 2 - shaft)]
    bend = [(width - pen, -pen / 2 - shaft), (width - pen, -high), (width, -high)]
    arrow = [(head, pen / 2 - shaft), *tip, *bend, (width, pen / 2 - shaft)]
    return Words(((Letter((np.array([*arrow, arrow[0]]),)), 0.0, 0.0),), width)
