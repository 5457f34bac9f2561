"""Kills, two runs at once, full disks and hostile names: nothing of the maker's is lost."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path
from xml.etree import ElementTree

import pytest
from books import write_book
from PIL import Image

from proofgen.day import pipeline
from proofgen.errors import UnusableError
from proofgen.records.archive import FILE, archive
from proofgen.results.write_back import Target, write_back

ROW = {"order": "T-1", "name": "Otto", "design": "boat", "year": 2027}
NAMED = tuple(enumerate(("Ada", "Bo", "Cy", "Di")))
CALL = "import sys; from proofgen.cli.program import main; sys.exit(main(sys.argv[1:]))"


def quiet(*_: int) -> None:
    pass


def call(folder: Path, *arguments: str) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-c", CALL, *arguments, "--jobs", "1"],
        env={**os.environ, "PROOFGEN_CACHE": str(folder / "cache")},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def many(folder: Path) -> Path:
    rows = [{**ROW, "order": f"T-{i}", "name": name} for i, name in NAMED]
    return write_book(folder / "orders.xlsx", rows)


def whole(folder: Path, book: Path, original: bytes) -> None:
    """The book as it was, the records sound, and every finished picture complete."""
    assert book.read_bytes() == original
    if (folder / FILE).exists():
        base = sqlite3.connect(folder / FILE)
        assert base.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        base.close()
    for picture in (folder / "proofs").glob("*.png"):
        with Image.open(picture) as image:
            image.load()


def killed(folder: Path, book: Path, command: str, longest: float) -> None:
    """Kill the command at moments spread over its run; PROOFGEN_KILLS asks for more of them."""
    original = book.read_bytes()
    turns = int(os.environ.get("PROOFGEN_KILLS", "4"))
    for turn in range(turns):
        process = call(folder, command, str(book))
        time.sleep(0.3 + (longest - 0.3) * turn / turns)
        process.send_signal(signal.SIGKILL)
        process.wait()
        whole(folder, book, original)


def test_a_kill_while_proofs_are_made(tmp_path: Path) -> None:
    book = many(tmp_path)
    killed(tmp_path, book, "proof", 4.0)
    run = pipeline.proof(book, pipeline.Options(jobs=1), quiet)
    assert len(run.pictures) == 4
    with archive(tmp_path) as kept:
        for made in run.rows:
            assert made.code in {p.code for p in kept.pictures(made.order.number)}


def test_a_kill_while_production_files_are_made(tmp_path: Path) -> None:
    """Whatever a killed run left, every SVG is whole, and the next run gives the same files."""
    book = many(tmp_path)
    codes = [made.code for made in pipeline.proof(book, pipeline.Options(jobs=1), quiet).rows]
    rows = [{**ROW, "order": f"T-{i}", "name": n, "approved": codes[i]} for i, n in NAMED]
    book = write_book(book, rows)
    killed(tmp_path, book, "make", 1.6)
    process = call(tmp_path, "make", str(book))
    while process.poll() is None and not list((tmp_path / "production").glob("*.svg")):
        time.sleep(0.005)
    process.send_signal(signal.SIGKILL)
    process.wait()
    files = sorted((tmp_path / "production").rglob("*.svg"))
    before = {file: file.read_bytes() for file in files}
    assert before
    for data in before.values():
        ElementTree.fromstring(data)
    run = pipeline.make(book, pipeline.Options(jobs=1), quiet, everything=False)
    made = {path.resolve() for paths in run.production.values() for path in paths}
    assert len(run.production) == 4
    assert {f.resolve(): data for f, data in before.items()}.items() <= {
        path: path.read_bytes() for path in made
    }.items()


def test_two_runs_at_once(tmp_path: Path) -> None:
    book = many(tmp_path)
    original = book.read_bytes()
    assert [p.wait() for p in [call(tmp_path, "proof", str(book)) for _ in range(2)]] == [0, 0]
    whole(tmp_path, book, original)
    assert len(list((tmp_path / "proofs").glob("*.png"))) == 4


def test_a_full_disk_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = many(tmp_path)
    original = book.read_bytes()
    usage = shutil.disk_usage(tmp_path)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=1000))
    with pytest.raises(UnusableError, match="disk is nearly full"):
        write_back(book, Target("Sheet", 1, {2: ("ready", "", "")}))
    assert book.read_bytes() == original
    assert sorted(p.name for p in tmp_path.iterdir()) == ["orders.xlsx"]


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX limits")
def test_a_disk_that_fills_up_while_a_picture_is_written(tmp_path: Path) -> None:
    book = many(tmp_path)
    original = book.read_bytes()
    limited = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (120_000, 120_000));"
    ignoring = "import signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN);"
    process = subprocess.run(
        [sys.executable, "-c", limited + ignoring + CALL, "proof", str(book), "--jobs", "1"],
        env={**os.environ, "PROOFGEN_CACHE": str(tmp_path / "cache")},
        capture_output=True,
        text=True,
    )
    assert process.returncode == 2
    assert "Traceback" not in process.stderr
    assert "cannot be written" in process.stderr or "records cannot be" in process.stderr
    whole(tmp_path, book, original)


def test_hostile_names_stay_in_their_folder(tmp_path: Path) -> None:
    names = ("../../up", "/etc/x", "CON", "a" * 300, "..", "Ida\n../x", "Ida", "ida")
    rows = [{**ROW, "order": f"T-{i}", "name": name} for i, name in enumerate(names)]
    (tmp_path / "shop").mkdir()
    book = write_book(tmp_path / "shop" / "orders.xlsx", rows)
    run = pipeline.make(book, pipeline.Options(), quiet, everything=True)
    written = [path for paths in run.production.values() for path in paths]
    assert len(set(written)) == len(written) >= 2
    folder = (tmp_path / "shop" / "production").resolve()
    assert all(path.parent == folder for path in written)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["shop"]
