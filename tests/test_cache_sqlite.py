"""SQLite files that are kept only to be quick: right answers or none, however they are damaged."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from books import lines
from harms import harmed
from PIL import Image

from proofgen import cache
from proofgen.artwork.artwork import Made
from proofgen.cache import asked
from proofgen.faces.cache import MeasureCache
from proofgen.flags.flag import Flag
from proofgen.flags.kinds import KINDS
from proofgen.records import memory
from proofgen.records.memory import Memory, Remembered
from proofgen.results import thumbnail
from proofgen.results.thumbnail import CARD, CELL, Thumbnails, small


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
    for harm in harmed(there / thumbnail.FILE):
        for _ in range(2):
            found = [Thumbnails(there).made(each, (CARD, CELL)) for each in pictures]
            assert found == true, harm


def test_a_line_is_remembered_as_it_was_or_done_again(tmp_path: Path) -> None:
    row = {"name": "Ida", "design": "lantern", "year": 2027}
    found = lines(tmp_path / "orders.xlsx", *({**row, "order": f"C-{n}"} for n in range(40)))
    made = (
        Made(line.order, None, (*line.flags, Flag(KINDS[n], f"row {n + 2}")), f"CODE-{n}")
        for n, line in enumerate(found)
    )
    true = {f"key of {each.code}": Remembered(each, f"{n:064}") for n, each in enumerate(made)}
    keys = dict(zip(true, found, strict=True))

    def known() -> dict[str, Remembered]:
        return Memory(tmp_path / "cache", tmp_path / "orders.xlsx").known(keys)

    def filled() -> None:
        kept = Memory(tmp_path / "cache", tmp_path / "orders.xlsx")
        there = kept.known(keys)
        kept.keep((k, keys[k], item, b"") for k, item in true.items() if k not in there)

    filled()
    for harm in harmed(tmp_path / "cache" / memory.FILE):
        assert known().items() <= true.items(), harm
        for _ in range(2):
            filled()
        assert known() == true, harm


def test_a_file_is_looked_through_once_a_day(tmp_path: Path) -> None:
    """What takes time is not done for each row."""
    asked_for: list[str] = []

    connect = sqlite3.connect

    def traced(*where: Path, **how: float) -> sqlite3.Connection:
        base = connect(*where, **how)
        base.set_trace_callback(asked_for.append)
        return base

    for day in (1, 1, 2):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(cache, "time", lambda day=day: day * cache.DAY + 5)
            patch.setattr(cache.sqlite3, "connect", traced)
            asked(tmp_path / "a.sqlite", "CREATE TABLE IF NOT EXISTS t (n INT)", bool, writes=True)
    assert len([sql for sql in asked_for if "integrity_check" in sql]) == 2


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
