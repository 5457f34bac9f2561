"""What a cell means in each column. A rule returns the value and the flags; blank is ""."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from proofgen.flags import kinds
from proofgen.flags.flag import Flag, FlagKind
from proofgen.orders import text
from proofgen.orders.dates import iso_day
from proofgen.orders.sheet import Cell, Holds
from proofgen.workshop.money import Money

Flags = tuple[Flag, ...]

MOST_PIECES = 999
LONGEST_NUMBER = 60
MOST_MONEY = 10_000_000  # what is more was no sum
MOST_DECIMALS = 2  # of a typed sum; three digits after a sign may be thousands
LONGEST_TEXT = 120

# ECMA-376 Part 1, 18.17.3 (error values); one that was copied as text is no better.
_ERRORS = frozenset(
    ("#DIV/0!", "#GETTING_DATA", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!")
)
# Formats that show a date as its year only, such as yyyy or [$-409]yyyy;@.
_ONLY_YEAR = re.compile(r"(\[[^\]]*\])*y{3,4}(;@)?", re.IGNORECASE)
_ZEROS = re.compile(r"0+")
_YEAR = re.compile(r"[12][0-9]{3}")
# What the currency leaves of a sum. A comma may part decimals as a full stop does, so neither may
# part thousands: 1,250 is read by some as 1.25 and by others as 1250.
_SUM = re.compile(r"([0-9]{1,7})(?:[.,]([0-9]+))?")
# A program may write a whole number as 1.0; 1.000 is a thousand to some.
_WHOLE = re.compile(r"([0-9]{1,9})(?:[.,]0{1,2})?")

_UNREADABLE: Mapping[Holds, FlagKind] = {
    Holds.ERROR: kinds.CELL_ERROR,
    Holds.UNCOMPUTED: kinds.FORMULA_WITHOUT_RESULT,
}
_NOT_TEXT: Mapping[Holds, FlagKind] = {
    **_UNREADABLE,
    Holds.DATE: kinds.TEXT_BECAME_DATE,
    Holds.TRUTH: kinds.TEXT_BECAME_TRUTH,
}
_NOT_A_NAME: Mapping[Holds, FlagKind] = {**_NOT_TEXT, Holds.NUMBER: kinds.TEXT_BECAME_NUMBER}


# Pointed Hebrew has up to four marks on a letter; nothing that people are called has more.
MOST_MARKS = 4


def name(cell: Cell, where: str) -> tuple[str, Flags]:
    """A name: text and nothing else; several lines stay several."""
    refused = _refused(cell, where, _NOT_A_NAME)
    if refused:
        return "", refused
    value, flags = _tidied(cell, where)
    if not value:
        return value, (*flags, Flag(kinds.NAME_MISSING, where))
    if not any(map(str.isalnum, value)):
        flags = (*flags, Flag(kinds.NAME_WITHOUT_LETTERS, where, f'"{value}"'))
    return value, flags


def wording(cell: Cell, where: str) -> tuple[str, Flags]:
    """Any other text that is lettered; a number is taken, to be looked at."""
    refused = _refused(cell, where, _NOT_TEXT)
    if refused:
        return "", refused
    value, flags = _tidied(cell, where)
    if cell.holds is Holds.NUMBER:
        flags = (*flags, Flag(kinds.TEXT_FROM_NUMBER, where, subject=value))
    return value, flags


def choice(cell: Cell, where: str) -> tuple[str, Flags]:
    """A choice as typed, in one line; whether there is such a thing is not decided here."""
    refused = _refused(cell, where, _NOT_TEXT)
    return ("", refused) if refused else (text.tidy(cell.text).text, ())


def design(cell: Cell, where: str) -> tuple[str, Flags]:
    """A choice that must be there."""
    value, flags = choice(cell, where)
    missing = not value and not flags
    return value, (Flag(kinds.DESIGN_MISSING, where),) if missing else flags


def remark(cell: Cell, where: str) -> tuple[str, Flags]:
    """Text that nothing is made from, such as the buyer."""
    cell = _with_error_texts(cell)
    if cell.holds in _UNREADABLE:
        return "", (Flag(kinds.CELL_NOT_TAKEN, where, subject=cell.text),)
    return text.tidy(cell.text).text, ()


def day(cell: Cell, where: str) -> tuple[str, Flags]:
    """An ISO date, or the text as typed where no day can be read from it for certain."""
    value, flags = remark(cell, where)
    # A date may have a time of that day; a cell that is only a time or a span has no day.
    typed = value[:10] if cell.holds is Holds.DATE else value
    found = iso_day(typed) if cell.holds in (Holds.TEXT, Holds.DATE) else ""
    unread = () if found or not value else (Flag(kinds.DAY_UNREAD, where, _quoted(cell, value)),)
    return found or value, (*flags, *unread)


def order_number(cell: Cell, where: str) -> tuple[str, Flags]:
    """The order number as it is shown; an unsafe one is kept for the sentence and stops."""
    refused = _refused(cell, where, _NOT_TEXT)
    if refused:
        return "", refused
    if cell.holds is Holds.NUMBER:
        value, flags = _shown_number(cell, where)
    else:
        tidied = text.tidy(cell.text)
        value, flags = tidied.text, _spaces(tidied, where)
    if not value:
        return "", (*flags, Flag(kinds.ORDER_MISSING, where))
    unsafe = _unsafe(value)
    return value, (*flags, Flag(kinds.ORDER_UNSAFE, where, subject=unsafe)) if unsafe else flags


def year(cell: Cell, where: str, edition: int) -> tuple[str, Flags]:
    """Four digits; blank is the edition year and "none" is none."""
    if cell.holds is Holds.DATE and _ONLY_YEAR.fullmatch(cell.number_format):
        shown = cell.text[:4]
        return shown, (Flag(kinds.YEAR_FROM_DATE, where, shown),)
    refused = _refused(cell, where, _UNREADABLE)
    if refused:
        return "", refused
    tidied = text.tidy(cell.text)
    flags = _spaces(tidied, where)
    if not tidied.text:
        return str(edition), (Flag(kinds.YEAR_BLANK, where, str(edition)),)
    if tidied.text.casefold() == "none":
        return "", flags
    if cell.holds in (Holds.TEXT, Holds.NUMBER) and _YEAR.fullmatch(tidied.text):
        return tidied.text, flags
    return "", (*flags, Flag(kinds.YEAR_NOT_A_YEAR, where, subject=_quoted(cell, tidied.text)))


def quantity(cell: Cell, where: str) -> tuple[int, Flags]:
    """Pieces, 1 where blank or not understood."""
    refused = _refused(cell, where, _UNREADABLE)
    if refused:
        return 1, refused
    typed = text.tidy(cell.text).text
    if not typed:
        return 1, ()
    found = _WHOLE.fullmatch(typed) if cell.holds in (Holds.TEXT, Holds.NUMBER) else None
    if found and 1 <= int(found[1]) <= MOST_PIECES:
        return int(found[1]), ()
    return 1, (Flag(kinds.QUANTITY_NOT_WHOLE, where, subject=_quoted(cell, typed)),)


def money(cell: Cell, where: str, rounded: Money, currency: str) -> tuple[Decimal | None, Flags]:
    """A sum in the workshop's currency, with its decimals; None where blank or not understood."""
    refused = _refused(cell, where, _UNREADABLE)
    if refused:
        return None, refused
    typed = text.tidy(cell.text).text
    if not typed:
        return None, ()
    if cell.holds is Holds.NUMBER and 0 <= Decimal(typed) < MOST_MONEY:
        return rounded.amount(Decimal(typed)), ()
    found = _SUM.fullmatch(_bare(typed, currency).strip()) if cell.holds is Holds.TEXT else None
    if not found or len(found[2] or "") > min(rounded.decimals, MOST_DECIMALS):
        remedy = (
            f'Type a number alone, such as 24.50; the workshop file\'s currency is "{currency}".'
        )
        return None, (Flag(kinds.MONEY_UNREAD, where, _quoted(cell, typed), remedy=remedy),)
    return rounded.amount(Decimal(f"{found[1]}.{found[2] or 0}")), ()


def _bare(typed: str, currency: str) -> str:
    """A sum without the currency that stands before or after it."""
    plain, sign = typed.casefold(), currency.casefold()
    return plain.removeprefix(sign) if plain.startswith(sign) else plain.removesuffix(sign)


def merged(cell: Cell, where: str) -> Flags:
    """A note on a value that stands in a merged cell further up."""
    if not cell.merged_from:
        return ()
    return (Flag(kinds.CELL_MERGED, where, subject=cell.merged_from),)


def _with_error_texts(cell: Cell) -> Cell:
    copied = cell.holds is Holds.TEXT and cell.text.strip().upper() in _ERRORS
    return replace(cell, holds=Holds.ERROR) if copied else cell


def _refused(cell: Cell, where: str, refused: Mapping[Holds, FlagKind]) -> Flags:
    cell = _with_error_texts(cell)
    kind = refused.get(cell.holds)
    return (Flag(kind, where, subject=cell.text),) if kind else ()


def _tidied(cell: Cell, where: str) -> tuple[str, Flags]:
    tidied = text.tidy(cell.text, lines=True)
    flags = list(_spaces(tidied, where))
    if tidied.controls:
        subject = ", ".join(tidied.controls)
        flags.append(Flag(kinds.CONTROL_CHARACTERS, where, subject=subject))
    meant = text.repaired(tidied.text)
    if meant:
        remedy = f'Type it again; it was probably "{meant}".'
        flags.append(Flag(kinds.TEXT_GARBLED, where, remedy=remedy))
    elif "\ufffd" in tidied.text:
        flags.append(Flag(kinds.TEXT_GARBLED, where))
    if len(tidied.text) > LONGEST_TEXT:
        flags.append(Flag(kinds.TEXT_TOO_LONG, where, str(len(tidied.text)), str(LONGEST_TEXT)))
    piled = text.most_marks(tidied.text)
    if piled > MOST_MARKS:
        flags.append(Flag(kinds.MARKS_PILED, where, str(piled), str(MOST_MARKS)))
    return tidied.text, tuple(flags)


def _spaces(tidied: text.Tidied, where: str) -> Flags:
    if not tidied.spaces or not tidied.text:
        return ()
    return (Flag(kinds.SPACES_TIDIED, where, subject=", ".join(tidied.spaces)),)


def _shown_number(cell: Cell, where: str) -> tuple[str, Flags]:
    """A number with the zeros that its format shows."""
    flags: list[Flag] = []
    value = cell.text
    if value.isdecimal() and _ZEROS.fullmatch(cell.number_format):
        value = value.zfill(len(cell.number_format))
    if value != cell.text:
        flags.append(Flag(kinds.ORDER_ZEROS, where, subject=value))
    if len(re.sub("[^0-9]", "", cell.text)) > 15:
        flags.append(Flag(kinds.ORDER_DIGITS_LOST, where, subject=value))
    return value, tuple(flags)


def _unsafe(number: str) -> str:
    """What is wrong with an order number, for a sentence; "" where nothing is."""
    odd = [c for c in dict.fromkeys(number) if not (c.isalnum() or c in " ._-#")]
    if odd:
        return " ".join(odd)
    if not any(c.isalnum() for c in number):
        return "no letter or digit"
    return f"{len(number)} characters" if len(number) > LONGEST_NUMBER else ""


def _quoted(cell: Cell, typed: str) -> str:
    if cell.holds is not Holds.DATE:
        return f'"{typed}"'
    return f"the date {typed}" if iso_day(typed[:10]) else f"the time {typed}"
