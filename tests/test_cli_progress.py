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


def test_it_is_silent_for_few_rows_and_away_from_a_terminal() -> None:
    assert told(Terminal(), 20) == ""
    assert told(io.StringIO(), 500) == ""
