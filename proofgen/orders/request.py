"""What is typed in the row against what the buyer wrote: most misspellings are copying errors."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import get_close_matches

import unicodedata2

from proofgen.flags import kinds
from proofgen.flags.flag import Flag

# Signs that a program changes while a text is typed or pasted.
_SIGNS = str.maketrans(
    dict.fromkeys("\u2018\u2019\u201a\u201b\u2032\u02bc\u0060\u00b4", "'")
    | dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u00ab\u00bb", '"')
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-")
)
_YEAR = re.compile(r"(?<!\d)(?:19|20)\d\d(?!\d)")
# A longer message is compared all the same, but nothing like the text is looked for in it.
_LONGEST_SEARCHED = 4000


def not_in_request(message: str, fields: Iterable[tuple[str, str]]) -> Iterator[Flag]:
    """A flag for each (text, where) of which a line does not stand in the message.

    Whole words count: "Ann" does not stand in "Anna". Spaces, composed and decomposed accents, and
    the forms of quotes and dashes count as alike. A blank message says nothing.
    """
    asked = _plain(message)
    if not asked:
        return
    for text, where in fields:
        missing = [line for line in text.split("\n") if not _stands(_plain(line), asked)]
        if missing:
            near = _nearest(_plain(missing[0]), asked)
            remedy = f'Compare it letter by letter with the message, which has "{near}".'
            said = ", ".join(f'"{line}"' for line in missing)
            yield Flag(kinds.NOT_IN_MESSAGE, where, said, remedy=remedy if near else "")


def other_year(message: str, year: str, where: str) -> Iterator[Flag]:
    """A flag where the message speaks of years, and not of the one that is lettered.

    Whoever asks seldom says the year, as it is the edition's.
    """
    named = dict.fromkeys(_YEAR.findall(message))
    if year and named and year not in named:
        remedy = f"Compare it with the message, which has {', '.join(named)}."
        yield Flag(kinds.NOT_IN_MESSAGE, where, f'"{year}"', remedy=remedy)


def _plain(text: str) -> str:
    return " ".join(unicodedata2.normalize("NFC", text).translate(_SIGNS).split())


def _stands(text: str, message: str) -> bool:
    return not text or any(
        not _joined(message[:at][-1:], text[0])
        and not _joined(text[-1], message[at + len(text) :][:1])
        for at in _places(text, message)
    )


def _places(text: str, message: str) -> Iterator[int]:
    at = message.find(text)
    while at >= 0:
        yield at
        at = message.find(text, at + 1)


def _joined(left: str, right: str) -> bool:
    """Whether both belong to one word or number. Scripts without capitals join words freely."""
    letters = left.lower() != left.upper() and right.lower() != right.upper()
    return letters or (left.isdigit() and right.isdigit())


def _nearest(text: str, message: str) -> str:
    """What is most like the text in the message, or an empty text."""
    if len(message) > _LONGEST_SEARCHED:
        return ""
    words, count = message.split(), len(text.split())
    runs = (" ".join(words[at : at + count]).strip(".,;:!?()\"'") for at in range(len(words)))
    found = get_close_matches(text, dict.fromkeys(runs), n=1, cutoff=0.6)
    return found[0] if found else ""
