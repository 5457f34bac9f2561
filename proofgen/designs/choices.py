"""Matching what a person typed with what there is."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from typing import Protocol, TypeVar

from proofgen.workshop.alike import plain


class Named(Protocol):
    """Anything with an id and a title."""

    @property
    def id(self) -> str:
        """The id that files use."""

    @property
    def title(self) -> str:
        """What a person reads."""


T = TypeVar("T", bound=Named)


def match(wanted: str, offered: Iterable[T]) -> T | None:
    """The one of that id or title, whatever its case, spacing and punctuation."""
    asked = plain(wanted)
    return next((one for one in offered if asked in _spellings(one)), None)


def closest(wanted: str, offered: Iterable[Named]) -> str:
    """The title that is spelled most like it, or an empty text where none is."""
    titles = {spelling: one.title for one in offered for spelling in _spellings(one)}
    found = get_close_matches(plain(wanted), titles, n=1, cutoff=0.5)
    return titles[found[0]] if found else ""


def quoted(text: str) -> str:
    """What was typed, for a sentence: in quotes, invisible characters escaped, not too long."""
    return repr(text if len(text) <= 40 else text[:40] + "…")


def _spellings(one: Named) -> tuple[str, str]:
    return plain(one.id), plain(one.title)
