"""What is kept only to be quick may be damaged in any way: a run gives what a cold one gives."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from shutil import copytree

import pytest
from books import lines, write_book
from PIL import Image

from proofgen import cache
from proofgen.artwork.artwork import Made
from proofgen.cache import DamagedError, asked, keep, kept, sealed, unsealed
from proofgen.day import pipeline, rows
from proofgen.faces.cache import MeasureCache
from proofgen.flags.flag import Flag
from proofgen.flags.kinds import KINDS
from proofgen.proofs import bare, shelf, wood
from proofgen.records.memory import Memory, Remembered
from proofgen.results.thumbnail import CARD, CELL, Thumbnails, small

ROWS = [
    {"order": "C-1", "name": "Ida", "design": "lantern", "year": 2027, "finish": "walnut"},
    {"order": "C-2", "name": "Otto", "design": "wavename"},
]
PIECES, SMALL = "pieces.sqlite", "thumbnails.sqlite"
KEPT = ("stills/*.still", "stills/*.planes", "boards/*", "measures-*.sqlite", PIECES, SMALL)


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


@dataclass(frozen=True)
class Season:
    """A book that was proofed with an empty cache, what came of it, and that cache."""

    book: Path
    rows: tuple[Made, ...]
    pictures: dict[str, bytes]
    page: bytes
    cache: Path


def proofed(book: Path, out: Path, folder: Path) -> Season:
    """As a process would that has just started."""
    for each in (shelf.shelved, wood.sheet, bare.bare):
        each.cache_clear()
    cache._sound.clear()
    rows._open.clear()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PROOFGEN_CACHE", str(folder))
        run = pipeline.proof(book, pipeline.Options(out=out, jobs=1), lambda *_: None)
    pictures = {path.name: path.read_bytes() for path in out.glob("*.png")}
    assert run.contact
    return Season(book, run.rows, pictures, run.contact.read_bytes(), folder)


@pytest.fixture(scope="module")
def cold(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Season]:
    folder = tmp_path_factory.mktemp("season")
    book = write_book(folder / "orders.xlsx", ROWS)
    yield proofed(book, folder / "proofs", folder / "cache")
    rows._open.clear()


@pytest.mark.parametrize("harm", ["cut", "bits"])
def test_a_run_gives_what_a_cold_one_gives(cold: Season, tmp_path: Path, harm: str) -> None:
    """With all files harmed, so that each is asked for: what has to be done anew asks the next."""
    folder, out = tmp_path / "cache", tmp_path / "proofs"
    copytree(cold.cache, folder)
    copytree(cold.book.parent / "proofs", out)
    assert [bool(list(folder.glob(kind))) for kind in KEPT] == [True] * len(KEPT)
    damaged = {file: HARMS[harm](file.read_bytes()) for kind in KEPT for file in folder.glob(kind)}
    for file, data in damaged.items():
        file.write_bytes(data)
    again = proofed(cold.book, out, folder)
    assert [(m.code, m.flags) for m in again.rows] == [(m.code, m.flags) for m in cold.rows]
    assert again.pictures == cold.pictures
    assert again.page == cold.page
    assert [file for file, data in damaged.items() if file.read_bytes() == data] == []


@pytest.mark.parametrize("harm", HARMS)
@pytest.mark.parametrize("mapped", [False, True])
def test_a_file_is_whole_or_gone(tmp_path: Path, harm: str, mapped: bool) -> None:
    file, data = tmp_path / "a" / "file", random.Random(1).randbytes(20_000)
    keep(file, data)
    assert bytes(kept(file, mapped) or b"") == data
    file.write_bytes(HARMS[harm](file.read_bytes()))
    assert kept(file, mapped) is None
    assert not file.exists()
    keep(file, data)
    assert bytes(kept(file, mapped) or b"") == data


def test_what_was_kept_under_another_name_is_no_answer(tmp_path: Path) -> None:
    keep(tmp_path / "walnut", b"brown")
    (tmp_path / "walnut").rename(tmp_path / "natural")
    assert kept(tmp_path / "natural") is None
    assert unsealed("walnut", sealed("walnut", b"brown")) == b"brown"
    other = sealed("natural", b"brown")
    for wrong in (None, 1.5, "brown", b"", b"abc", other, other[:-1]):
        with pytest.raises(DamagedError):
            unsealed("walnut", wrong)


def harmed(file: Path) -> Iterator[str]:
    """The file harmed in one way after the other, as it was each time before, each time as a
    process finds it that has just started; also with a journal beside it that is none.
    """
    for harm in _harmed(file):
        cache._sound.clear()
        yield harm


def _harmed(file: Path) -> Iterator[str]:
    whole, chance = file.read_bytes(), random.Random(2027)
    journal = file.with_name(f"{file.name}-journal")
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
    journal.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + whole[:3000])
    yield "a journal"


def test_a_measure_is_right_or_measured_anew(tmp_path: Path) -> None:
    def filled() -> None:
        measures = MeasureCache(tmp_path)
        for key, measure in true.items():
            if key not in measures.group("a face"):
                measures.put("a face", key, measure)
        measures.save()

    true = {f"stroke {n},0,0": n / 7 for n in range(400)}
    filled()
    (file,) = tmp_path.iterdir()
    for harm in harmed(file):
        found = dict(MeasureCache(tmp_path).group("a face"))
        assert found.items() <= true.items(), harm
        for _ in range(2):  # what was read before the harm was found is gone with the file
            filled()
        assert MeasureCache(tmp_path).group("a face") == true, harm


def test_a_small_picture_is_right_or_made_anew(tmp_path: Path) -> None:
    pictures, there = [], tmp_path / "cache"
    for red in range(8):
        Image.effect_mandelbrot((108, 135), (-2, -1.5, 1, 1.5), 20 + red).save(tmp_path / "a.png")
        pictures.append((tmp_path / "a.png").read_bytes())
    true = [small(picture, (CARD, CELL)) for picture in pictures]
    assert [Thumbnails(there).made(each, (CARD, CELL)) for each in pictures] == true
    for harm in harmed(there / SMALL):
        for _ in range(2):
            found = [Thumbnails(there).made(each, (CARD, CELL)) for each in pictures]
            assert found == true, harm


def test_a_line_is_remembered_as_it_was_or_done_again(tmp_path: Path) -> None:
    found = lines(tmp_path / "orders.xlsx", *({**ROWS[0], "order": f"C-{n}"} for n in range(40)))
    made = (
        Made(line.order, None, (*line.flags, Flag(KINDS[n], f"row {n + 2}")), f"CODE-{n}")
        for n, line in enumerate(found)
    )
    true = {f"key of {each.code}": Remembered(each, f"{n:064}") for n, each in enumerate(made)}
    keys = dict(zip(true, found, strict=True))

    def known() -> dict[str, Remembered]:
        return Memory(tmp_path / "cache", tmp_path / "orders.xlsx").known(keys)

    def filled() -> None:
        memory = Memory(tmp_path / "cache", tmp_path / "orders.xlsx")
        there = memory.known(keys)
        memory.keep((k, keys[k], item, b"") for k, item in true.items() if k not in there)

    filled()
    for harm in harmed(tmp_path / "cache" / PIECES):
        assert known().items() <= true.items(), harm
        for _ in range(2):
            filled()
        assert known() == true, harm


def test_a_file_in_use_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is done without until it is free; what is in it stays."""
    monkeypatch.setattr("proofgen.cache.WAIT", 0.01)
    file, table = tmp_path / "a.sqlite", "CREATE TABLE IF NOT EXISTS t (n INT)"

    def add(base: sqlite3.Connection) -> bool:
        base.execute("INSERT INTO t VALUES (1)")
        return True

    assert asked(file, table, add)
    with closing(sqlite3.connect(file)) as other:
        other.execute("BEGIN EXCLUSIVE")
        assert asked(file, table, add) is None
    assert asked(file, table, lambda base: list(base.execute("SELECT n FROM t"))) == [(1,)]


def test_half_of_a_change_is_not_kept(tmp_path: Path) -> None:
    file, table = tmp_path / "a.sqlite", "CREATE TABLE IF NOT EXISTS t (n INT)"

    def fail(base: sqlite3.Connection) -> None:
        base.execute("INSERT INTO t VALUES (1)")
        raise sqlite3.InterfaceError("a fault of the moment")

    assert asked(file, table, fail) is None
    assert asked(file, table, lambda base: list(base.execute("SELECT n FROM t"))) == []
