"""A PNG of 256 colours put together from bands of rows, so that what is not touched stays packed.

PNG (ISO/IEC 15948): IDAT is one zlib stream (RFC 1950). Each band is deflated by itself and closed
with a full flush (RFC 1951), which ends at a byte and refers to nothing before it, so bands can be
joined; the stream's Adler-32 follows from theirs.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from isal import isal_zlib

from proofgen.proofs.palette import Indices

DOTS = 11811  # a metre: 300 dpi
# What is packed for one picture, in a small part of the time that zlib's least level takes.
QUICK = 0
# What is kept is packed but once.
SMALL = 6
ADLER = 65521
SIGNATURE = b"\x89PNG\r\n\x1a\n"


@dataclass(frozen=True, slots=True)
class Band:
    """Some rows of a picture, deflated; `adler` and `size` are those of the bytes before that."""

    data: bytes
    adler: int
    size: int


def band(index: Indices, kept: bool = False) -> Band:
    """Rows (h, w) as a band; each is led by filter type 0, none. What is `kept` gets smaller."""
    raw = np.zeros((len(index), index.shape[1] + 1), np.uint8)
    raw[:, 1:] = index
    plain = raw.tobytes()
    packer = (
        zlib.compressobj(SMALL, zlib.DEFLATED, -15)
        if kept
        else isal_zlib.compressobj(QUICK, zlib.DEFLATED, -15)
    )
    data = packer.compress(plain) + packer.flush(zlib.Z_FULL_FLUSH)
    return Band(data, isal_zlib.adler32(plain), len(plain))


def png(
    size: tuple[int, int], palette: Indices, bands: Iterable[Band], texts: Mapping[str, str]
) -> bytes:
    """The file of a picture of that (width, height); the bands are all its rows from the top."""
    bands = tuple(bands)
    # An empty final block ends the stream.
    stream = b"\x78\x9c" + b"".join(each.data for each in bands) + b"\x03\x00"
    checked = stream + struct.pack(">I", _joined(bands))
    said = [_chunk(b"iTXt", _text(key, text)) for key, text in texts.items()]
    parts = (
        _chunk(b"IHDR", struct.pack(">IIBBBBB", *size, 8, 3, 0, 0, 0)),
        _chunk(b"sRGB", b"\x00"),  # perceptual
        _chunk(b"PLTE", palette.tobytes()),
        _chunk(b"pHYs", struct.pack(">IIB", DOTS, DOTS, 1)),
        *said,
        _chunk(b"IDAT", checked),
        _chunk(b"IEND", b""),
    )
    return SIGNATURE + b"".join(parts)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return (
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", isal_zlib.crc32(kind + data))
    )


def _text(key: str, text: str) -> bytes:
    """Keyword, not compressed, no language; UTF-8."""
    return key.encode("latin-1") + b"\x00\x00\x00\x00\x00" + text.encode()


def _joined(bands: Iterable[Band]) -> int:
    """The Adler-32 of all bands: its low half sums bytes, its high half sums those sums."""
    low, high = 1, 0
    for each in bands:
        high = (high + (each.adler >> 16) + (low - 1) * each.size) % ADLER
        low = (low + (each.adler & 0xFFFF) - 1) % ADLER
    return high << 16 | low
