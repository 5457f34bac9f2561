"""A sheet as it was read, whatever kind of file it came from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from proofgen.flags.flag import Flag


class Holds(StrEnum):
    """What is in a cell; UNCOMPUTED is a formula whose result was never saved."""

    NOTHING = "nothing"
    TEXT = "text"
    NUMBER = "number"
    DATE = "date"
    TRUTH = "truth"
    ERROR = "error"
    UNCOMPUTED = "uncomputed"


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell at an address such as "B12".

    `text` is what was typed; a number in plain digits without a trailing ".0", a date in ISO form.
    `merged_from` is the address of the merged cell that a blank cell took its value from.
    """

    at: str
    holds: Holds = Holds.NOTHING
    text: str = ""
    number_format: str = "General"
    merged_from: str = ""

    @property
    def blank(self) -> bool:
        """Nothing there, or nothing but white space."""
        return self.holds is Holds.NOTHING or (
            self.holds is Holds.TEXT and not self.text.strip(" \t\r\n\u00a0\u200b\ufeff")
        )


@dataclass(frozen=True, slots=True)
class Row:
    """A row, counted from 1, with its cells by column, counted from 1; blank ones may be absent.

    `width` is how many cells a text file has in that row, 0 for a sheet, where all rows are alike.
    """

    number: int
    cells: Mapping[int, Cell]
    hidden: bool = False
    width: int = 0


@dataclass(frozen=True, slots=True)
class Sheet:
    """A worksheet: its rows from the top, empty ones left out, and what was odd in reading it.

    `rows` may be iterated over again, and need not be in memory.
    """

    name: str
    rows: Iterable[Row]
    flags: tuple[Flag, ...] = ()


def address(column: int, row: int) -> str:
    """The address of a cell, as in "B12"; both count from 1."""
    return f"{column_letters(column)}{row}"


@cache
def column_letters(column: int) -> str:
    """The letters of a column that is counted from 1."""
    letters = ""
    while column:
        column, digit = divmod(column - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return letters
