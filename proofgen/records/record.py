"""A picture that was shown to a buyer."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime

from proofgen.orders.order import Order

Cells = tuple[tuple[str, str], ...]
# What the text of a column means: the id for a title, the usual choice for a blank.
Meant = Callable[[str, str], str]


@dataclass(frozen=True, slots=True)
class Record:
    """What is kept of a picture. `cells` are those that feed the artwork, by column, as read.

    `artwork` is the SHA-256 of the recorded artwork; `design_sha256` that of the design as it was,
    `faces` are ids with the SHA-256 of their files; `made` is an ISO time in UTC. `meant` says what
    each column asked for then, such as the edition's year for a blank; records of the first format
    have none. `finishes` are ids with the tones that they had; older records have none.
    """

    number: str
    line: int
    code: str
    cells: Cells
    quantity: int
    buyer: str
    quoted: str
    artwork: str
    design: str
    design_sha256: str
    faces: Cells
    made: str
    meant: Cells = ()
    finishes: Cells = ()


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened to a piece: `kind` is made, packed, collected and the like.

    `at` is an ISO time in UTC, `code` says which piece of the order (see `piece_key`), `details`
    whatever the kind needs, as text. Events of the first format have no code, and only a line.
    """

    at: str
    kind: str
    number: str
    line: int
    code: str = ""
    details: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the workshop's ledger: stock, sheets, remainders, and layers made and spoiled.

    `at` is an ISO time in UTC; `subject` names what it is about, `amount` counts.
    """

    at: str
    kind: str
    subject: str
    amount: int = 0
    details: str = ""


def now() -> str:
    """The time for the records: ISO, in UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def feeding(order: Order) -> Cells:
    """The cells of a line that feed its artwork as they stand, by column, in the order of columns'
    names, without blank ones.
    """
    cells = {**dict(order.fields), **dict(order.options), "design": order.design}
    cells.update(order.typed)
    return tuple(sorted((column, text) for column, text in cells.items() if text))


def piece_key(order: Order, code: str) -> str:
    """What tells the pieces of an order apart wherever their rows stand: the proof code, for a line
    that has none a digest of its cells.
    """
    if code:
        return code
    told = json.dumps(feeding(order), ensure_ascii=False)
    return f"cells:{hashlib.sha256(told.encode('utf-8', 'surrogatepass')).hexdigest()[:16]}"


def changed(record: Record, order: Order, meant: Meant) -> tuple[tuple[str, str, str], ...]:
    """(column, old, new) of each cell that asks for something else than the picture shows; an empty
    text where there was or is none.

    A cell as it was asks for the same, even if a blank now means something else.
    """
    old, new = dict(record.cells), dict(feeding(order))
    pairs = ((c, old.get(c, ""), new.get(c, "")) for c in sorted({*old, *new}))
    return tuple(
        (column, was, now)
        for column, was, now in pairs
        if was != now and _meant_then(record, column, meant) != meant(column, now)
    )


def asked_alike(record: Record, order: Order, meant: Meant) -> bool:
    """Whether the line asks today for what the picture shows, blanks by what they mean today."""
    old, new = dict(record.cells), dict(feeding(order))
    columns = {*old, *new, *dict(record.meant)}
    return all(_meant_then(record, c, meant) == meant(c, new.get(c, "")) for c in columns)


def _meant_then(record: Record, column: str, meant: Meant) -> str:
    then = dict(record.meant)
    return then[column] if column in then else meant(column, dict(record.cells).get(column, ""))
