"""What is kept on disk only to be quick: it may be deleted, cut off or damaged at any time.

Whatever is kept is sealed for the name that it is kept under. What is not as it was sealed is
thrown away and made anew; a folder that cannot be used is done without.
"""

from __future__ import annotations

import mmap
import os
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path
from time import time
from typing import TypeVar

import platformdirs
from isal import isal_zlib

from proofgen.errors import UnusableError
from proofgen.files import write_bytes

SEAL = 4  # bytes, behind what is sealed: CRC-32 (ISO/IEC 13239) of the name and of that
WAIT = 10  # s, for another process
# What SQLite says of a file that is damaged or no file of ours: SQLITE_ERROR (other tables than
# ours), SQLITE_CORRUPT, SQLITE_FORMAT and SQLITE_NOTADB. Whatever else goes wrong is of the moment.
DAMAGED = (1, 11, 24, 26)
# Bytes of an SQLite file that is looked through before it is first written to on a day: where its
# tree is damaged, rows are not found any more and nothing says so. A larger one takes too long.
LOOKED_THROUGH = 40_000_000
DAY = 86_400  # s

T = TypeVar("T")
Base = sqlite3.Connection


class DamagedError(Exception):
    """What is kept is not as it was sealed."""


def cache_folder() -> Path:
    """PROOFGEN_CACHE where it is set, else the person's cache folder."""
    chosen = os.environ.get("PROOFGEN_CACHE")
    return Path(chosen or platformdirs.user_cache_dir("proofgen", appauthor=False))


def sealed(name: str, data: bytes) -> bytes:
    """The data to be kept under that name."""
    return data + _seal(name, data)


def unsealed(name: str, data: object) -> bytes:
    """What was sealed under that name; DamagedError where this is anything else."""
    if not isinstance(data, bytes) or data[-SEAL:] != _seal(name, data[:-SEAL]):
        raise DamagedError
    return data[:-SEAL]


def keep(file: Path, data: bytes) -> None:
    """Seal the data in a file of its own, where one can be written."""
    with suppress(UnusableError, OSError):
        write_bytes(file, sealed(file.name, data))


def kept(file: Path, mapped: bool = False) -> memoryview | None:
    """What `keep` put into the file; None where there is no such thing, and what is anything else
    is removed.

    What is `mapped` is read where it is used, and shared by processes that run at once.
    """
    with suppress(OSError, ValueError):  # the latter where an empty file is mapped
        whole = memoryview(_mapped(file) if mapped else file.read_bytes())
        if whole[-SEAL:] == _seal(file.name, whole[:-SEAL]):
            return whole[:-SEAL]
    with suppress(OSError):
        file.unlink()
    return None


def asked(file: Path, table: str, ask: Callable[[Base], T], writes: bool = False) -> T | None:
    """The answer of an SQLite file that has the `table` (SQL that makes it where it is missing).

    A damaged file, or one in which `ask` finds what is, is removed and asked once more; None where
    none can be used. What `ask` writes is kept all or not at all.
    """
    for _ in range(2):
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            with closing(sqlite3.connect(file, timeout=WAIT)) as base, base:
                # What is lost with the power is made again.
                base.execute("PRAGMA synchronous = OFF")
                base.execute(table)
                if writes:
                    _look_through(file, base)
                return ask(base)
        except (sqlite3.Error, DamagedError, UnicodeDecodeError, OSError) as error:
            if not _damaged(error) or not _removed(file):
                break
    return None


def _mapped(file: Path) -> mmap.mmap:
    with file.open("rb") as stream:
        return mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ)


def _seal(name: str, data: bytes | memoryview) -> bytes:
    seal = isal_zlib.crc32(data, isal_zlib.crc32(name.encode("utf-8", "surrogatepass")))
    return seal.to_bytes(SEAL, "big")


def _look_through(file: Path, base: Base) -> None:
    """The day that this was last done is kept as the file's version."""
    today = int(time() // DAY)
    ((last,),) = base.execute("PRAGMA user_version")
    if last != today and file.stat().st_size <= LOOKED_THROUGH:
        if base.execute("PRAGMA integrity_check(1)").fetchall() != [("ok",)]:
            raise DamagedError
        base.execute(f"PRAGMA user_version = {today}")


def _damaged(error: Exception) -> bool:
    code: int | None = getattr(error, "sqlite_errorcode", None)
    if code is not None:
        return code & 0xFF in DAMAGED
    # Python finds text that is no UTF-8 by itself, also in what SQLite says of the file.
    return isinstance(error, (DamagedError, UnicodeDecodeError, sqlite3.OperationalError))


def _removed(file: Path) -> bool:
    """The journal first: it would be played back into a new file."""
    try:
        file.with_name(f"{file.name}-journal").unlink(missing_ok=True)
        file.unlink(missing_ok=True)
    except OSError:
        return False
    return True
