"""Measures kept on disk between runs, in one SQLite file that may be deleted at any time."""

from __future__ import annotations

import struct
from pathlib import Path as File

from proofgen.cache import Base, asked, sealed, unsealed

# Raised whenever a measure's definition changes, so that old values are not used.
SCHEME = 4

_TABLE = (
    "CREATE TABLE IF NOT EXISTS measures (face TEXT, key TEXT, size BLOB, PRIMARY KEY (face, key))"
)
_SIZE = struct.Struct("<d")


class MeasureCache:
    """Numbers by (group, key). A cache that cannot be used is done without."""

    def __init__(self, folder: File) -> None:
        self._file = folder / f"measures-{SCHEME}.sqlite"
        self._groups: dict[str, dict[str, float]] = {}
        self._new: list[tuple[str, str, bytes]] = []

    def group(self, name: str) -> dict[str, float]:
        """All that is known of a group; read from disk once."""
        if name not in self._groups:
            self._groups[name] = self._read(name)
        return self._groups[name]

    def put(self, group: str, key: str, measure: float) -> None:
        """Remember a measure; `save` takes it to disk."""
        self.group(group)[key] = measure
        self._new.append((group, key, sealed(_name(group, key), _SIZE.pack(measure))))

    def save(self) -> None:
        """Write what is new; safe beside other processes."""
        if not self._new:
            return
        new, self._new = self._new, []

        def write(base: Base) -> None:
            base.executemany("INSERT OR REPLACE INTO measures VALUES (?, ?, ?)", new)

        asked(self._file, _TABLE, write, writes=True)

    def _read(self, name: str) -> dict[str, float]:
        if not self._file.exists():
            return {}
        query = "SELECT key, size FROM measures WHERE face = ?"

        def read(base: Base) -> dict[str, float]:
            rows = base.execute(query, (name,))
            return {key: _SIZE.unpack(unsealed(_name(name, key), size))[0] for key, size in rows}

        return asked(self._file, _TABLE, read) or {}


def _name(group: str, key: str) -> str:
    return f"{group} {key}"
