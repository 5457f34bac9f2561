"""What is typed in the row against what the buyer wrote: most misspellings are copying errors."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import unicodedata2

from proofgen.flags import kinds
from proofgen.flags.flag import Flag

_ALIKE = str.maketrans(
    {
        "\u2018": "'",
        "\u2019": "'",
        "\u00b4": "'",
        "`": "'",
        "\u2013": "-",
        "\u2014": "-",
        "\u201c": '"',
        "\u201d": '"',
    }
)


def not_in_request(message: str, fields: Iterable[tuple[str, str, str]]) -> Iterator[Flag]:
    """A flag for each (field, text, where) of which a line does not stand in the message.

    Spaces, composed and decomposed accents, and the forms of quotes and dashes count as alike.
    """
    if not message:
        return
    asked = _plain(message)
    for _, text, where in fields:
        missing = [line for line in text.split("\n") if _plain(line) not in asked]
        if missing:
            yield Flag(kinds.NOT_IN_MESSAGE, where, ", ".join(f'"{line}"' for line in missing))


def _plain(text: str) -> str:
    return " ".join(unicodedata2.normalize("NFC", text).translate(_ALIKE).split())
