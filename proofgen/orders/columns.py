"""Which sheet and which row hold the headers, and which column is which."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

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
# What people head a column with that they may mean for one of ours: asked about, never taken.
MEANT = {
    **dict.fromkeys(("price", "amount", "total"), "quoted"),
    **dict.fromkeys(("deposit", "received"), "paid"),
    **dict.fromkeys(("colour", "color", "stain"), "finish"),
    **dict.fromkeys(("deadline", "needed", "handover"), "due"),
    **dict.fromkeys(("approval", "confirmed"), "approved"),
    **dict.fromkeys(("client", "recipient"), "buyer"),
    **dict.fromkeys(("pieces", "count"), "quantity"),
    **dict.fromkeys(("ribbon", "cord"), "hanger"),
    "font": "face",
    "motif": "symbol",
    "request": "message",
}
# Of a header that may be meant for a known one: words, letters.
MOST_WORDS, LONGEST = 4, 30
# Sheets that proofgen itself puts into a book beside the orders.
OURS = ("guide", "stock", "lists", "customers")


@dataclass(frozen=True, slots=True)
class Header:
    """The header row's number and width, and the column (from 1) of each known header in it.

    `near` are other headers that may be meant for known ones: address, header, known name.
    """

    row: int
    columns: Mapping[str, int]
    width: int
    near: tuple[tuple[str, str, str], ...] = ()


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
    """The known headers in a row, with their columns; another name for one yields to itself."""
    labelled = [(plain(cell.text), column) for column, cell in sorted(row.cells.items())]
    there = {label for label, _ in labelled}
    return [
        (known[label], column)
        for label, column in labelled
        if label in known and not (label in ALIASES and plain(known[label]) in there)
    ]


def _is_header(row: Row, known: Mapping[str, str]) -> bool:
    return {name for name, _ in _labels(row, known)}.issuperset(NEEDED)


def _header(file: str, sheet: Sheet, row: Row, known: Mapping[str, str]) -> Header:
    columns: dict[str, int] = {}
    for name, column in _labels(row, known):
        if name in columns:
            first, second = row.cells[columns[name]], row.cells[column]
            alike = plain(first.text) == plain(second.text)
            said = (
                f"the header {name.capitalize()} stands twice ({first.at} and {second.at})"
                if alike
                else f'"{first.text.strip()}" ({first.at}) and "{second.text.strip()}" '
                f"({second.at}) both stand for {name.capitalize()}"
            )
            raise UnusableError(f'{file}, sheet "{sheet.name}": {said}; rename one of them')
        columns[name] = column
    return Header(row.number, columns, row.width, tuple(_near(row, columns, known)))


def _near(
    row: Row, columns: Mapping[str, int], known: Mapping[str, str]
) -> Iterator[tuple[str, str, str]]:
    """The headers that are not known, but like one that is missing."""
    missing = {label: name for label, name in {**MEANT, **known}.items() if name not in columns}
    taken = set(columns.values())
    for column, cell in sorted(row.cells.items()):
        if column not in taken and (name := _meant(cell.text, missing)):
            yield cell.at, " ".join(cell.text.split()), name


def _meant(header: str, missing: Mapping[str, str]) -> str:
    """The missing header that is a word of this one, or that this one is a misspelling of."""
    words = [plain(word) for word in header.split()][:MOST_WORDS]
    found = next((missing[word] for word in words if word in missing), "")
    if found or not words:
        return found
    close = get_close_matches(plain(header)[:LONGEST], missing, n=1, cutoff=0.8)
    return missing[close[0]] if close else ""


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
