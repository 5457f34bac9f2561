"""A name spelled out: its letters apart and its spaces to be seen, so that a slip is noticed.

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
    """The text from x = 0 on the baseline y = 0; its width ends with the last letter."""
    placed: list[tuple[Letter, float, float]] = []
    pen = 0.0
    for part in _parts(text):
        found = _space(size) if part == " " else words(part, size, BOLD)
        placed += ((letter, pen + x, y) for letter, x, y in found.letters)
        pen += found.width + APART * size
    return Words(tuple(placed), max(pen - APART * size, 0.0))


def _parts(text: str) -> Iterator[str]:
    """Letters with their marks, whole words where they join, and spaces, from left to right."""
    for _, run, rightward in visual_runs(text):
        parts = list(_words(run) if not rightward and joins(run) else letters(run))
        yield from parts if rightward else reversed(parts)


def joins(run: str) -> bool:
    """Whether its letters are written together."""
    return any(unicodedata2.bidirectional(character) == "AL" for character in run)


def _words(run: str) -> Iterator[str]:
    for number, word in enumerate(run.split(" ")):
        if number:
            yield " "
        if word:
            yield word


@lru_cache(maxsize=32)
def _space(size: float) -> Words:
    """An open box under the line, as wide as a space."""
    width, depth, high, pen = SPACE * size, 0.05 * size, 0.11 * size, 0.045 * size
    box = [(0, -high), (pen, -high), (pen, depth - pen), (width - pen, depth - pen)]
    box += [(width - pen, -high), (width, -high), (width, depth), (0, depth), (0, -high)]
    return Words(((Letter((np.array(box),)), 0.0, 0.0),), width)
