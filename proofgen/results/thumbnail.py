"""Pictures made small, kept in one SQLite file that may be deleted at any time.

A small picture is filed under the digest of the large one, so the same is never made twice.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, UnidentifiedImageError

from proofgen.cache import Base, asked, sealed, unsealed


@dataclass(frozen=True, slots=True)
class Kind:
    """How a small picture is made: at most `width` pixels wide."""

    width: int
    format: str
    quality: int


# In a row of the workbook, on a card of the contact sheet, and to be copied from there.
CELL, CARD, COPY = Kind(92, "JPEG", 80), Kind(240, "WEBP", 70), Kind(1080, "WEBP", 75)
COPIED = 400  # pictures of a page that can be copied from it: about 80 KB each
EFFORT = 2  # of 6, in packing WebP: more takes twice the time for a tenth less
SCHEME = 2  # raised whenever small pictures are made otherwise
FILE = "thumbnails.sqlite"
MOST = 12_000  # small pictures that are kept

_TABLE = "CREATE TABLE IF NOT EXISTS small (key TEXT PRIMARY KEY, data BLOB)"


class Thumbnails:
    """Small pictures, kept in a folder; where that cannot be used each is made anew."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def of(self, picture: Path, kind: Kind) -> bytes:
        """The picture of that kind; empty where the file is no whole picture."""
        try:
            data = picture.read_bytes()
        except OSError:
            return b""
        return self.made(data, (kind,)).get(kind, b"")

    def made(self, picture: bytes, kinds: Iterable[Kind]) -> dict[Kind, bytes]:
        """The kinds of a picture's file, kept from now on; none where it is no whole picture."""
        digest = hashlib.sha256(picture).hexdigest()
        keys = {_key(digest, kind): kind for kind in kinds}
        found = {keys[key]: data for key, data in self._known(list(keys)).items()}
        missing = [kind for kind in keys.values() if kind not in found]
        if missing:
            new = small(picture, missing)
            self._keep({key: new[kind] for key, kind in keys.items() if kind in new})
            found |= new
        return found

    def _known(self, keys: list[str]) -> dict[str, bytes]:
        query = f"SELECT key, data FROM small WHERE key IN ({', '.join('?' * len(keys))})"

        def read(base: Base) -> dict[str, bytes]:
            return {key: unsealed(key, data) for key, data in base.execute(query, keys)}

        return asked(self._folder / FILE, _TABLE, read) or {}

    def _keep(self, new: dict[str, bytes]) -> None:
        rows = [(key, sealed(key, data)) for key, data in new.items()]

        def write(base: Base) -> None:
            base.executemany("INSERT OR REPLACE INTO small VALUES (?, ?)", rows)
            last = "(SELECT max(rowid) FROM small)"
            base.execute(f"DELETE FROM small WHERE rowid <= {last} - ?", (MOST,))

        asked(self._folder / FILE, _TABLE, write, writes=True)


def shrunk(picture: Path, kind: Kind) -> bytes:
    """A picture's file of that kind, not kept; empty where it is no whole picture."""
    try:
        return small(picture.read_bytes(), (kind,)).get(kind, b"")
    except OSError:
        return b""


def small(picture: bytes, kinds: Iterable[Kind]) -> dict[Kind, bytes]:
    """The kinds of a picture's file; none where it is no whole picture."""
    try:
        with Image.open(io.BytesIO(picture)) as opened:
            whole = opened.convert("RGB")
    except (OSError, UnidentifiedImageError):
        return {}
    return {kind: _packed(whole, kind) for kind in kinds}


def _packed(whole: Image.Image, kind: Kind) -> bytes:
    shown = _resized(whole, kind.width)
    stream = io.BytesIO()
    if kind.format == "WEBP":
        shown.save(stream, kind.format, quality=kind.quality, method=EFFORT)
    else:
        shown.save(stream, kind.format, quality=kind.quality)
    return stream.getvalue()


def _resized(whole: Image.Image, width: int) -> Image.Image:
    """At most so wide, and at most four times as high."""
    share = min(width / whole.width, 4 * width / whole.height, 1.0)
    if share == 1:
        return whole
    size = max(round(whole.width * share), 1), max(round(whole.height * share), 1)
    # Means of as many whole pixels as possible first, which takes a quarter of the time.
    return whole.resize(size, Image.Resampling.BICUBIC, reducing_gap=1.0)


def _key(digest: str, kind: Kind) -> str:
    return f"{digest} {SCHEME} {kind.width} {kind.format} {kind.quality} {EFFORT}"
