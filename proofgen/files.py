"""Writing a file so that it is either all there or not touched."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from proofgen.errors import UnusableError

AT_ONCE = 8  # files


def write_bytes(path: Path, data: bytes) -> None:
    """Write `data` to `path`, making its folders; what was there stays until all is written.

    Raises UnusableError where the file is open elsewhere or cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _replace(path, data)
    except PermissionError as error:
        raise UnusableError(
            f"{path} cannot be written: it is open elsewhere or its folder is protected; "
            "close it and run this again"
        ) from error
    except OSError as error:
        reason = error.strerror or str(error)
        raise UnusableError(
            f"{path} cannot be written ({reason}); choose another folder"
        ) from error


def write_all(files: Iterable[tuple[Path, bytes]]) -> None:
    """`write_bytes` for many: a disk that is asked for them together waits once for all of them.

    Raises UnusableError as that does, after the others were tried.
    """
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(AT_ONCE) as pool:
        tries = [pool.submit(write_bytes, path, data) for path, data in files]
    for each in tries:
        each.result()


def open_elsewhere(path: Path) -> Path | None:
    """The lock file that a spreadsheet program puts beside a workbook that it has open."""
    locks = (path.with_name(f"~${path.name}"), path.with_name(f".~lock.{path.name}#"))
    return next((lock for lock in locks if lock.exists()), None)


def backed_up(path: Path, data: bytes) -> Path:
    """A copy of what `path` holds beside it, named after the time; never in place of another file.

    UnusableError where none could be made.
    """
    stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S")
    for number in range(1, 100):
        extra = f"-{number}" if number > 1 else ""
        backup = path.with_name(f"{path.stem}-backup-{stamp}{extra}{path.suffix}")
        try:
            with backup.open("xb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
        except FileExistsError:
            continue
        if backup.read_bytes() == data:
            return backup
        break
    raise UnusableError(f"{path.name} was not written to: no backup of it could be made.")


def settle(folder: Path) -> None:
    """The folder's entry on disk too; not every system lets a folder be opened."""
    with suppress(OSError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


def _replace(path: Path, data: bytes) -> None:
    # In the same folder, because a replacement is atomic only within one file system.
    part = path.with_name(f".proofgen-{secrets.token_hex(6)}.part")
    try:
        with part.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if path.exists():
            part.chmod(path.stat().st_mode & 0o777)
        part.replace(path)
        settle(path.parent)
    finally:
        part.unlink(missing_ok=True)
