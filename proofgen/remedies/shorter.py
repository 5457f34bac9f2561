"""Shorter texts that still say part of what was typed."""

from __future__ import annotations

from collections.abc import Callable, Iterator

# What ends no part of a text.
LOOSE = " -&,;:\u2013\u2014"
# What ends a clause; a full stop after fewer letters than this ends an abbreviation.
CLAUSE = ".,;:!?\u2013\u2014"
LETTERS = 4
# Words that a text does not end with, of a few languages (from memory).
JOINING = frozenset(
    word
    for words in (
        "a an and at by for from in into of on or the to with",
        "am an auf aus bei das dem den der die für im in mit und vom von zu zum zur",
        "à au aux avec chez dans de des du en et la le les par pour sur un une",
        "al con del el los las para por y",
        "av en för med och på till fra og til",
    )
    for word in words.split()
)
# More than this is named by how it begins.
NAMED = 60


def beginnings(text: str) -> list[str]:
    """All parts that begin the text and end with a word of it, the shortest first."""
    words = text.replace("-", "- ").split()
    parts = (_part(words[:count]) for count in range(1, len(words)))
    return [part for part in dict.fromkeys(parts) if part]


def clauses(text: str) -> list[str]:
    """Those beginnings that end with a clause, or where a line was typed to end."""
    words: list[str] = []
    parts: list[str] = []
    for line in text.split("\n"):
        for word in line.replace("-", "- ").split():
            words.append(word)
            if _ends_clause(word):
                parts.append(_part(words))
        parts.append(_part(words))
    whole = _part(words)
    return [part for part in dict.fromkeys(parts) if part and part != whole]


def shortened(text: str, fits: Callable[[str], bool]) -> str:
    """The longest beginning that fits; an empty text where none does.

    Rather one that ends with a clause, else one that ends with no joining word, if at least half
    as much of the text remains.
    """
    parts = beginnings(text)
    most = longest(parts, fits)
    sound = [part for part in parts if part.split()[-1].casefold() not in JOINING]
    for ends in (clauses(text), sound):
        enough = (part for part in reversed(ends) if len(most) <= 2 * len(part) <= 2 * len(most))
        found = next(filter(fits, enough), "")
        if found:
            return found
    return most


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


def abbreviated(name: str) -> Iterator[tuple[str, str]]:
    """First name and initial, initial and last name, then the first letter, of each of the people
    that & joins; with the words of which nothing is left.
    """
    people = [words for side in name.split("&") if (words := side.split())]
    for short in (_given, _family, _letter):
        kept, dropped = zip(*map(short, people), strict=True)
        text = " & ".join(kept)
        if text != " & ".join(map(" ".join, people)):
            yield text, ", ".join(filter(None, dropped))


def dropped(text: str, part: str) -> str:
    """What to drop so that this beginning is left, for a sentence: nothing goes unsaid."""
    rest = " ".join(text.split()).removeprefix(part).strip(LOOSE)
    if len(rest) <= NAMED:
        return f'Drop "{rest}"'
    head = rest[: NAMED // 2].rpartition(" ")[0] or rest[: NAMED // 2]
    return f'Drop all from "{head.rstrip(LOOSE)}" on'


def without(text: str, characters: str) -> str:
    """The text without those characters, its line breaks kept."""
    lines = ("".join(c for c in line if c not in characters) for line in text.split("\n"))
    return "\n".join(kept for line in lines if (kept := " ".join(line.split())))


def _given(words: list[str]) -> tuple[str, str]:
    last = [f"{words[-1][0]}."] if len(words) > 1 else []
    return " ".join([words[0], *last]), " ".join(words[1:-1])


def _family(words: list[str]) -> tuple[str, str]:
    first = [f"{words[0][0]}."] if len(words) > 1 else []
    return " ".join([*first, words[-1]]), " ".join(words[1:-1])


def _letter(words: list[str]) -> tuple[str, str]:
    return f"{words[0][0]}.", " ".join(words[1:])


def _ends_clause(word: str) -> bool:
    abbreviation = word.endswith(".") and len(word) <= LETTERS
    return word[-1] in CLAUSE and not abbreviation


def _part(words: list[str]) -> str:
    return " ".join(words).replace("- ", "-").rstrip(LOOSE)
