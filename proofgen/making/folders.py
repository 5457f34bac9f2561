"""The folders that sheets were written to, kept with their runs."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from proofgen.errors import UnusableError
from proofgen.making.sheet_files import sheet_files, sheet_of
from proofgen.records.archive import Archive
from proofgen.sheets import run as runs
from proofgen.sheets.run import Run

USUAL = "sheets"


def kept_as(out: Path, book: Path) -> str:
    """How a run keeps its folder: from that of the book, so that both may move together."""
    home = book.resolve().parent
    return out.relative_to(home).as_posix() if out.is_relative_to(home) else str(out)


def folder_of(run: Run, book: Path) -> Path:
    """Where a run was written, which may not be there now."""
    return (book.resolve().parent / (run.folder or USUAL)).resolve()


def folder_there(run: Run, book: Path) -> Path:
    """The same; UnusableError where it is none of the book's and not there now."""
    out = folder_of(run, book)
    if Path(run.folder).is_absolute() and not out.is_dir():
        raise UnusableError(
            f"The sheet was written to {out}, which is not there now; put that in, or choose "
            "another folder with --out."
        )
    return out


def elsewhere(ids: Collection[str], out: Path, book: Path, records: Archive) -> tuple[str, ...]:
    """A sentence for each folder but `out` where files of these sheets lie too."""
    every = [runs.from_json(entry.details) for entry in records.entries(runs.RUN)]
    folders = {folder_of(run, book) for run in every if not set(ids).isdisjoint(run.sheets)}
    found = {
        folder: [name for name in sheet_files(folder) if sheet_of(name) in ids]
        for folder in sorted(folders - {out})
    }
    return tuple(
        f"Out of date, not to be cut, and not moved away as it lies in another folder: "
        f"{', '.join(str(folder / name) for name in names)}."
        for folder, names in found.items()
        if names
    )
