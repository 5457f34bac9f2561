"""Remainders of boards, by the ledger."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from proofgen.records.record import Entry
from proofgen.sheets.want import Wood

KEPT, GONE = "remainder", "remainder-gone"


@dataclass(frozen=True, slots=True)
class Remainder:
    """What is left of a board: the id that is pencilled on it, and its size in mm; `thickness` is
    None where that was not kept, as it was not at first.
    """

    id: str
    wood: Wood
    width: float
    height: float
    thickness: float | None = None


def kept(remainder: Remainder, at: str) -> Entry:
    """The line of the ledger for it."""
    wood = remainder.wood
    said = [
        *(wood.material, wood.finish),
        *(remainder.width, remainder.height, remainder.thickness),
    ]
    return Entry(at, KEPT, remainder.id, details=json.dumps(said))


def remainders(entries: Iterable[Entry]) -> tuple[Remainder, ...]:
    """Those that are there, the oldest first."""
    found: dict[str, Remainder] = {}
    for entry in entries:
        if entry.kind == GONE:
            found.pop(entry.subject, None)
        elif entry.kind == KEPT:
            material, finish, *size = json.loads(entry.details)
            found[entry.subject] = Remainder(entry.subject, Wood(material, finish), *size)
    return tuple(found.values())
