"""A digest of the code, faces and libraries that decide how things are drawn."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

from proofgen.resources import folder

PACKAGE = Path(__file__).parents[1]
ROOMS = ("proofs", "geometry", "faces", "workshop")
LIBRARIES = ("numpy", "Pillow", "skia-pathops", "uharfbuzz")


@lru_cache(maxsize=1)
def drawn_by() -> str:
    """Another one wherever what was kept may no longer be what would be drawn."""
    sources = sorted(file for room in ROOMS for file in (PACKAGE / room).glob("*.py"))
    faces = sorted(folder("fonts").glob("*"))
    parts = [
        *(file.read_bytes() for file in sources),
        *(
            f"{file.name} {file.stat().st_size} {file.stat().st_mtime_ns}".encode()
            for file in faces
        ),
        *(f"{name} {version(name)}".encode() for name in LIBRARIES),
    ]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()
