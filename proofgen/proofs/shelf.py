"""Stills kept in memory and on disk, in a folder that may be deleted at any time.

A still is filed under a digest of all that it was drawn from, the code that drew it included.
"""

from __future__ import annotations

import hashlib
import io
import os
import zipfile
from contextlib import suppress
from functools import lru_cache
from pathlib import Path

import numpy as np

from proofgen.errors import UnusableError
from proofgen.faces.cache import cache_folder
from proofgen.files import write_bytes
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
    with suppress(OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        return _load(shelf, name, bool(depths))
    made = still(view(scene, stage(scene.size, scene.hanger is not None)), depths)
    with suppress(UnusableError, OSError):
        _save(shelf, name, made)
        _tidy(shelf)
    return made


def _load(shelf: Path, name: str, lettered: bool) -> Still:
    """The planes are only mapped, since few rows of them are read."""
    with np.load(io.BytesIO((shelf / f"{name}.npz").read_bytes())) as kept:
        sizes, data = kept["bands"], kept["data"].tobytes()
        ends = np.cumsum(sizes[:, 0])
        bands = tuple(
            Band(data[end - length : end], int(adler), int(size))
            for end, (length, adler, size) in zip(ends, sizes, strict=True)
        )
        index, palette, first = kept["index"], kept["palette"], int(kept["first"])
    planes = np.load(shelf / f"{name}.npy", mmap_mode="r") if lettered else ()
    os.utime(shelf / f"{name}.npz")
    return Still(index, palette, first, tuple(planes), bands)


def _save(shelf: Path, name: str, made: Still) -> None:
    """The archive last: a still is there once its archive is."""
    planes, rest = io.BytesIO(), io.BytesIO()
    if made.planes:
        np.save(planes, np.stack(made.planes))
        write_bytes(shelf / f"{name}.npy", planes.getvalue())
    np.savez(
        rest,
        index=made.index,
        palette=made.palette,
        first=np.array(made.first),
        bands=np.array([(len(b.data), b.adler, b.size) for b in made.bands]),
        data=np.frombuffer(b"".join(b.data for b in made.bands), np.uint8),
    )
    write_bytes(shelf / f"{name}.npz", rest.getvalue())


def _tidy(shelf: Path) -> None:
    """Remove what was not used for longest until the rest is small enough."""
    files = sorted(shelf.glob("*.npz"), key=lambda file: -file.stat().st_mtime)
    total = 0
    for file in files:
        both = [each for each in (file, file.with_suffix(".npy")) if each.is_file()]
        total += sum(each.stat().st_size for each in both)
        if total > MOST:
            for each in both:
                each.unlink()
