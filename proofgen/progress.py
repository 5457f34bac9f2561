"""How far a long run has come, for a person who waits at a terminal."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic
from typing import TextIO

Progress = Callable[[int, int], None]

# Fewer rows are done before anybody wonders, unless they take long.
_FEW = 20
# s; before that the pace says little.
_SETTLED = 2.0


def progress_line(stream: TextIO, clock: Callable[[], float] = monotonic) -> Progress:
    """What to call with (done, total) rows: it keeps one line of `stream` up to date.

    Silent where the stream is no terminal, and for few rows. `clock` gives seconds. Once all are
    done, the next call begins another run through rows.
    """
    if not stream.isatty():
        return lambda _done, _total: None
    began = clock()
    longest = 0

    def show(done: int, total: int) -> None:
        nonlocal longest, began
        now = clock()
        if total <= _FEW and now - began < _SETTLED and not longest:
            return
        line = f"{done} of {total} rows{_left(done, total, now - began)}"
        longest = max(longest, len(line))
        # The line ends at its start, so that whatever is printed next covers it.
        stream.write(("" if done == total else line).ljust(longest) + "\r")
        stream.flush()
        if done == total:
            began = now

    return show


def _left(done: int, total: int, passed: float) -> str:
    """At the pace so far; nothing while there is none to speak of."""
    if passed < _SETTLED or not done:
        return ""
    left = passed / done * (total - done)
    return f", about {left:.0f} s left" if left < 100 else f", about {left / 60:.0f} min left"
