"""A picture made small."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image, UnidentifiedImageError


def thumbnail(picture: Path, width: int, kind: str = "JPEG", quality: int = 80) -> bytes:
    """The picture so many pixels wide; empty where the file is no whole picture."""
    try:
        with Image.open(picture) as whole:
            small = whole.convert("RGB")
    except (OSError, UnidentifiedImageError):
        return b""
    small.thumbnail((width, 4 * width))
    stream = io.BytesIO()
    small.save(stream, kind, quality=quality)
    return stream.getvalue()
