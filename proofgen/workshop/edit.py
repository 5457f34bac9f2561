"""The tomlkit adapter: numbers changed in a workshop file, all else in it kept as it stands."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, MutableMapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AbstractTable, InlineTable

from proofgen.errors import UnusableError

Key = tuple[str, ...]


def with_numbers(text: str, numbers: Mapping[Key, float], place: str) -> str:
    """The TOML text with those numbers at those keys; comments, order and spacing are kept.

    Tables that are not there yet are added below. The result is read again and compared:
    UnusableError, naming `place`, where anything else would change.
    """
    wanted = tomllib.loads(text)
    try:
        document = tomlkit.parse(text)
        for key, number in numbers.items():
            _put(document, key, _shortest(number))
            _put(wanted, key, number)
        edited = _lines_as_in(text, tomlkit.dumps(document))
        if tomllib.loads(edited) == wanted:
            return edited
    except (TOMLKitError, tomllib.TOMLDecodeError):
        pass
    said = ", ".join(f"{'.'.join(key)} = {number:g}" for key, number in numbers.items())
    raise UnusableError(
        f"{place} is written in a way that it cannot be changed in; write into it by hand: {said}."
    )


def _put(table: MutableMapping[str, Any], key: Key, number: float) -> None:
    """Set the number, making the tables round it."""
    *tables, name = key
    for depth, each in enumerate(tables):
        if each not in table:
            table[each] = _new(table, one_line=0 < depth == len(tables) - 1)
        table = table[each]
    table[name] = number


def _new(within: MutableMapping[str, Any], one_line: bool) -> MutableMapping[str, Any]:
    """A table that suits the one it goes into: plain, on one line, or with a heading."""
    if not isinstance(within, AbstractTable | tomlkit.TOMLDocument):
        return {}
    if one_line or isinstance(within, InlineTable):
        return tomlkit.inline_table()
    return tomlkit.table()


def _shortest(number: float) -> float:
    """2 and not 2.0, as a person writes it."""
    return int(number) if number == int(number) else number


def _lines_as_in(before: str, after: str) -> str:
    """Line ends of one kind, where the file had one kind."""
    if "\r\n" in before and "\n" not in before.replace("\r\n", ""):
        return after.replace("\r\n", "\n").replace("\n", "\r\n")
    return after
