"""Text on as many lines as its room asks for."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from math import ceil

from proofgen.orders.text import letters

AFTER, TYPED = re.compile(r"(?<=[ -])"), re.compile(r"(?<=\n)")


def broken(
    text: str, room: float, width: Callable[[str], float], anywhere: bool = False
) -> tuple[str, ...]:
    """Lines of at most that width, broken at spaces and hyphens; `anywhere`, also inside a part
    that is wider: it then has lines of about as many letters each. The lines together are the text:
    the space or line break at which one ends is its last letter.

    A part that is wider and may not be broken is a line by itself; so is one that is wider only
    with the space or line break at its end.
    """
    lines: list[str] = []
    for typed in TYPED.split(text):
        own: list[str] = []
        for part in AFTER.split(typed):
            tried = own[-1] + part if own else part
            if own and width(tried) <= room:
                own[-1] = tried
            else:
                own += _pieces(part, room, width) if anywhere else [part]
        lines += own
    return tuple(lines)


def _pieces(part: str, room: float, width: Callable[[str], float]) -> list[str]:
    def bare(piece: str) -> float:
        return width(piece.rstrip(" \n"))

    found = list(letters(part))
    count = max(ceil(bare(part) / room), 1)
    while True:
        ends = [len(found) * i // count for i in range(count + 1)]
        pieces = ["".join(found[a:b]) for a, b in pairwise(ends)]
        if count >= len(found) or all(bare(piece) <= room for piece in pieces):
            return pieces
        count += 1
