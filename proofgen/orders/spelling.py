"""What looks like a slip in a name or wording. Nothing is changed: a person looks."""

from __future__ import annotations

import re
from collections.abc import Iterator

import unicodedata2

from proofgen.flags import kinds
from proofgen.flags.flag import Flag

# A digit within letters, or at the end of a word that is letters otherwise.
_DIGIT = re.compile(r"\b(?=\w*[^\W\d_]{2})\w*?(?:[^\W\d_][015]|[015][^\W\d_])\w*")
# Fourth, first, 1990s are words as they are.
_ORDINAL = re.compile(r"\d+(?:st|nd|rd|th|s|mm|cm|m|h)?", re.IGNORECASE)
# A capital I among small letters, or a small l before a consonant where a word begins.
_BAR = re.compile(r"\b(?:(?!Ma?c|De|Di|Fitz|Van)\w*[a-z]I[a-z]\w*|l[bcdfghjkmnpqrstvwxz]\w*)")
_DOUBLED = re.compile(r"\b([^\W\d_]{2,})\s+\1\b", re.IGNORECASE)
_STRAY = re.compile(r"[?*|\\_~^{}\[\];`¿¤§¨¬¦]")

LONG = 4  # letters from which all capitals or all small ones are no initials
SCRIPTS = ("LATIN", "CYRILLIC", "GREEK", "HEBREW", "ARABIC", "ARMENIAN", "GEORGIAN")


def doubts(text: str, where: str, *, name: bool) -> Iterator[Flag]:
    """A flag for each thing that may be a slip; `name` asks for capitals and scripts too."""
    alike = list(_alike(text))
    if alike:
        yield Flag(kinds.LETTERS_ALIKE, where, ", ".join(f'"{word}"' for word in alike))
    doubled = _DOUBLED.search(text)
    if doubled:
        yield Flag(kinds.WORD_DOUBLED, where, f'"{doubled[0]}"')
    stray = dict.fromkeys(_STRAY.findall(text))
    if stray:
        yield Flag(kinds.CHARACTER_STRAY, where, " ".join(stray))
    if name and not alike:
        yield from _case(text, where)
    if name:
        yield from _scripts(text, where)


def _case(text: str, where: str) -> Iterator[Flag]:
    cased = [c for c in text if c.lower() != c.upper()]
    if len(cased) >= LONG and all(c.isupper() for c in cased):
        yield Flag(kinds.CASE_UNUSUAL, where, "capitals only", remedy=_usual(text))
    elif cased and all(c.islower() for c in cased):
        yield Flag(kinds.CASE_UNUSUAL, where, "small letters only", remedy=_usual(text))


def _scripts(text: str, where: str) -> Iterator[Flag]:
    letters = [c for c in text if c.isalpha()]
    scripts = dict.fromkeys(script for c in letters if (script := _script(c)))
    if len(scripts) > 1:
        mixed = " and ".join(script.capitalize() for script in scripts)
        odd = [c for c in letters if _script(c) == list(scripts)[-1]]
        yield Flag(kinds.SCRIPTS_MIXED, where, mixed, subject=" ".join(dict.fromkeys(odd)))


def _usual(text: str) -> str:
    return f'Type "{text.title()}", if that is meant.'


def _alike(text: str) -> Iterator[str]:
    for found in _DIGIT.finditer(text):
        if not _ORDINAL.fullmatch(found[0]):
            yield found[0]
    yield from (found[0] for found in _BAR.finditer(text))


def _script(character: str) -> str:
    name = str(unicodedata2.name(character, ""))
    return next((script for script in SCRIPTS if name.startswith(script)), "")
