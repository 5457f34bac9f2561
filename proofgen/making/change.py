"""What one command writes, moves away and enters, as one change: all of it or nothing.

The files are staged in a folder of their own inside that which they belong into, while the records
are held; the commit of the records, which names that folder, decides; then the files are put in
their places. So whoever finds such a folder later can tell what is to be done with it.
"""

from __future__ import annotations

import json
import os
import secrets
import shutil
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from proofgen.day.superseded import EARLIER, place_among
from proofgen.errors import UnusableError
from proofgen.files import settle
from proofgen.records.archive import Archive
from proofgen.records.record import Entry, now

FILES = "files"  # the kind of the entry that a folder of staged files is known by
STAGED = ".proofgen-staged-"
FINISHED = "An earlier run was ended while it wrote: its files are in their places now."
UNDONE = (
    "An earlier run was ended while it wrote: nothing of it was entered, and the files that it had "
    "begun are taken away."
)

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Change:
    """Files by their names in a folder, and what of that folder is moved away: under which name
    among the earlier files.
    """

    files: Mapping[str, bytes] = field(default_factory=dict)
    away: Mapping[str, str] = field(default_factory=dict)


def among_earlier(out: Path, names: Iterable[str]) -> dict[str, str]:
    """Files of a folder with the name of each among the earlier files: its own, under a number
    where another has that.
    """
    return {name: place_among(out / name, out / EARLIER).name for name in names}


def carried_out(out: Path, records: Archive, work: Callable[[], tuple[Change, T]]) -> T:
    """Do the work, which enters what it has to, and the change to the folder that it gives.

    UnusableError where a file cannot be written, when nothing is; or where one that is there cannot
    be replaced, when the next run does so (see `settled`).
    """
    folder = out / f"{STAGED}{secrets.token_hex(6)}"
    try:
        with records.held():
            change, found = work()
            entry = _entry(folder, change)
            records.enter([entry])
            _stage(folder, change)
    except Exception:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    _place(folder, entry)
    return found


def settled(out: Path, records: Archive) -> str:
    """Finish what an earlier run had entered, and undo what it had not; gives the sentence that
    says so, empty where none was ended while it wrote.
    """
    if not any(out.glob(f"{STAGED}*")):
        return ""
    told = ""
    # Held, since a folder that is not entered may be one that is being filled.
    with records.held():
        known = {entry.subject: entry for entry in records.entries(FILES)}
        for folder in sorted(out.glob(f"{STAGED}*")):
            if folder.name in known:
                _place(folder, known[folder.name])
            else:
                shutil.rmtree(folder, ignore_errors=True)
            told = FINISHED if folder.name in known else told or UNDONE
    return told


def paths(folder: Path, names: Iterable[str]) -> tuple[Path, ...]:
    """Files of a folder."""
    return tuple(folder / name for name in names)


def _entry(folder: Path, change: Change) -> Entry:
    said = {"files": [*change.files], "away": dict(change.away)}
    return Entry(now(), FILES, folder.name, details=json.dumps(said, ensure_ascii=False))


def _stage(folder: Path, change: Change) -> None:
    path = folder.parent
    try:
        folder.mkdir(parents=True)
        if change.away:
            path = folder.parent / EARLIER
            path.mkdir(exist_ok=True)
        for name, data in change.files.items():
            path = folder.parent / name
            with (folder / name).open("xb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
        settle(folder)
    except OSError as error:
        raise UnusableError(
            f"{path} cannot be written ({error.strerror or error}); nothing was written or noted. "
            "Make room there or choose another folder with --out."
        ) from error


def _place(folder: Path, entry: Entry) -> None:
    """Once more does no harm: what is gone from the folder is in its place already."""
    out, said = folder.parent, json.loads(entry.details)
    moves = [
        (out / name, out / EARLIER / there)
        for name, there in said["away"].items()
        if name not in said["files"] or (folder / name).exists()
    ]
    for path, there in (*moves, *((folder / name, out / name) for name in said["files"])):
        try:
            there.parent.mkdir(exist_ok=True)
            with suppress(FileNotFoundError):
                path.replace(there)
        except OSError as error:
            raise UnusableError(
                f"{there} cannot be put in its place ({error.strerror}): close what has it open, "
                "and run sheets once more. All is noted, and nothing is lost."
            ) from error
    settle(out)
    with suppress(OSError):
        folder.rmdir()
