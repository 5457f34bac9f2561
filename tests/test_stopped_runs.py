"""A run that is stopped keeps what it finished, and the next one does only the rest."""

from __future__ import annotations

from pathlib import Path

import pytest
from books import write_book

from proofgen.cli import main
from proofgen.day import pipeline, recording, rows
from proofgen.records.archive import archive

NAMES = ("Ada", "Bo", "Cy", "Di")
ROWS = [{"order": f"T-{n}", "name": name, "design": "boat"} for n, name in enumerate(NAMES)]


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "cache"))
    return write_book(tmp_path / "orders.xlsx", ROWS)


def stop_at(number: str, patch: pytest.MonkeyPatch) -> list[str]:
    """As Ctrl-C in that order; gives the orders that were done."""
    done: list[str] = []
    work = rows.work

    def stopped(job: rows.Job) -> rows.Done:
        if job.line.order.number == number:
            raise KeyboardInterrupt
        done.append(job.line.order.number)
        return work(job)

    patch.setattr(rows, "work", stopped)
    return done


def recorded(book: Path) -> list[str]:
    with archive(book.parent) as records:
        return [row["order"] for row in ROWS if records.pictures(row["order"])]


def test_pictures_of_a_run_that_is_stopped_are_kept(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.MonkeyPatch.context() as patch:
        stop_at("T-2", patch)
        assert main(["proof", str(book), "--jobs", "1"]) == 130
    assert capsys.readouterr().err.strip() == "proofgen: interrupted."
    assert recorded(book) == ["T-0", "T-1"]
    first = {path: path.read_bytes() for path in (book.parent / "proofs").glob("*.png")}
    assert len(first) == 2
    with pytest.MonkeyPatch.context() as patch:
        done = stop_at("", patch)
        run = pipeline.proof(book, pipeline.Options(jobs=1), lambda *_: None)
    assert done == ["T-2", "T-3"]
    assert first.items() <= {path: path.read_bytes() for path in run.pictures.values()}.items()
    assert recorded(book) == ["T-0", "T-1", "T-2", "T-3"]
    with archive(book.parent) as records:
        assert {len(records.pictures(row["order"])) for row in ROWS} == {1}


def test_verdicts_of_a_run_that_is_stopped_are_kept(book: Path) -> None:
    with pytest.MonkeyPatch.context() as patch:
        stop_at("T-3", patch)
        assert main(["check", str(book), "--jobs", "1"]) == 130
    with pytest.MonkeyPatch.context() as patch:
        done = stop_at("", patch)
        assert main(["check", str(book), "--jobs", "1"]) == 0
    assert done == ["T-3"]


def test_what_takes_long_is_kept_before_a_batch_is_full(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So that a computer that goes off loses little."""
    monkeypatch.setattr(recording, "SECONDS", -1.0)
    there: list[int] = []
    work = rows.work
    monkeypatch.setattr(rows, "work", lambda job: there.append(len(recorded(book))) or work(job))
    run = pipeline.proof(book, pipeline.Options(jobs=1), lambda *_: None)
    assert there == [0, 1, 2, 3]
    assert all(path.is_file() for path in run.pictures.values())
