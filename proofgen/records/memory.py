"""What became of a line the last time, so that only lines that changed are done again.

A convenience and nothing else: it lies in the cache folder, and where it cannot be read or written
everything is done anew. The archive is what counts.
"""

from __future__ import annotations

import hashlib
import json
import re
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from isal import isal_zlib

from proofgen.artwork.artwork import Made
from proofgen.cache import Base, asked, sealed, unsealed
from proofgen.flags.flag import Flag, stops
from proofgen.flags.kinds import KINDS
from proofgen.orders.order import Line, Order
from proofgen.records.codec import decoded

FILE = "pieces.sqlite"
SCHEME = 3
LEVEL = 1  # of 3: it may be deleted at any time

_TABLE = """CREATE TABLE IF NOT EXISTS pieces (
  book TEXT, number TEXT, key TEXT, made BLOB, PRIMARY KEY (book, key)
)"""
# Where a row's number stands in "row 12, name (B12)".
_PLACE = re.compile(r"(?<=row )\d+|(?<=[A-Z])\d+(?=\))")
_KINDS = {kind.id: kind for kind in KINDS}


@dataclass(frozen=True, slots=True)
class Remembered:
    """A line as it was done; `picture` is the SHA-256 of its PNG, empty where none was drawn."""

    made: Made
    picture: str


def key_of(line: Line, kin: Iterable[Line], base: str) -> str:
    """What a line's outcome depends on, wherever its row stands. `base` stands for everything that
    is not in the book.
    """
    orders = [_told(each) for each in (line, *kin)]
    text = json.dumps([SCHEME, base, orders], ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


class Memory:
    """The lines of one book."""

    def __init__(self, folder: Path, book: Path) -> None:
        self._file, self._book = folder / FILE, str(book)
        self._asked: frozenset[str] = frozenset()

    def known(self, lines: Mapping[str, Line]) -> dict[str, Remembered]:
        """Those of these lines, by key, that were done and are as they were."""
        self._asked = frozenset(lines)
        query = "SELECT key, made FROM pieces WHERE book = ?"

        def read(base: Base) -> dict[str, bytes]:
            rows = base.execute(query, (self._book,))
            return {k: unsealed(f"{self._book} {k}", made) for k, made in rows if k in lines}

        kept = asked(self._file, _TABLE, read) or {}
        return {key: _remembered(made, lines[key]) for key, made in kept.items()}

    def keep(self, done: Iterable[tuple[str, Line, Remembered, bytes]]) -> None:
        """Remember (key, line, what it became, bytes of its artwork) of each of these lines, and
        forget what became of their orders before, but for lines that were asked for.
        """
        rows = [
            (self._book, line.order.number, key, self._sealed(key, _kept(item, artwork, line)))
            for key, line, item, artwork in done
        ]

        def write(base: Base) -> None:
            for number in dict.fromkeys(row[1] for row in rows):
                self._forget(base, number)
            base.executemany("INSERT OR REPLACE INTO pieces VALUES (?, ?, ?, ?)", rows)

        if rows:
            asked(self._file, _TABLE, write, writes=True)

    def _sealed(self, key: str, data: bytes) -> bytes:
        return sealed(f"{self._book} {key}", data)

    def _forget(self, base: Base, number: str) -> None:
        query = "SELECT key FROM pieces WHERE book = ? AND number = ?"
        known = [key for (key,) in base.execute(query, (self._book, number))]
        gone = [(self._book, key) for key in known if key not in self._asked]
        base.executemany("DELETE FROM pieces WHERE book = ? AND key = ?", gone)


def _told(line: Line) -> list[Any]:
    order = line.order
    cells = [order.number, order.line, order.design, order.fields, order.options, order.typed]
    columns = [column for column, _ in order.source.columns]
    # Record keeps these with the picture.
    others = [order.quantity, order.buyer, str(order.quoted)]
    return [cells, columns, others, stops(line.flags)]


def _kept(item: Remembered, artwork: bytes, line: Line) -> bytes:
    """A line of JSON, then the artwork. The line's own flags are found again by reading it."""
    others = list(item.made.flags)
    for flag in line.flags:
        # Whichever of them were left out, no other flag may be lost in their place.
        if flag in others:
            others.remove(flag)
    flags = [_flag(flag) for flag in others]
    text = json.dumps([item.made.code, item.picture, flags], ensure_ascii=False)
    return isal_zlib.compress(text.encode("utf-8", "surrogatepass") + b"\n" + artwork, LEVEL)


def _remembered(data: bytes, line: Line) -> Remembered:
    order = line.order
    text, _, artwork = zlib.decompress(data).partition(b"\n")
    code, picture, flags = json.loads(text.decode("utf-8", "surrogatepass"))
    found = decoded(artwork, order) if artwork else None
    kept = [_flag_of(flag, order) for flag in flags]
    # A flag of the line's own that was kept has a remedy that took work to find.
    better = {(flag.kind, flag.where): flag for flag in kept}
    own = tuple(better.get((flag.kind, flag.where), flag) for flag in line.flags)
    flags = (*own, *(flag for flag in kept if flag not in own))
    return Remembered(Made(order, found, flags, code), picture)


def _flag(flag: Flag) -> list[Any]:
    return [flag.kind.id, flag.where, flag.measured, flag.limit, flag.subject, flag.remedy]


def _flag_of(values: list[Any], order: Order) -> Flag:
    """The flag, about the row where its line stands now."""
    kind, where, *others = values
    return Flag(_KINDS[kind], _PLACE.sub(str(order.source.row), where), *others)
