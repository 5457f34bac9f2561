"""Stills kept in memory and on disk, in a folder that may be deleted at any time.

A still is filed under a digest of all that it was drawn from, the code that drew it included.
"""

from __future__ import annotations

import hashlib
import io
import os
from contextlib import suppress
from functools import lru_cache
from pathlib import Path

import numpy as np

from proofgen.cache import cache_folder, keep, kept
from proofgen.proofs.drawn_by import drawn_by
from proofgen.proofs.png import Band
from proofgen.proofs.scene import Scene
from proofgen.proofs.stage import stage
from proofgen.proofs.still import Still, still
from proofgen.proofs.view import view

MOST = 500_000_000  # bytes on disk


@lru_cache(maxsize=32)
def shelved(scene: Scene, depths: tuple[int, ...]) -> Still:
    """The still of a scene whose layers of these indices will be lettered; drawn but once."""
    shelf = cache_folder() / "stills"
    name = hashlib.sha256(f"{drawn_by()} {depths} {scene!r}".encode()).hexdigest()
    found = _load(shelf, name)
    if found:
        return found
    made = still(view(scene, stage(scene.size, scene.hanger is not None)), depths)
    _save(shelf, name, made)
    with suppress(OSError):
        _tidy(shelf)
    return made


def _load(shelf: Path, name: str) -> Still | None:
    """The planes are only mapped, since few rows of them are read."""
    packed, mapped = kept(shelf / f"{name}.still"), kept(shelf / f"{name}.planes", mapped=True)
    if packed is None or mapped is None:
        return None
    with np.load(io.BytesIO(packed)) as found:
        sizes, data = found["bands"], found["data"].tobytes()
        ends = np.cumsum(sizes[:, 0])
        bands = tuple(
            Band(data[end - length : end], int(adler), int(size))
            for end, (length, adler, size) in zip(ends, sizes, strict=True)
        )
        index, palette, first = found["index"], found["palette"], int(found["first"])
        planes = np.frombuffer(mapped, np.uint8).reshape(found["shape"])
    with suppress(OSError):
        os.utime(shelf / f"{name}.still")
    return Still(index, palette, first, tuple(planes), bands)


def _save(shelf: Path, name: str, made: Still) -> None:
    """All of it in two files, since only one of them has to be read."""
    rest = io.BytesIO()
    planes = np.stack(made.planes) if made.planes else np.empty((0,), np.uint8)
    keep(shelf / f"{name}.planes", planes.tobytes())
    np.savez(
        rest,
        shape=planes.shape,
        index=made.index,
        palette=made.palette,
        first=np.array(made.first),
        bands=np.array([(len(b.data), b.adler, b.size) for b in made.bands]),
        data=np.frombuffer(b"".join(b.data for b in made.bands), np.uint8),
    )
    keep(shelf / f"{name}.still", rest.getvalue())


def _tidy(shelf: Path) -> None:
    """Remove what was not used for longest until the rest is small enough."""
    files = sorted(shelf.glob("*.still"), key=lambda file: -file.stat().st_mtime)
    total = 0
    for file in files:
        both = [each for each in (file, file.with_suffix(".planes")) if each.is_file()]
        total += sum(each.stat().st_size for each in both)
        if total > MOST:
            for each in both:
                each.unlink()
