"""How far a long run has come, for a person who waits at a terminal."""

from __future__ import annotations

from collections.abc import Callable
from typing import TextIO

Progress = Callable[[int, int], None]

# Fewer rows are done before anybody wonders.
_FEW = 20


def progress_line(stream: TextIO) -> Progress:
    """What to call with (done, total) rows: it keeps one line of `stream` up to date.

    Silent where the stream is no terminal, and for few rows.
    """
    if not stream.isatty():
        return lambda _done, _total: None

    def show(done: int, total: int) -> None:
        if total <= _FEW:
            return
        line = f"{done} of {total} rows"
        # The line ends at its start, so that whatever is printed next covers it.
        stream.write((" " * len(line) if done == total else line) + "\r")
        stream.flush()

    return show
