"""How a text may be broken into lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from proofgen.designs.design import Slot


def arrangements(text: str, slot: Slot) -> Iterator[tuple[str, ...]]:
    """Ways to break the text, fewest lines first; line breaks in the text are kept.

    A text with more breaks than the slot takes is broken anew as if they were spaces.
    """
    asked = typed_lines(text)
    if 1 < len(asked) <= slot.lines_asked:
        yield asked
        return
    words = " ".join(asked).split(" ")
    for count in range(1, slot.lines + 1):
        if count <= len(words):
            yield broken(words, count)


def typed_lines(text: str) -> tuple[str, ...]:
    """The lines of a text as they were typed, without blank ones."""
    return tuple(part for line in text.split("\n") if (part := " ".join(line.split())))


def broken(words: Sequence[str], count: int) -> tuple[str, ...]:
    """The words on `count` lines whose longest is as short as can be; an & begins its line."""
    places = [i for i in range(1, len(words)) if words[i - 1] != "&"] or list(range(1, len(words)))
    cuts = combinations(places, count - 1) if len(places) >= count - 1 else ()
    ways = [_lines(words, cut) for cut in cuts] or [(" ".join(words),)]
    return min(ways, key=lambda lines: max(map(len, lines)))


def _lines(words: Sequence[str], cuts: tuple[int, ...]) -> tuple[str, ...]:
    ends = [0, *cuts, len(words)]
    return tuple(" ".join(words[a:b]) for a, b in pairwise(ends))
