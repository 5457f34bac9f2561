"""Irregular strip packing by spyrrow, asked in processes of its own (see child.py)."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Generator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from proofgen.nesting.part import Board
from proofgen.nesting.shape import Lying, Shape, mix_of

# The engine may go under the gap by rounding.
MORE = 0.02  # mm
SEED = 2027
CHILD = Path(__file__).with_name("child.py")


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look. A search ends after `patience` reports without progress, or once it has
    been stuck more than `stuck` times; so many `searches` run at once. Where `seconds` is not
    None, all is done by about then; only without it is the same layout found again.
    """

    patience: int = 60
    stuck: int = 0
    searches: int = 2
    workers: int = 1
    seconds: float | None = None


STEADY = Effort()


@dataclass(frozen=True, slots=True)
class Search:
    """Shapes to lay on a board from the left, as narrow as is found; `enough` ends it, in mm of
    the board's width.
    """

    shapes: tuple[Shape, ...]
    board: Board
    enough: float = 0.0


@dataclass(frozen=True, slots=True)
class Strip:
    """What was found: all the shapes, and how much of the board's width they take with margins."""

    lying: tuple[Lying, ...]
    width: float


@dataclass(frozen=True, slots=True)
class Failed:
    """A search of which nothing is known: its process ended without an answer."""


def available() -> bool:
    """Whether the engine is installed here."""
    return find_spec("spyrrow") is not None


def strips(
    searches: Sequence[Search], effort: Effort, seconds: float | None
) -> Generator[Strip | Failed | None]:
    """What each search finds, in their order though all run at once; None where it finds nothing.

    Each ends after so many seconds where that is not None. Closing the iterator ends the rest.
    """
    running: list[subprocess.Popen[str]] = []
    try:
        running.extend(_started(_asked(search, effort, seconds)) for search in searches)
        for search, process in zip(searches, running, strict=True):
            yield _found(search, process)
    finally:
        for process in running:
            process.kill()
            process.wait()
            assert process.stdout is not None
            process.stdout.close()


def _started(asked: dict[str, Any]) -> subprocess.Popen[str]:
    process = subprocess.Popen(
        # Safe path: what lies in the working folder, or beside the file, is no module of its.
        [sys.executable, "-P", str(CHILD)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        encoding="utf-8",
    )
    assert process.stdin is not None
    # A process that has ended by now is found to have failed when its answer is read.
    with suppress(OSError), process.stdin as pipe:
        json.dump(asked, pipe)
    return process


def _asked(search: Search, effort: Effort, seconds: float | None) -> dict[str, Any]:
    mix = mix_of(search.shapes)
    board, gap = search.board, search.board.gap + MORE
    # The engine keeps its gap to the strip's borders too.
    wider = 2 * gap - 2 * board.margin
    return {
        "items": [
            {"id": str(i), "shape": shape.outline, "count": count, "turns": shape.turns}
            for i, (shape, count) in enumerate(mix.items())
        ],
        "height": board.height + wider,
        "enough": search.enough + wider if search.enough else 0.0,
        "gap": gap,
        "patience": effort.patience,
        "stuck": effort.stuck,
        "seconds": seconds,
        "workers": effort.workers,
        "seed": SEED,
    }


def _found(search: Search, process: subprocess.Popen[str]) -> Strip | Failed | None:
    assert process.stdout is not None
    said = process.stdout.read()
    if process.wait() != 0 or not said:
        return Failed()
    found = json.loads(said)
    if found["width"] is None:
        return None
    shapes = list(mix_of(search.shapes))
    shift = search.board.margin - search.board.gap - MORE
    lying = tuple(
        Lying(shapes[int(i)], turn, x + shift, y + shift) for i, turn, x, y in found["placed"]
    )
    return Strip(lying, found["width"] + 2 * shift)
