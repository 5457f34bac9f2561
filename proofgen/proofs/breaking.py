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
    that is wider: it then has lines of about as many letters each. A line break in the text stands
    at the end of its line.

    A part that is wider and may not be broken is a line by itself.
    """
    lines: list[str] = []
    for typed in TYPED.split(text):
        own: list[str] = []
        for part in AFTER.split(typed):
            tried = own[-1] + part if own else part
            if own and width(tried.rstrip(" ")) <= room:
                own[-1] = tried
            else:
                own += _pieces(part, room, width) if anywhere else [part]
        lines += own
    return tuple(line.strip(" ") for line in lines)


def _pieces(part: str, room: float, width: Callable[[str], float]) -> list[str]:
    found = list(letters(part))
    count = max(ceil(width(part) / room), 1)
    while True:
        ends = [len(found) * i // count for i in range(count + 1)]
        pieces = ["".join(found[a:b]) for a, b in pairwise(ends)]
        if count >= len(found) or all(width(piece) <= room for piece in pieces):
            return pieces
        count += 1
