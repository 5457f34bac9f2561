"""From an order book to lines."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from functools import partial
from pathlib import Path

from proofgen.errors import UnusableError
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders import cells, columns, repeats
from proofgen.orders.columns import Header
from proofgen.orders.order import Line, Order, Source
from proofgen.orders.sheet import Cell, Row, Sheet, address
from proofgen.workshop.workshop import Workshop

Rule = Callable[[Cell, str], tuple[str, tuple[Flag, ...]]]

_BLANK = Cell("")


def read_book(
    path: Path, workshop: Workshop, extra_fields: Collection[str] = ()
) -> tuple[tuple[Line, ...], tuple[Flag, ...]]:
    """The lines of an order book from the top, and flags about the book as a whole.

    `extra_fields` are lettered besides name, year and inscription; the header "Second name"
    stands for the field "second-name". Raises UnusableError where the book cannot be used.
    """
    extra_fields = [name for name in extra_fields if name not in columns.FIELDS]
    sheet, header = columns.find(path.name, _sheets(path), extra_fields)
    rows = [row for row in sheet.rows if row.number > header.row and _filled(row, header)]
    lines = (
        _line(
            _source(path.name, sheet, row, header), row, header, extra_fields, workshop.edition_year
        )
        for row in rows
    )
    return repeats.compared(lines), _hidden(path.name, sheet, rows)


def _sheets(path: Path) -> tuple[Sheet, ...]:
    """The sheets of a book of any kind that is understood."""
    if path.suffix.lower() != ".xlsx":
        raise UnusableError(f"{path} is not an .xlsx book; save the orders as .xlsx")
    from proofgen.orders.xlsx import read_sheets

    return read_sheets(path)


def _filled(row: Row, header: Header) -> bool:
    """Whether any known column has something of its own in this row."""
    found = (row.cells.get(column) for column in header.columns.values())
    return any(cell is not None and not cell.merged_from for cell in found)


def _hidden(file: str, sheet: Sheet, rows: list[Row]) -> tuple[Flag, ...]:
    numbers = [str(row.number) for row in rows if row.hidden]
    if not numbers:
        return ()
    counted = "1 row is" if len(numbers) == 1 else f"{len(numbers)} rows are"
    where = f'{file}, sheet "{sheet.name}"'
    return (Flag(kinds.ROWS_HIDDEN, where, counted, subject=", ".join(numbers)),)


def _line(source: Source, row: Row, header: Header, extra: Collection[str], edition: int) -> Line:
    """One row; what could not be understood is left out and flagged."""
    rules: dict[str, Rule] = {
        "order": cells.order_number,
        "name": cells.name,
        "year": partial(cells.year, edition=edition),
        **dict.fromkeys(("inscription", *extra), cells.wording),
        "design": cells.design,
        **dict.fromkeys(columns.OPTIONS, cells.choice),
        **dict.fromkeys(("buyer", "due", "approved"), cells.remark),
    }
    flags: list[Flag] = []
    read: dict[str, str] = {}
    for column, rule in rules.items():
        cell = _cell(row, header, column)
        read[column], found = rule(cell, source.where(column))
        flags += (*found, *cells.merged(cell, source.where(column)))
    quantity, found = cells.quantity(_cell(row, header, "quantity"), source.where("quantity"))
    order = Order(
        number=read["order"],
        line=1,
        source=source,
        design=read["design"],
        fields=_chosen(read, (*columns.FIELDS, *extra)),
        options=_chosen(read, columns.OPTIONS),
        quantity=quantity,
        buyer=read["buyer"],
        due=read["due"],
        approved=read["approved"],
    )
    return Line(order, (*flags, *found))


def _source(file: str, sheet: Sheet, row: Row, header: Header) -> Source:
    found = tuple((name, address(column, row.number)) for name, column in header.columns.items())
    return Source(file, sheet.name, row.number, found)


def _cell(row: Row, header: Header, column: str) -> Cell:
    return row.cells.get(header.columns.get(column, 0), _BLANK)


def _chosen(read: Mapping[str, str], names: Iterable[str]) -> tuple[tuple[str, str], ...]:
    return tuple((name, read[name]) for name in dict.fromkeys(names) if read[name])
