"""Shorter texts that still say part of what was typed."""

from __future__ import annotations

from collections.abc import Callable, Iterator

# What ends no part of a text.
LOOSE = " -&,;"


def beginnings(text: str) -> list[str]:
    """All parts that begin the text and end with a word of it, the shortest first."""
    words = text.replace("-", "- ").split()
    parts = (_part(words[:count]) for count in range(1, len(words)))
    return [part for part in dict.fromkeys(parts) if part]


def longest(parts: list[str], fits: Callable[[str], bool]) -> str:
    """The longest part that fits, of parts the shortest first; an empty text where none does.

    Whatever begins a text that fits almost always fits too, so the number is halved; only where
    that finds nothing is every one tried.
    """
    low, high = -1, len(parts)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fits(parts[middle]) else (low, middle)
    if low >= 0:
        return parts[low]
    return next((part for part in reversed(parts) if fits(part)), "")


def abbreviated(name: str) -> Iterator[str]:
    """First name and initial, initial and last name, then the first letter."""
    words = name.split()
    if len(words) > 1:
        yield f"{words[0]} {words[-1][0]}."
        yield f"{words[0][0]}. {words[-1]}"
    yield f"{words[0][0]}."


def left_out(text: str, part: str) -> str:
    """What follows a beginning of the text, without what joins the two."""
    whole = " ".join(text.split())
    return whole.removeprefix(part).strip(LOOSE)


def without(text: str, characters: str) -> str:
    """The text without those characters, its line breaks kept."""
    lines = ("".join(c for c in line if c not in characters) for line in text.split("\n"))
    return "\n".join(kept for line in lines if (kept := " ".join(line.split())))


def _part(words: list[str]) -> str:
    return " ".join(words).replace("- ", "-").rstrip(LOOSE)
