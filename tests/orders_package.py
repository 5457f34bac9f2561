"""Change one part of a book, for what no writer writes."""

from __future__ import annotations

import zipfile
from pathlib import Path


def edit(path: Path, part: str, old: bytes, new: bytes) -> None:
    """Replace bytes that must be there."""
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    assert old in parts[part]
    parts[part] = parts[part].replace(old, new)
    with zipfile.ZipFile(path, "w") as package:
        for name, data in parts.items():
            package.writestr(name, data)
