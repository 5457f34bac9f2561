"""Irregular strip packing by spyrrow, asked in a process of its own (see child.py)."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Any

from proofgen.nesting.part import Board, Placed
from proofgen.nesting.shape import Shape

# The engine may go under the gap by rounding.
MORE = 0.02  # mm
WORKERS = 2  # fixed, because another number finds other layouts
SEED = 2027


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look: a search ends after so many reports without progress, and where `seconds`
    is not None after that time; only without it is the same layout found again.
    """

    patience: int = 30
    seconds: float | None = None


def available() -> bool:
    """Whether the engine is installed here."""
    return find_spec("spyrrow") is not None


def strip(
    mix: Mapping[Shape, int], board: Board, effort: Effort, enough: float | None = None
) -> tuple[tuple[tuple[Shape, Placed], ...], float] | None:
    """The shapes, so many of each, on the board's height and as little of its width as is found;
    the first layout that takes no more than `enough` of the width is taken. None where nothing
    was found. The keys of what is placed are blank.
    """
    gap, margin = board.gap + MORE, board.margin
    shapes = list(mix)
    # The engine keeps its gap to the strip's borders too.
    asked = {
        "items": [
            {"id": str(i), "shape": s.outline, "count": mix[s], "turns": s.turns}
            for i, s in enumerate(shapes)
        ],
        "height": board.height - 2 * margin + 2 * gap,
        "enough": 0.0 if enough is None else enough - 2 * margin + 2 * gap,
        "gap": gap,
        "patience": effort.patience,
        "seconds": effort.seconds,
        "workers": WORKERS,
        "seed": SEED,
    }
    found = _answer(asked)
    if found is None or found["width"] is None:
        return None
    shift = margin - gap
    placed = tuple(
        (shapes[int(i)], Placed("", turn, x + shift, y + shift))
        for i, turn, x, y in found["placed"]
    )
    return placed, found["width"] + 2 * margin - 2 * gap


def _answer(asked: dict[str, object]) -> dict[str, Any] | None:
    call = [sys.executable, "-m", "proofgen.nesting.child"]
    process = subprocess.Popen(
        call, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    try:
        said, _ = process.communicate(json.dumps(asked))
    finally:
        process.kill()
        process.wait()
    return json.loads(said) if process.returncode == 0 and said else None
