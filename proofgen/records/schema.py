"""The tables of the records, which refuse every change of what was added, and how a file comes by
those of this version.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from proofgen.errors import UnusableError

SCHEMA = 3

_TABLES = """
CREATE TABLE artworks (
  sha256 TEXT PRIMARY KEY, data BLOB NOT NULL
) WITHOUT ROWID;
CREATE TABLE pictures (
  id INTEGER PRIMARY KEY, number TEXT NOT NULL, line INTEGER NOT NULL, code TEXT NOT NULL,
  cells TEXT NOT NULL, quantity INTEGER NOT NULL, buyer TEXT NOT NULL, quoted TEXT NOT NULL,
  artwork TEXT NOT NULL REFERENCES artworks (sha256), design TEXT NOT NULL,
  design_sha256 TEXT NOT NULL, faces TEXT NOT NULL, made TEXT NOT NULL
);
CREATE INDEX pictures_by_number ON pictures (number, code);
CREATE TABLE events (
  id INTEGER PRIMARY KEY, at TEXT NOT NULL, kind TEXT NOT NULL, number TEXT NOT NULL,
  line INTEGER NOT NULL, code TEXT NOT NULL, details TEXT NOT NULL
);
CREATE INDEX events_by_number ON events (number, line);
"""
_LEDGER = """
ALTER TABLE pictures ADD COLUMN meant TEXT NOT NULL DEFAULT '[]';
CREATE TABLE ledger (
  id INTEGER PRIMARY KEY, at TEXT NOT NULL, kind TEXT NOT NULL, subject TEXT NOT NULL,
  amount INTEGER NOT NULL, details TEXT NOT NULL
);
CREATE INDEX ledger_by_kind ON ledger (kind, subject);
"""
_FINISHES = "ALTER TABLE pictures ADD COLUMN finishes TEXT NOT NULL DEFAULT '[]';\n"


def _kept(*tables: str) -> str:
    """Triggers that refuse every change of what was added."""
    return "".join(
        f"CREATE TRIGGER {table}_keep_{verb.lower()} BEFORE {verb} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'records are only added'); END;\n"
        for table in tables
        for verb in ("UPDATE", "DELETE")
    )


def _no_second(table: str, key: str, then: str) -> str:
    """A trigger against a row put in another's place, which is no UPDATE to SQLite."""
    return (
        f"CREATE TRIGGER {table}_keep_insert BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {key} = NEW.{key}) "
        f"BEGIN SELECT RAISE({then}); END;\n"
    )


# What each version of the schema adds to the one before.
ADDED = (
    _TABLES + _kept("artworks", "pictures", "events"),
    _LEDGER
    + _kept("ledger")
    + _no_second("artworks", "sha256", "IGNORE")
    + "".join(
        _no_second(table, "id", "ABORT, 'records are only added'")
        for table in ("pictures", "events", "ledger")
    ),
    _FINISHES,
)


def prepare(base: sqlite3.Connection, file: Path) -> None:
    """Make the tables in a new file and those that an older one lacks; refuse one of a later
    proofgen.
    """
    base.execute("PRAGMA journal_mode = DELETE")
    base.execute("PRAGMA synchronous = FULL")
    base.execute("PRAGMA foreign_keys = ON")
    if _version(base) < SCHEMA:
        base.execute("BEGIN IMMEDIATE")
        # Asked again, as another process may have been first.
        for statement in _statements("".join(ADDED[_version(base) :])):
            base.execute(statement)
        if _version(base) < SCHEMA:
            base.execute(f"PRAGMA user_version = {SCHEMA}")
        base.execute("COMMIT")
    if _version(base) > SCHEMA:
        raise UnusableError(f"{file}: was written by a later proofgen; install that one.")


def _version(base: sqlite3.Connection) -> int:
    with closing(base.execute("PRAGMA user_version")) as found:
        return int(found.fetchone()[0])


def _statements(script: str) -> Iterator[str]:
    """`executescript` would commit the transaction that makes them all or none."""
    statement = ""
    for line in script.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""
