"""The progress line: only at a terminal, only for many rows, and covered by what follows."""

from __future__ import annotations

import io

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
        "200 of 1000 rows, about 20 min left",
        "",
    ]


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
