"""What looks like a slip in a name or wording. Nothing is changed: a person looks."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

import unicodedata2

from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.text import repaired

# A digit beside a letter, in a word of at least two letters.
_DIGIT = re.compile(r"\b(?=(?:\w*?[^\W\d_]){2})(?=\w*?(?:[^\W\d_][015]|[015][^\W\d_]))\w+")
# Fourth, first, 1990s are words as they are.
_ORDINAL = re.compile(r"\d+(?:st|nd|rd|th|s|mm|cm|m|h|am|pm)?", re.IGNORECASE)
# A capital I among or after small letters, two of them before some, or a small l before a consonant
# where a word begins. IInd and IIe are the second, and
# hI begins Irish names.
_BAR = re.compile(
    r"\b(?:(?!Ma?c|De|Di|Fitz|Van|[hnt]I)\w*[a-z]I[a-z]\w*|\w*[a-z]I|II(?!nd\b|e\b)[a-z]\w*"
    r"|l[bcdfghjkmnpqrstvwxz]\w*)\b"
)
# Jo-Jo is a name, Anna-Anna seldom.
_DOUBLED = re.compile(
    r"\b(?:([^\W\d_]{2,})\s+\1|([^\W\d_]{3,})\s?[\-\u2010-\u2015]\s?\2)\b", re.IGNORECASE
)
_STRAY = re.compile(r"[?*|\\_~^{}\[\];`¿¤§¨¬¦]")

_WORD = re.compile(r"[^\W\d_]+")

LONG = 4  # letters from which all capitals or all small ones are no initials
# As the names of their letters begin in the Unicode Character Database.
SCRIPTS = (
    *("LATIN", "CYRILLIC", "GREEK", "HEBREW", "ARABIC", "ARMENIAN", "GEORGIAN", "ETHIOPIC"),
    *("DEVANAGARI", "BENGALI", "GURMUKHI", "GUJARATI", "TAMIL", "TELUGU", "KANNADA", "MALAYALAM"),
    *("SINHALA", "THAI", "LAO", "KHMER", "MYANMAR", "TIBETAN", "MONGOLIAN", "CHEROKEE"),
    *("CJK", "HIRAGANA", "KATAKANA", "HANGUL", "BOPOMOFO"),
)
_SHOWN = {"CJK": "Han"}
# Written together in one language (UTS 39, section 5.1).
_TOGETHER = ({"CJK", "HIRAGANA", "KATAKANA"}, {"CJK", "HANGUL"}, {"CJK", "BOPOMOFO"})


def doubts(text: str, where: str, *, name: bool) -> Iterator[Flag]:
    """A flag for each thing that may be a slip; `name` asks for capitals and scripts too."""
    alike = list(_alike(text))
    if alike:
        yield Flag(kinds.LETTERS_ALIKE, where, ", ".join(f'"{word}"' for word in alike))
    doubled = _DOUBLED.search(text)
    if doubled:
        yield Flag(kinds.WORD_DOUBLED, where, f'"{doubled[0]}"')
    stray = dict.fromkeys((*_STRAY.findall(text), *_unpaired(text)))
    if stray:
        yield Flag(kinds.CHARACTER_STRAY, where, " ".join(stray))
    if name and not alike and not repaired(text):
        yield from _case(text, where)
    if name:
        yield from _scripts(text, where)


def _case(text: str, where: str) -> Iterator[Flag]:
    cased = [c for c in text if c.lower() != c.upper()]
    if text == text.title():
        return
    if len(cased) >= LONG and all(c.isupper() for c in cased):
        yield Flag(kinds.CASE_UNUSUAL, where, "capitals only", remedy=_usual(text))
    elif cased and all(c.islower() for c in cased):
        yield Flag(kinds.CASE_UNUSUAL, where, "small letters only", remedy=_usual(text))
    elif any(map(_upside_down, _WORD.findall(text))):
        yield Flag(kinds.CASE_UNUSUAL, where, "capitals in odd places", remedy=_usual(text))


def _upside_down(word: str) -> bool:
    """Whether capitals stand where small letters do and the other way round: aNNA, AnnA."""
    locked = len(word) >= LONG and word[0].islower() and word[1:].isupper()
    return locked or (len(word) >= LONG and word[-1].isupper() and word[1:-1].islower())


def _unpaired(text: str) -> Iterator[str]:
    """Straight quotes and brackets of which there is one too many."""
    if text.count('"') % 2:
        yield '"'
    if text.count("(") != text.count(")"):
        yield "(" if text.count("(") > text.count(")") else ")"


def _scripts(text: str, where: str) -> Iterator[Flag]:
    letters = [(c, script) for c in text if c.isalpha() and (script := _script(c))]
    count = Counter(script for _, script in letters)
    if len(count) > 1 and not any(count.keys() <= each for each in _TOGETHER):
        mixed = " and ".join(_SHOWN.get(script, script.capitalize()) for script in count)
        # The odd ones are those of which there are fewer, or else those that come later.
        rarest = min(reversed(count), key=count.__getitem__)
        odd = dict.fromkeys(c for c, script in letters if script == rarest)
        yield Flag(kinds.SCRIPTS_MIXED, where, mixed, subject=" ".join(odd))


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
