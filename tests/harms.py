"""Ways in which a file may be cut off or damaged."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from proofgen import cache


def cut(share: float) -> Callable[[bytes], bytes]:
    return lambda data: data[: int(len(data) * share)]


def flipped(start: int, step: int) -> Callable[[bytes], bytes]:
    """Single bits, so that whatever counts lengths still fits."""

    def flip(data: bytes) -> bytes:
        changed = bytearray(data)
        for at in range(min(start, len(data) - 1), len(data), step):
            changed[at] ^= 1 << at % 8
        return bytes(changed)

    return flip


HARMS: dict[str, Callable[[bytes], bytes]] = {
    "empty": lambda _: b"",
    "cut": cut(0.7),
    "its last byte": lambda data: data[:-1] + bytes([data[-1] ^ 1]),
    "bits": flipped(4096, 1021),
    "its head": flipped(0, 1 << 40),
    "another thing": lambda _: b"no such thing " * 900,
}


def harmed(file: Path) -> Iterator[str]:
    """The file harmed in one way after the other, as it was each time before, a way a day; also
    with a journal beside it that is none.
    """
    with pytest.MonkeyPatch.context() as patch:
        for day, harm in enumerate(_harmed(file), 1):
            patch.setattr(cache, "time", lambda day=day: day * cache.DAY)
            yield harm


def _harmed(file: Path) -> Iterator[str]:
    whole, chance = file.read_bytes(), random.Random(2027)
    for name, harm in HARMS.items():
        file.write_bytes(harm(whole))
        yield name
    for at in chance.sample(range(len(whole)), 60):
        file.write_bytes(
            whole[:at] + bytes([whole[at] ^ chance.randrange(1, 256)]) + whole[at + 1 :]
        )
        yield f"byte {at}"
    for length in chance.sample(range(len(whole)), 15):
        file.write_bytes(whole[:length])
        yield f"cut at {length}"
    file.unlink()
    with closing(sqlite3.connect(file)) as base:
        for table in ("measures", "pieces", "small"):
            base.execute(f"CREATE TABLE {table} (other TEXT)")
    yield "other tables"
    file.write_bytes(whole[:5000])
    file.with_name(f"{file.name}-journal").write_bytes(
        b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + whole[:3000]
    )
    yield "a journal"
