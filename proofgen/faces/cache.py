"""Measures kept on disk between runs, in one SQLite file that may be deleted at any time."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path as File

import platformdirs

# Raised whenever a measure's definition changes, so that old values are not used.
SCHEME = 3


def cache_folder() -> File:
    """PROOFGEN_CACHE where it is set, else the person's cache folder."""
    chosen = os.environ.get("PROOFGEN_CACHE")
    return (
        File(chosen) if chosen else File(platformdirs.user_cache_dir("proofgen", appauthor=False))
    )


class MeasureCache:
    """Numbers by (group, key). A cache that cannot be used is done without."""

    def __init__(self, folder: File) -> None:
        self._file = folder / f"measures-{SCHEME}.sqlite"
        self._groups: dict[str, dict[str, float]] = {}
        self._new: list[tuple[str, str, float]] = []

    def group(self, name: str) -> dict[str, float]:
        """All that is known of a group; read from disk once."""
        if name not in self._groups:
            self._groups[name] = self._read(name)
        return self._groups[name]

    def put(self, group: str, key: str, measure: float) -> None:
        """Remember a measure; `save` takes it to disk."""
        self.group(group)[key] = measure
        self._new.append((group, key, measure))

    def save(self) -> None:
        """Write what is new; safe beside other processes."""
        if not self._new:
            return
        with suppress(OSError, sqlite3.Error):
            self._file.parent.mkdir(parents=True, exist_ok=True)
            with closing(sqlite3.connect(self._file, timeout=10)) as database, database:
                database.execute(
                    "create table if not exists measures"
                    " (face text, key text, size real, primary key (face, key)) without rowid"
                )
                database.executemany("insert or ignore into measures values (?, ?, ?)", self._new)
        self._new = []

    def _read(self, name: str) -> dict[str, float]:
        if not self._file.exists():
            return {}
        try:
            with closing(sqlite3.connect(self._file, timeout=10)) as database:
                rows = database.execute("select key, size from measures where face = ?", (name,))
                return dict(rows)
        except sqlite3.Error:
            with suppress(OSError):
                self._file.unlink()
            return {}
