"""The progress line: only at a terminal, only for many rows, and covered by what follows."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from books import write_book

from proofgen.day import pipeline
from proofgen.progress import progress_line


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def told(stream: io.StringIO, total: int) -> str:
    show = progress_line(stream)
    for done in range(1, total + 1):
        show(done, total)
    return stream.getvalue()


def test_it_counts_and_clears_its_line() -> None:
    parts = told(Terminal(), 21).split("\r")
    assert parts[0] == "1 of 21 rows"
    assert parts[19] == "20 of 21 rows"
    assert parts[20] == " " * len("21 of 21 rows")
    assert parts[21] == ""


def test_it_says_how_long_is_left_at_the_pace_so_far() -> None:
    stream, seconds = Terminal(), iter([0.0, 1.0, 40.0, 300.0, 900.0])
    show = progress_line(stream, lambda: next(seconds))
    for done in (1, 100, 200, 1000):
        show(done, 1000)
    lines = [line.rstrip() for line in stream.getvalue().split("\r")]
    assert lines[:4] == [
        "1 of 1000 rows",
        "100 of 1000 rows, about 6 min left",
        "200 of 1000 rows, about 35 min left",
        "",
    ]


def test_it_says_nothing_of_the_time_before_that_can_be_known() -> None:
    """The first row starts everything, and each of the next ten draws wood that is new."""
    took = [9.3, *[1.0] * 10, *[0.05] * 1989]
    stream, now = Terminal(), 0.0
    show = progress_line(stream, lambda: now)
    for done, seconds in enumerate(took, 1):
        now += seconds
        show(done, len(took))
    lines = stream.getvalue().split("\r")
    assert lines[0] == "1 of 2000 rows"
    assert [line for line in lines[:99] if "left" in line] == []
    assert lines[99].strip() == "100 of 2000 rows, about 95 s left"
    assert lines[1499].strip() == "1500 of 2000 rows, about 25 s left"


def test_a_run_that_tells_of_some_rows_only_does_not_slow_down_the_next() -> None:
    stream, seconds = Terminal(), iter([0.0, 500.0, 900.0, 905.0])
    show = progress_line(stream, lambda: next(seconds))
    show(2, 100)
    show(90, 100)
    show(50, 100)
    assert stream.getvalue().rstrip().endswith("50 of 100 rows, about 5 s left")


def test_each_run_through_the_rows_says_what_it_is_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("proofgen.progress._FEW", 1)
    rows = [{"order": "1", "name": n, "design": "boat", "year": 2027} for n in ("Ada", "Bo", "Cy")]
    rows += [{**row, "order": "2"} for row in rows]
    book, stream = write_book(tmp_path / "orders.xlsx", rows), Terminal()
    options = pipeline.Options(jobs=1, pdf=True)
    pipeline.proof(book, options, progress_line(stream, lambda: 0.0))
    lines = [line.rstrip() for line in stream.getvalue().split("\r") if line.strip()]
    assert lines == [
        *(f"pictures: {done} of 6 rows" for done in range(1, 6)),
        "whole orders: 3 of 6 rows",
        "pages: 3 of 6 rows",
        *(f"results: {done} of 6 rows" for done in range(1, 6)),
        *(f"contact sheet: {done} of 6 rows" for done in range(1, 6)),
    ]
    assert stream.getvalue().endswith(" \r")


def test_a_second_run_through_the_rows_has_a_pace_of_its_own() -> None:
    stream, seconds = Terminal(), iter([0.0, 900.0, 910.0])
    show = progress_line(stream, lambda: next(seconds))
    show(100, 100)
    show(50, 100)
    assert stream.getvalue().rstrip().endswith("50 of 100 rows, about 10 s left")


def test_few_rows_that_take_long_are_counted_too() -> None:
    stream, seconds = Terminal(), iter([0.0, 1.0, 9.0, 18.0])
    show = progress_line(stream, lambda: next(seconds))
    show(1, 20)
    assert stream.getvalue() == ""
    show(10, 20)
    assert stream.getvalue().rstrip() == "10 of 20 rows, about 9 s left"
    show(20, 20)
    assert stream.getvalue().split("\r")[1].strip() == ""


def test_it_is_silent_for_few_rows_and_away_from_a_terminal() -> None:
    assert told(Terminal(), 20) == ""
    assert told(io.StringIO(), 500) == ""
