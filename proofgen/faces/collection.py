"""The faces of one folder or several, as their faces.toml list them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path as File
from typing import Any

from proofgen.config import check_keys, number, read_toml, text
from proofgen.faces.face import Face

KEYS = {"id", "title", "file", "joined", "axes", "weights", "widths", "mark_gap"}


class Faces(Mapping[str, Face]):
    """Faces by id; a file is read when its face is first asked for."""

    def __init__(self, *folders: File) -> None:
        self._tables: dict[str, dict[str, Any]] = {}
        self._folders: dict[str, File] = {}
        for folder in folders:
            for face, table in _tables(folder / "faces.toml").items():
                self._tables[face], self._folders[face] = table, folder
        self._loaded: dict[str, Face] = {}

    def __getitem__(self, wanted: str) -> Face:
        """The face of that id; KeyError where there is none."""
        if wanted not in self._loaded:
            table = self._tables[wanted]
            self._loaded[wanted] = Face(self._folders[wanted] / table["file"], table)
        return self._loaded[wanted]

    @property
    def files(self) -> tuple[File, ...]:
        """The files that the faces are read from."""
        return tuple(self._folders[face] / table["file"] for face, table in self._tables.items())

    def __iter__(self) -> Iterator[str]:
        return iter(self._tables)

    def __len__(self) -> int:
        return len(self._tables)


def _tables(listing: File) -> dict[str, dict[str, Any]]:
    whole = read_toml(listing)
    check_keys(whole, {"format", "face"}, str(listing))
    found: dict[str, dict[str, Any]] = {}
    for table in whole.get("face", []):
        place = f"{listing}, face {table.get('id', '?')}"
        check_keys(table, KEYS, place)
        text(table, "title", place)
        text(table, "file", place)
        number(table, "mark_gap", place, 0.0, least=0, most=0.3)
        found[text(table, "id", place)] = table
    return found
