"""From an order book to lines."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from decimal import Decimal
from functools import partial
from itertools import chain
from pathlib import Path

from proofgen.errors import UnusableError
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders import cells, columns, repeats
from proofgen.orders.columns import Header
from proofgen.orders.order import Line, Order, Source
from proofgen.orders.package import look
from proofgen.orders.request import not_in_request, other_year
from proofgen.orders.sheet import Cell, Holds, Row, Sheet, column_letters
from proofgen.orders.spelling import doubts
from proofgen.orders.typography import typographic
from proofgen.workshop.workshop import Workshop

Rule = Callable[[Cell, str], tuple[str, tuple[Flag, ...]]]

_BLANK = Cell("")


def read_book(
    path: Path,
    workshop: Workshop,
    extra_fields: Collection[str] = (),
    sheet_name: str = "",
    skip_hidden: bool = False,
) -> tuple[tuple[Line, ...], tuple[Flag, ...]]:
    """The lines of an order book from the top, and flags about the book as a whole.

    `extra_fields` are lettered besides name, year and inscription; the header "Second name" stands
    for the field "second-name". `sheet_name` is needed where several sheets hold orders; rows that
    are hidden or filtered away are read like any other unless `skip_hidden`. Raises
    UnusableError where the book cannot be used.
    """
    extra_fields = [name for name in extra_fields if name not in columns.FIELDS]
    sheet, header = columns.find(path.name, sheets_of(path), extra_fields, sheet_name)
    hidden: list[int] = []
    lines = repeats.compared(
        _lines(path.name, sheet, header, extra_fields, workshop, hidden, skip_hidden)
    )
    about = _near(path.name, sheet, header), _hidden(path.name, sheet, hidden, skip_hidden)
    return lines, (*sheet.flags, *chain.from_iterable(about))


def typed(texts: Mapping[str, str], workshop: Workshop) -> Line:
    """A line from texts by column, without a book; every rule of a row holds for them."""
    header = Header(1, {column: number for number, column in enumerate(texts, 1)}, len(texts))
    row = Row(1, {header.columns[c]: Cell("", Holds.TEXT, text) for c, text in texts.items()})
    extra = [each for each in texts if each not in columns.KNOWN]
    return _line(Source("", "", 1), row, header, extra, workshop, {})


def _lines(
    file: str,
    sheet: Sheet,
    header: Header,
    extra: Collection[str],
    workshop: Workshop,
    hidden: list[int],
    skip_hidden: bool,
) -> Iterator[Line]:
    """The rows below the header, one at a time; numbers of hidden ones go into `hidden`."""
    letters = tuple((name, column_letters(column)) for name, column in header.columns.items())
    shared: dict[tuple[str, str], tuple[str, str]] = {}
    for row in sheet.rows:
        if row.number <= header.row or not _filled(row, header):
            continue
        if row.hidden:
            hidden.append(row.number)
            if skip_hidden:
                continue
        source = Source(file, sheet.name, row.number, letters, header.row)
        yield _line(source, row, header, extra, workshop, shared)


def sheets_of(path: Path) -> tuple[Sheet, ...]:
    """The sheets of a book of any kind that is understood; UnusableError for another."""
    data = _bytes(path)
    kind = path.suffix.lower()
    if kind in (".csv", ".tsv", ".txt"):
        from proofgen.orders.csv_book import read_csv

        return (read_csv(path, data),)
    if kind not in (".xlsx", ".xlsm"):
        look(path.name, data)
        raise UnusableError(f"{path.name}: save the orders as .xlsx, .xlsm or .csv.")
    from proofgen.orders.xlsx import read_sheets

    look(path.name, data)
    return read_sheets(path.name, data)


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError as error:
        raise UnusableError(
            f"{path} is not there; check the folder and the spelling of the name"
        ) from error
    except OSError as error:
        reason = error.strerror or str(error)
        raise UnusableError(
            f"{path} cannot be read ({reason}); give the path of an .xlsx book that you may open"
        ) from error


def _filled(row: Row, header: Header) -> bool:
    """Whether any known column has something of its own in this row."""
    found = (row.cells.get(column) for column in header.columns.values())
    return any(cell is not None and not cell.merged_from for cell in found)


def _near(file: str, sheet: Sheet, header: Header) -> Iterator[Flag]:
    for at, said, name in header.near:
        where = f'{file}, sheet "{sheet.name}" ({at})'
        meant = f'Rename it "{name.capitalize().replace("-", " ")}", if that is meant.'
        yield Flag(kinds.HEADER_UNKNOWN, where, f'"{said}"', remedy=meant)


def _hidden(file: str, sheet: Sheet, rows: list[int], skipped: bool) -> tuple[Flag, ...]:
    numbers = list(map(str, rows))
    if not numbers:
        return ()
    counted = "1 row is" if len(numbers) == 1 else f"{len(numbers)} rows are"
    where = f'{file}, sheet "{sheet.name}"'
    kind = kinds.ROWS_SKIPPED if skipped else kinds.ROWS_HIDDEN
    return (Flag(kind, where, counted, subject=", ".join(numbers)),)


def _line(
    source: Source,
    row: Row,
    header: Header,
    extra: Collection[str],
    workshop: Workshop,
    shared: dict[tuple[str, str], tuple[str, str]],
) -> Line:
    """One row; what could not be understood is left out and flagged.

    `shared` keeps (column, text) pairs once that many rows have alike.
    """
    lettered = ("name", "inscription", *extra)
    read, typed, flags = _texts(source, row, header, lettered, workshop)
    if row.width and row.width != header.width:
        flags.insert(0, Flag(kinds.ROW_WIDTH, source.where(), str(row.width), str(header.width)))
    said = ((read[field], source.where(field)) for field in lettered)
    flags += not_in_request(read["message"], said)
    flags += other_year(read["message"], read["year"], source.where("year"))
    money: dict[str, Decimal | None] = {}
    for column in columns.MONEY:
        cell, where = _cell(row, header, column), source.where(column)
        money[column], found = cells.money(cell, where, workshop.money, workshop.selling.currency)
        flags += found
    quantity, found = cells.quantity(_cell(row, header, "quantity"), source.where("quantity"))
    order = Order(
        number=read["order"],
        line=1,
        source=source,
        design=read["design"],
        fields=_chosen(read, (*columns.FIELDS, *extra), shared),
        options=_chosen(read, columns.OPTIONS, shared),
        typed=tuple(shared.setdefault(pair, pair) for pair in typed.items()),
        quantity=quantity,
        buyer=read["buyer"],
        due=read["due"],
        approved=read["approved"],
        message=read["message"],
        requested=read["requested"],
        delivery=read["delivery"],
        quoted=money["quoted"],
        paid=money["paid"],
        ask=read["do-not-ask"].casefold() in ("", "no"),
    )
    return Line(order, (*flags, *found))


def _texts(
    source: Source, row: Row, header: Header, lettered: Collection[str], workshop: Workshop
) -> tuple[dict[str, str], dict[str, str], list[Flag]]:
    """The texts of a row by column, those that were typed otherwise, and what was found."""
    rules: dict[str, Rule] = {
        "order": cells.order_number,
        "name": cells.name,
        "year": partial(cells.year, edition=workshop.edition_year),
        **{field: cells.wording for field in lettered if field != "name"},
        "design": cells.design,
        **dict.fromkeys(columns.OPTIONS, cells.choice),
        **dict.fromkeys(columns.DAYS, cells.day),
        **dict.fromkeys(columns.REMARKS, cells.remark),
    }
    flags: list[Flag] = []
    read: dict[str, str] = {}
    typed: dict[str, str] = {}
    for column, rule in rules.items():
        cell, where = _cell(row, header, column), source.where(column)
        value, found = rule(cell, where)
        flags += (*found, *cells.merged(cell, where))
        as_typed = "" if cell.blank else value
        if column in lettered:
            value, found = _wording(value, where, column == "name", workshop)
            flags += found
        if value != as_typed:
            typed[column] = as_typed
        read[column] = value
    return read, typed, flags


def _wording(
    value: str, where: str, name: bool, workshop: Workshop
) -> tuple[str, tuple[Flag, ...]]:
    """The text with its typography tidied, and what may be a slip in it."""
    changed: tuple[str, ...] = ()
    if workshop.typography:
        value, changed = typographic(value)
    flags = tuple(doubts(value, where, name=name))
    if changed:
        flags = (Flag(kinds.TYPOGRAPHY_TIDIED, where, " and ".join(changed)), *flags)
    return value, flags


def _cell(row: Row, header: Header, column: str) -> Cell:
    return row.cells.get(header.columns.get(column, 0), _BLANK)


def _chosen(
    read: Mapping[str, str],
    names: Iterable[str],
    shared: dict[tuple[str, str], tuple[str, str]],
) -> tuple[tuple[str, str], ...]:
    pairs = ((name, read[name]) for name in dict.fromkeys(names) if read[name])
    # Names are seldom alike, and to remember each of them would cost more than it saves.
    return tuple(pair if pair[0] == "name" else shared.setdefault(pair, pair) for pair in pairs)
