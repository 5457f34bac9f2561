"""A picture that was shown to a buyer."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.orders.order import Order

Cells = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Record:
    """What is kept of a picture. `cells` are those that feed the artwork, by column, as read.

    `artwork` is the SHA-256 of the recorded artwork; `design_sha256` that of the design as it was,
    `faces` are ids with the SHA-256 of their files; `made` is an ISO time in UTC.
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


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened to a piece: `kind` is made, packed, collected and the like.

    `at` is an ISO time in UTC, `details` whatever the kind needs, as text.
    """

    at: str
    kind: str
    number: str
    line: int
    code: str = ""
    details: str = ""


def feeding(order: Order) -> Cells:
    """The cells of a line that feed its artwork, by column, in the order of columns' names."""
    options = tuple((name, text.casefold().strip()) for name, text in order.options)
    design = ("design", order.design.casefold().strip())
    return tuple(sorted((*order.fields, *options, design)))


def agrees(record: Record, order: Order) -> bool:
    """Whether the line still asks for what the picture shows."""
    return record.cells == feeding(order)


def changed(then: Cells, now: Cells) -> tuple[tuple[str, str, str], ...]:
    """(column, old, new) of each cell that differs; an empty text where there was or is none."""
    old, new = dict(then), dict(now)
    columns = sorted({*old, *new})
    pairs = ((column, old.get(column, ""), new.get(column, "")) for column in columns)
    return tuple(pair for pair in pairs if pair[1] != pair[2])
