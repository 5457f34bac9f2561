"""Tidying typed text without changing what it says."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

import unicodedata2

# ECMA-376 Part 1, 22.9.2.19 (ST_Xstring): a character that XML cannot hold is written _xHHHH_.
_ESCAPE = re.compile(r"_x([0-9A-Fa-f]{4})_")
_BREAKS = re.compile("\r\n|[\r\n\v\f\u0085\u2028\u2029]")

# Invisible and without meaning in a name. The zero-width joiner and non-joiner are not among
# them: Persian and Indic spelling and emoji need both.
_INVISIBLE = frozenset(
    "\u00ad\u200b\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff"
)


def _of_bytes(first: int, last: int) -> str:
    """A class of the characters that those bytes are in cp1252."""
    return f"[{re.escape(bytes(range(first, last + 1)).decode('cp1252', 'ignore'))}]"


# Two to four bytes of UTF-8 (RFC 3629, section 4), each read as a character of its own.
_NEXT = _of_bytes(0x80, 0xBF)
_GARBLED = re.compile(
    f"{_of_bytes(0xC2, 0xDF)}{_NEXT}|{_of_bytes(0xE0, 0xEF)}{_NEXT}{{2}}"
    f"|{_of_bytes(0xF0, 0xF4)}{_NEXT}{{3}}"
)
# Only what begins letters of Latin-1, and quotes: others begin as real text may.
_GARBLED_MAC = re.compile("\u221a.|\u201a\u00c4.")


@dataclass(frozen=True, slots=True)
class Tidied:
    """Text in NFC; what was changed in its spaces, and the control characters left out."""

    text: str
    spaces: tuple[str, ...] = ()
    controls: tuple[str, ...] = ()


def tidy(raw: str, *, lines: bool = False) -> Tidied:
    """Plain single spaces, no invisible characters; line breaks become "\\n", or spaces."""
    if _is_tidy(raw):
        return Tidied(raw)
    spaces: dict[str, None] = {}
    controls: dict[str, None] = {}
    kept = []
    for character in _BREAKS.sub("\n", unescape(raw)):
        category = unicodedata2.category(character)
        if character in " \n":
            kept.append(character)
        elif category == "Zs" or character == "\t":
            spaces[_named(character)] = None
            kept.append(" ")
        elif character in _INVISIBLE:
            spaces[_named(character)] = None
        elif category == "Cc":
            controls[_named(character)] = None
        else:
            kept.append(character)
    text, trimmed = _trim(unicodedata2.normalize("NFC", "".join(kept)), lines)
    return Tidied(text, (*spaces, *trimmed), tuple(controls))


def _is_tidy(raw: str) -> bool:
    """Whether there is surely nothing to tidy, as in most cells of a large book."""
    plain = raw.isascii() and raw.isprintable() and "  " not in raw and "_x" not in raw
    return plain and raw == raw.strip(" ")


def unescape(raw: str) -> str:
    """Undo the spreadsheet's _xHHHH_ escapes; pairs of surrogates become one character."""
    text = _ESCAPE.sub(lambda found: chr(int(found[1], 16)), raw)
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


def repaired(text: str) -> str:
    """What garbled text was meant to be, UTF-8 once read as cp1252 or Mac Roman; empty if it is
    not garbled. Parts may be garbled, as when texts of two sources are joined."""
    meant = _GARBLED.sub(lambda found: _decoded(found[0], "cp1252"), text)
    meant = _GARBLED_MAC.sub(lambda found: _decoded(found[0], "mac_roman"), meant)
    return "" if meant == text else meant


def _decoded(part: str, codec: str) -> str:
    try:
        return part.encode(codec).decode("utf-8")
    except UnicodeError:
        return part


def most_marks(text: str) -> int:
    """The longest run of combining marks."""
    runs = groupby(text, key=lambda character: bool(unicodedata2.combining(character)))
    return max((len(list(run)) for marks, run in runs if marks), default=0)


def letters(text: str) -> Iterator[str]:
    """The characters of a text, each with the marks and joiners that belong to it."""
    letter = ""
    for character in text:
        mark = unicodedata2.category(character) in ("Mn", "Mc", "Me", "Cf")
        if letter and not mark:
            yield letter
            letter = ""
        letter += character
    if letter:
        yield letter


def in_words(parts: Iterable[str]) -> str:
    """A list as it is said: "a", "a and b", "a, b and c"."""
    *first, last = tuple(parts) or ("",)
    return f"{', '.join(first)} and {last}" if first else last


def _named(character: str) -> str:
    if character == "\t":
        return "tab"
    return str(unicodedata2.name(character, f"U+{ord(character):04X}")).lower()


def _trim(text: str, lines: bool) -> tuple[str, tuple[str, ...]]:
    rows = [" ".join(row.split(" ")).strip(" ") for row in text.split("\n")]
    tidied = [re.sub(" +", " ", row) for row in rows if row]
    found = []
    if text != text.strip(" \n"):
        found.append("spaces or line breaks at its ends")
    if any("  " in row for row in rows):
        found.append("doubled spaces")
    return ("\n" if lines else " ").join(tidied), tuple(found)
