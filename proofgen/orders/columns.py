"""Which sheet and which row hold the headers, and which column is which."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import unicodedata2

from proofgen.errors import UnusableError
from proofgen.orders.sheet import Row, Sheet

NEEDED = ("order", "name", "design")
FIELDS = ("name", "year", "inscription")
OPTIONS = ("symbol", "finish", "hanger", "face", "size")
MONEY = ("quoted", "paid")
DAYS = ("due", "requested")
REMARKS = ("buyer", "approved", "message", "delivery", "do-not-ask")
OTHERS = ("quantity", *DAYS, *REMARKS, *MONEY)
KNOWN = tuple(dict.fromkeys((*NEEDED, *FIELDS, *OPTIONS, *OTHERS)))
# Other headers that people write, without case, spaces and punctuation.
ALIASES = {"ordernumber": "order", "orderno": "order", "qty": "quantity", "customer": "buyer"}
# Sheets that proofgen itself puts into a book beside the orders.
OURS = ("guide", "stock", "lists", "customers")


@dataclass(frozen=True, slots=True)
class Header:
    """The header row's number and width, and the column (from 1) of each known header in it."""

    row: int
    columns: Mapping[str, int]
    width: int


def plain(header: str) -> str:
    """A header without case, spaces and punctuation."""
    folded = unicodedata2.normalize("NFKC", header).casefold()
    return "".join(character for character in folded if character.isalnum())


def find(
    file: str, sheets: Sequence[Sheet], extra_fields: Collection[str], wanted: str = ""
) -> tuple[Sheet, Header]:
    """The one sheet with order headers, or the `wanted` one of several.

    UnusableError names file, sheet and columns if there is none.
    """
    sheets = _asked(file, sheets, wanted)
    names = dict.fromkeys((*KNOWN, *extra_fields))
    known = {**ALIASES, **{plain(name): name for name in names}}
    found = [
        (sheet, row)
        for sheet in sheets
        if (row := next((row for row in sheet.rows if _is_header(row, known)), None)) is not None
    ]
    if not found:
        raise UnusableError(_nothing(file, sheets, known))
    if len(found) > 1:
        listed = ", ".join(f'"{sheet.name}"' for sheet, _ in found)
        raise UnusableError(
            f"{file}: several sheets have order headers ({listed}); name one with --sheet"
        )
    sheet, row = found[0]
    return sheet, _header(file, sheet, row, known)


def _asked(file: str, sheets: Sequence[Sheet], wanted: str) -> Sequence[Sheet]:
    """The sheet of that name, or all but those that proofgen put there."""
    if not wanted:
        return [s for s in sheets if s.name.casefold() not in OURS] or sheets
    found = [s for s in sheets if s.name.strip().casefold() == wanted.strip().casefold()]
    if not found:
        listed = ", ".join(f'"{sheet.name}"' for sheet in sheets)
        raise UnusableError(f'{file}: there is no sheet "{wanted}"; there are {listed}.')
    return found


def _labels(row: Row, known: Mapping[str, str]) -> list[tuple[str, int]]:
    """The known headers in a row, with their columns."""
    labelled = ((plain(cell.text), column) for column, cell in sorted(row.cells.items()))
    return [(known[label], column) for label, column in labelled if label in known]


def _is_header(row: Row, known: Mapping[str, str]) -> bool:
    return {name for name, _ in _labels(row, known)}.issuperset(NEEDED)


def _header(file: str, sheet: Sheet, row: Row, known: Mapping[str, str]) -> Header:
    columns: dict[str, int] = {}
    for name, column in _labels(row, known):
        if name in columns:
            raise UnusableError(
                f'{file}, sheet "{sheet.name}": the header {name.capitalize()} stands twice '
                f"({row.cells[columns[name]].at} and {row.cells[column].at}); rename one of them"
            )
        columns[name] = column
    return Header(row.number, columns, row.width)


def _nothing(file: str, sheets: Sequence[Sheet], known: Mapping[str, str]) -> str:
    """The sentence for a book without a header row; it names the row that comes nearest."""
    best: tuple[int, str] = (0, "")
    for sheet in sheets:
        for row in sheet.rows:
            has = {name for name, _ in _labels(row, known)}
            missing = [name.capitalize() for name in NEEDED if name not in has]
            if len(has) > best[0] and len(missing) < len(NEEDED):
                lacking = " and ".join(missing)
                best = len(has), f'; row {row.number} of sheet "{sheet.name}" lacks {lacking}'
    listed = ", ".join(f'"{sheet.name}"' for sheet in sheets)
    return (
        f"{file}: no row has the headers Order, Name and Design (sheets: {listed}){best[1]}; "
        "add the missing headers to the top row of the orders"
    )
