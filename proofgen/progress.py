"""How far a long run has come, for a person who waits at a terminal."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass, replace
from time import monotonic
from typing import TextIO

Progress = Callable[[int, int], None]

# Fewer rows are done before anybody wonders, unless they take long.
_FEW = 20
# s; before that the pace says little.
_SETTLED = 2.0
# Of all rows; before that most of the time went into what is done but once, such as the wood.
_TOLD = 0.05


@dataclass(frozen=True, slots=True)
class Line:
    """A line that is kept up to date; `what` the rows are gone through for stands before it."""

    show: Callable[[int, int, str], None]
    what: str = ""

    def __call__(self, done: int, total: int) -> None:
        """So many rows of all are done."""
        self.show(done, total, self.what)


def stage(progress: Progress, what: str) -> Progress:
    """The same, saying what the rows are gone through for where it is a line."""
    return replace(progress, what=f"{what}: ") if isinstance(progress, Line) else progress


def progress_line(stream: TextIO, clock: Callable[[], float] = monotonic) -> Progress:
    """What to call with (done, total) rows: it keeps one line of `stream` up to date.

    Silent where the stream is no terminal, and for few rows. `clock` gives seconds. Once all are
    done, or fewer than before, another run through rows has begun.
    """
    if not stream.isatty():
        return lambda _done, _total: None
    began = clock()
    longest = 0
    seen: list[tuple[int, float]] = []

    def show(done: int, total: int, what: str) -> None:
        nonlocal longest, began
        now = clock()
        if seen and done < seen[-1][0]:
            began = seen[-1][1]
            seen[:] = [(0, began)]
        seen.append((done, now))
        if total <= _FEW and now - began < _SETTLED and not longest:
            return
        left = _left(seen, total) if now - began >= _SETTLED else ""
        line = f"{what}{done} of {total} rows{left}"
        longest = max(longest, len(line))
        # The line ends at its start, so that whatever is printed next covers it.
        stream.write(("" if done == total else line).ljust(longest) + "\r")
        stream.flush()

    return Line(show)


def _left(seen: list[tuple[int, float]], total: int) -> str:
    """At the pace of the later half of what is done, pairs of rows and the time; nothing while that
    cannot be known. The first row, which starts everything, is in no pace.
    """
    done, now = seen[-1]
    rows, since = seen[max(bisect_right(seen, done / 2, key=lambda each: each[0]) - 1, 0)]
    if done < _TOLD * total or rows == done:
        return ""
    left = (now - since) / (done - rows) * (total - done)
    return f", about {left:.0f} s left" if left < 100 else f", about {left / 60:.0f} min left"
