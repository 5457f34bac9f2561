"""Typed stand-ins made into the characters that are meant."""

from __future__ import annotations

import re

_APOSTROPHE = re.compile(r"(?<=[^\W\d_])['\u00b4`](?=[^\W\d_])")
# Between two years or days, with or without spaces.
_RANGE = re.compile(r"(?<=\d{4})( ?)-( ?)(?=\d{4}\b)|(?<=\b\d{4})( )-( )(?=\d)")


def typographic(text: str) -> tuple[str, tuple[str, ...]]:
    """The text, and what was changed in it: apostrophes between letters, dashes between years."""
    changed = []
    with_apostrophes = _APOSTROPHE.sub("\u2019", text)
    if with_apostrophes != text:
        changed.append("an apostrophe (\u2019)")
    done = _RANGE.sub(lambda m: f"{m[1] or m[3] or ''}\u2013{m[2] or m[4] or ''}", with_apostrophes)
    if done != with_apostrophes:
        changed.append("a dash between years (\u2013)")
    return done, tuple(changed)
