"""File names made from what somebody typed."""

from __future__ import annotations

from hashlib import sha256

import unicodedata2

LONGEST = 60  # bytes in UTF-8, so that an ending and a layer's name still fit anywhere
_LONGEST_NUMBER = 20
# Latin letters that Unicode does not take apart, as they are usually written without their marks.
_PLAIN = str.maketrans("ĐđÐðŁłØøĦħŦŧıƏəŊŋ", "DdDdLlOoHhTtiAaNn") | str.maketrans(
    {"Þ": "Th", "þ": "th", "ß": "ss", "ẞ": "SS", "Æ": "AE", "æ": "ae", "Œ": "OE", "œ": "oe"}
)


def stem(name: str, number: str, line: int, code: str) -> str:
    """A file name without ending for a piece, such as "Zoe-Quayle-1042-K7MT-4Q2A", of letters,
    digits, "-" and "_"; a line after the first stands as in "1042_2".

    Pieces that differ do not share one, whatever rows they stand in. The ending also keeps it apart
    from the names that Windows reserves, and without dots and slashes it cannot leave its folder.
    """
    further = f"_{line}" if line > 1 else ""
    suffix = "-".join(filter(None, (f"{_number(number)}{further}", code)))
    name = _cut(_safe(name), LONGEST - len(suffix.encode()) - 1) or "piece"
    return f"{name}-{suffix}"


def order_stem(number: str) -> str:
    """A file name without ending for a whole order, such as "order-1042"."""
    return f"order-{_number(number)}"


def _number(number: str) -> str:
    """The number; where that may not stand in a file name, as far as it may, and a digest of it,
    which keeps "7.1" apart from "7-1", and "k-7" from "K-7" where the case of files is nothing.
    """
    safe = _cut(_safe(number), _LONGEST_NUMBER)
    return (
        safe
        if safe == number == number.upper()
        else f"{safe}_x{sha256(number.encode()).hexdigest()[:6]}"
    )


def _safe(text: str) -> str:
    """Letters and digits, marks dropped, all else as single "-"; other scripts stay."""
    plain = unicodedata2.normalize("NFKD", text).translate(_PLAIN)
    kept = "".join(
        character if character.isalnum() else "-"
        for character in plain
        if unicodedata2.category(character) not in ("Mn", "Cf")
    )
    return "-".join(filter(None, kept.split("-")))


def _cut(text: str, size: int) -> str:
    """The start of the text in at most `size` bytes of UTF-8."""
    return text.encode()[:size].decode(errors="ignore").strip("-")
