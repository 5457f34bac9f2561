"""The workshop's records, in one SQLite file beside the order book. Rows are only ever added.

The journal is SQLite's rollback journal, since the folder may lie on a network or be synced, and
write-ahead logs do not work there (sqlite.org/wal.html); a second process waits for the first.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
import zlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from isal import isal_zlib

from proofgen.errors import UnusableError
from proofgen.records.record import Cells, Entry, Event, Record
from proofgen.records.schema import prepare

FILE = "proofgen-records.sqlite"
WAIT = 60_000  # ms for which a second process waits
LEVEL = 3  # of isal's: a twentieth of the time of zlib's 6 for a fiftieth more

_COLUMNS = (
    "number, line, code, cells, quantity, buyer, quoted, artwork, design, design_sha256, "
    "faces, made, meant, finishes"
)


def digest(artwork: bytes) -> str:
    """What an artwork's bytes are recorded under."""
    return hashlib.sha256(artwork).hexdigest()


@contextmanager
def archive(folder: Path) -> Iterator[Archive]:
    """The records of a workshop's folder; the file is made at the first thing that is added."""
    file = folder / FILE
    found = Archive(file)
    try:
        yield found
    except sqlite3.OperationalError as error:
        raise UnusableError(_in_the_way(file, error)) from error
    except sqlite3.Error as error:
        raise UnusableError(
            f"{file}: the records cannot be read or written ({error}); put a backup in its place, "
            f"or move it away to begin new ones."
        ) from error
    finally:
        found.close()


def _in_the_way(file: Path, error: sqlite3.OperationalError) -> str:
    """The sentence for records that are sound, but busy, read-only or out of room."""
    if error.sqlite_errorname.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return (
            f"{file}: another program holds the records (a proofgen that is running, or one that "
            f"copies or syncs the folder); let it end, and run this again."
        )
    return f"{file}: the records cannot be read or written ({error}); nothing was changed in them."


class Archive:
    """Records of one file. sqlite3.Error where it is damaged or locked for too long."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._open: sqlite3.Connection | None = None

    def close(self) -> None:
        """Let go of the file."""
        if self._open:
            self._open.close()

    def add(self, records: Iterable[tuple[Record, bytes]]) -> None:
        """Record pictures with the bytes of their artwork, all or none."""
        with self._writing() as base:
            for record, artwork in records:
                base.execute(
                    "INSERT OR IGNORE INTO artworks VALUES (?, ?)",
                    (record.artwork, isal_zlib.compress(artwork, LEVEL)),
                )
                base.execute(
                    f"INSERT INTO pictures ({_COLUMNS}) VALUES ({', '.join('?' * 14)})",
                    _row(record),
                )

    def pictures(self, number: str) -> tuple[Record, ...]:
        """The pictures of an order, the oldest first."""
        query = f"SELECT {_COLUMNS} FROM pictures WHERE number = ? ORDER BY id"
        return tuple(_record(row) for row in self._read(query, (number,)))

    def columns(self) -> tuple[str, ...]:
        """The columns that fed any picture, also those that no design has any more."""
        query = "SELECT DISTINCT json_extract(value, '$[0]') FROM pictures, json_each(cells)"
        return tuple(sorted(str(row[0]) for row in self._read(query, ())))

    @contextmanager
    def held(self) -> Iterator[None]:
        """All that is added within is one change, all or none; another process waits for it."""
        with self._writing():
            yield

    def note(self, events: Iterable[Event]) -> None:
        """Add what happened to pieces, all or none."""
        with self._writing() as base:
            for event in events:
                values = (event.at, event.kind, event.number, event.line, event.code, event.details)
                base.execute(
                    "INSERT INTO events (at, kind, number, line, code, details) "
                    "VALUES (?, ?, ?, ?, ?, ?)",
                    values,
                )

    def events(self, number: str) -> tuple[Event, ...]:
        """What happened to the pieces of an order, the oldest first."""
        query = "SELECT at, kind, number, line, code, details FROM events WHERE number = ?"
        return tuple(Event(*row) for row in self._read(f"{query} ORDER BY id", (number,)))

    def enter(self, entries: Iterable[Entry]) -> None:
        """Add to the workshop's ledger, all or none."""
        with self._writing() as base:
            base.executemany(
                "INSERT INTO ledger (at, kind, subject, amount, details) VALUES (?, ?, ?, ?, ?)",
                [(e.at, e.kind, e.subject, e.amount, e.details) for e in entries],
            )

    def entries(self, *kinds: str) -> tuple[Entry, ...]:
        """What the ledger has of these kinds, the oldest first."""
        query = (
            "SELECT at, kind, subject, amount, details FROM ledger "
            f"WHERE kind IN ({', '.join('?' * len(kinds))}) ORDER BY id"
        )
        return tuple(Entry(*row) for row in self._read(query, kinds))

    def artwork(self, sha256: str) -> bytes:
        """The bytes of a recorded artwork; UnusableError where they are damaged."""
        ((data,),) = self._read("SELECT data FROM artworks WHERE sha256 = ?", (sha256,))
        try:
            found = zlib.decompress(data)
        except zlib.error:
            found = b""
        if digest(found) != sha256:
            raise UnusableError(
                f"{self._file}: a recorded artwork is damaged; put a backup in its place."
            )
        return found

    def _read(self, query: str, values: Sequence[str | int]) -> list[tuple[Any, ...]]:
        if self._open is None and not self._file.exists():
            return []
        return list(self._connection().execute(query, values))

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        base = self._connection()
        if base.in_transaction:
            yield base
            return
        base.execute("BEGIN IMMEDIATE")
        try:
            yield base
        except BaseException:
            base.execute("ROLLBACK")
            raise
        base.execute("COMMIT")

    def _connection(self) -> sqlite3.Connection:
        if self._open is None:
            self._open = sqlite3.connect(self._file, timeout=WAIT / 1000, isolation_level=None)
            prepare(self._open, self._file)
        return self._open


def _row(record: Record) -> tuple[str | int, ...]:
    return (
        record.number,
        record.line,
        record.code,
        _text(record.cells),
        record.quantity,
        record.buyer,
        record.quoted,
        record.artwork,
        record.design,
        record.design_sha256,
        _text(record.faces),
        record.made,
        _text(record.meant),
        _text(record.finishes),
    )


def _record(row: tuple[Any, ...]) -> Record:
    number, line, code, cells, quantity, buyer, quoted, artwork, design, sha256, *last = row
    faces, made, meant, finishes = last
    return Record(
        number=number,
        line=int(line),
        code=code,
        cells=_cells(cells),
        quantity=int(quantity),
        buyer=buyer,
        quoted=quoted,
        artwork=artwork,
        design=design,
        design_sha256=sha256,
        faces=_cells(faces),
        made=made,
        meant=_cells(meant),
        finishes=_cells(finishes),
    )


def _text(cells: Cells) -> str:
    return json.dumps(cells, ensure_ascii=False)


def _cells(text: str) -> Cells:
    return tuple((name, value) for name, value in json.loads(text))
