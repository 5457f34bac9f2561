"""One line of an order."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from proofgen.flags.flag import Flag

ORDER = "order"  # the field that is the order's own number


@dataclass(frozen=True, slots=True)
class Source:
    """Where a line was read: file name, sheet, row from 1, and the letters of each column found.

    `header` is the row of the headers.
    """

    file: str
    sheet: str
    row: int
    columns: tuple[tuple[str, str], ...] = ()
    header: int = 0

    def where(self, column: str = "") -> str:
        """For a sentence: "row 12, name (B12)", or "row 12" without a column."""
        if not column:
            return f"row {self.row}"
        letters = dict(self.columns).get(column)
        return f"row {self.row}, {column}" + (f" ({letters}{self.row})" if letters else "")


@dataclass(frozen=True, slots=True)
class Order:
    """One line of an order; several lines may share a number.

    `line` counts the lines of that number from 1. `fields` are the texts that may be lettered
    (name, year, inscription, whatever a design names), in NFC, without blank ones; `typed` are the
    cells of those that were not taken as they stood: quotes tidied, a blank year filled in.
    `options` are the choices (symbol, finish, hanger, face, size). `due` is an ISO date or as
    typed, `requested` the same for the day when the buyer asked. `message` is what the buyer wrote,
    `quoted` and `paid` are sums of money, None where the cell is blank; `ask` says whether the
    buyer may be asked again next year.
    """

    number: str
    line: int
    source: Source
    design: str
    fields: tuple[tuple[str, str], ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    typed: tuple[tuple[str, str], ...] = ()
    quantity: int = 1
    buyer: str = ""
    due: str = ""
    approved: str = ""
    message: str = ""
    requested: str = ""
    delivery: str = ""
    quoted: Decimal | None = None
    paid: Decimal | None = None
    ask: bool = True

    def field(self, name: str) -> str:
        """The text of a field, or an empty one; the order's number for the field "order"."""
        return self.number if name == ORDER else dict(self.fields).get(name, "")

    @property
    def booked(self) -> bool:
        """Whether it stands in a book; else somebody asks what could be had."""
        return bool(self.source.file)

    @property
    def called(self) -> str:
        """The name on one line, or an empty text."""
        return " ".join(self.field("name").split())

    def option(self, name: str) -> str:
        """A choice, or an empty text."""
        return dict(self.options).get(name, "")

    def where(self, column: str = "") -> str:
        """Where a flag about this line points."""
        return self.source.where(column)


@dataclass(frozen=True, slots=True)
class Line:
    """A row as it was read: the order as far as it could be understood, and what was wrong."""

    order: Order
    flags: tuple[Flag, ...] = ()
