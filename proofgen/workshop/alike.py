"""What a person types means one thing of the workshop and no other."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from proofgen.errors import UnusableError
from proofgen.workshop.workshop import Finish, Hanger


# The same ids and titles are compared with what is typed in every row.
@lru_cache(maxsize=1024)
def plain(text: str) -> str:
    """How names are compared: letters and digits only, without case."""
    return "".join(c for c in text.casefold() if c.isalnum())


def refuse_alike(kind: str, there: Sequence[Finish] | Sequence[Hanger], place: str) -> None:
    """UnusableError where a cell could mean two of them, by their ids or titles."""
    taken: dict[str, str] = {}
    for each in there:
        for text in (each.title, each.id):
            other = taken.setdefault(plain(text), each.id)
            if other != each.id:
                raise UnusableError(
                    f"{place}, {kind}.{each.id}: a cell with '{text}' could also mean "
                    f"{kind}.{other}; give one of the two another title or id."
                )
