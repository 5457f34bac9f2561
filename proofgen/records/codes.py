"""Proof codes in what a buyer wrote."""

from __future__ import annotations

import re
from collections.abc import Collection

from proofgen.artwork.proofcode import DASHES, LENGTH, normal_code

# Letters that people take for one another; the first of each group stands for all of it.
_ALIKE = ("0OQD", "1IL7T", "5S", "2Z", "8B", "UV", "6G", "4A")
_FOLDED = str.maketrans({letter: group[0] for group in _ALIKE for letter in group})

# Two halves with a dash or two between, or in one piece; a code within a longer word is none.
_CODE = re.compile(
    rf"(?<![^\W_])[0-9A-Za-z]{{4}}\s?[{DASHES}\s]{{0,2}}\s?[0-9A-Za-z]{{4}}(?![^\W_])"
)


def found_codes(text: str, known: Collection[str]) -> tuple[tuple[str, str], ...]:
    """(code, as typed) of each code in the text, in its order.

    `known` are the codes of the order. One of them is found even with letters that look alike;
    any other only as it is, by its check character, and with a digit, so that no two words are
    taken for it.
    """
    found = []
    start = 0
    while match := _CODE.search(text, start):
        code = _read(match[0], known)
        if code:
            found.append((code, match[0]))
        # Not beyond the first half, as the second may begin the code.
        start = match.end() if code else match.start() + 1
    return tuple(found)


def _read(typed: str, known: Collection[str]) -> str:
    code = normal_code(typed)
    if code in known:
        return code or ""
    alike = [each for each in known if _folded(each) == _folded(typed)]
    if len(alike) == 1:
        return alike[0]
    return code if code and any(letter.isdigit() for letter in typed) else ""


def _folded(code: str) -> str:
    letters = re.sub(rf"[\s{DASHES}]", "", code).upper()
    return letters.translate(_FOLDED) if len(letters) == LENGTH + 1 else code
