"""Days as people write them."""

from __future__ import annotations

import re
from datetime import date, datetime

# Whole months and shortened ones, in English; what orders day and month is never guessed.
_ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_FORMATS = ("%Y/%m/%d", "%Y.%m.%d", "%Y%m%d", "%d.%m.%Y", "%d %B %Y", "%B %d %Y")
_SHORT = tuple(each.replace("%B", "%b") for each in _FORMATS if "%B" in each)
_PARTS = re.compile(r"(\d{1,2})[/\-](\d{1,2})[/\-](\d{4})")
# The "th" of "12th", commas, the full stop of "Dec.", "of", and the names of days.
_FILLING = re.compile(
    r"(?<=\d)(?:st|nd|rd|th)\b|,|(?<=[a-z])\.|\bof\b|\b(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\b",
    re.I,
)


def iso_day(text: str) -> str:
    """The day as an ISO date (ISO 8601, YYYY-MM-DD), or "" where it is none or could be two."""
    if _ISO.fullmatch(text):
        return _day(*map(int, text.split("-")))
    plain = " ".join(_FILLING.sub(" ", text).split())
    for form in (*_FORMATS, *_SHORT):
        try:
            return datetime.strptime(plain, form).date().isoformat()
        except ValueError:
            continue
    return _by_size(plain)


def _by_size(text: str) -> str:
    """A date in slashes, where only one of its numbers can be the month."""
    found = _PARTS.fullmatch(text)
    if not found:
        return ""
    first, second, year = map(int, found.groups())
    if first != second and first <= 12 and second <= 12:
        return ""
    day, month = (first, second) if second <= 12 else (second, first)
    return _day(year, month, day)


def _day(year: int, month: int, day: int) -> str:
    try:
        return date(year, month, day).isoformat()
    except ValueError:
        return ""
