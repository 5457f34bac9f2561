"""Other line breaks that a maker could type."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.designs.design import Slot
from proofgen.lettering.lines import broken, typed_lines


def other_breaks(text: str, slot: Slot) -> Iterator[tuple[str, ...]]:
    """Lines to type instead, at least two: fewer than were typed, the same broken anew, then more.

    Lines that were typed are rather joined than broken anew.
    """
    typed = typed_lines(text)
    words = " ".join(typed).split(" ")
    # A text without breaks of its own, or with too many, was tried on so many lines.
    kept = len(typed) if has_breaks(text, slot) else 0
    ways = [
        *(broken(parts, count) for count in range(kept - 1, 1, -1) for parts in (typed, words)),
        *([broken(words, kept)] if kept else []),
        *(broken(words, count) for count in range((kept or slot.lines) + 1, slot.lines_asked + 1)),
    ]
    yield from (lines for lines in dict.fromkeys(ways) if len(lines) > 1 and lines != typed)


def has_breaks(text: str, slot: Slot) -> bool:
    """Whether the line breaks of the text are those it is set with."""
    return 1 < len(typed_lines(text)) <= slot.lines_asked


def without_breaks(text: str) -> str:
    """The text in one line."""
    return " ".join(typed_lines(text))
