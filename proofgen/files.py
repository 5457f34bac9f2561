"""Writing a file so that it is either all there or not touched."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from proofgen.errors import UnusableError


def write_bytes(path: Path, data: bytes) -> None:
    """Write `data` to `path`, making its folders; what was there stays until all is written.

    Raises UnusableError where the file is open elsewhere or cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _replace(path, data)
    except PermissionError as error:
        raise UnusableError(
            f"{path} cannot be written; it is open elsewhere or its folder is protected: "
            "close it and run this again"
        ) from error
    except OSError as error:
        reason = error.strerror or str(error)
        raise UnusableError(
            f"{path} cannot be written ({reason}); choose another folder with --out"
        ) from error


def _replace(path: Path, data: bytes) -> None:
    # In the same folder, because os.replace is atomic only within one file system.
    handle, name = tempfile.mkstemp(prefix=".proofgen-", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).chmod(_mode(path))
        Path(name).replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise


def _mode(path: Path) -> int:
    """That of the file that is replaced, else what an ordinary new file has (mkstemp gives 600)."""
    if path.exists():
        return path.stat().st_mode & 0o777
    return 0o644
