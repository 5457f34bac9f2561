"""A layout as JSON, to be kept with its job and used again."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from proofgen.errors import UnusableError
from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Board, Layout, Placed

FORMAT = 1


def to_json(layout: Layout) -> str:
    """The same layout, the same text. Numbers keep all their digits."""
    return json.dumps({"format": FORMAT, **asdict(layout)}, ensure_ascii=False, indent=1) + "\n"


def from_json(text: str, name: str) -> Layout:
    """The layout back; UnusableError naming `name` where the text is no such thing."""
    try:
        said = json.loads(text)
        if said["format"] != FORMAT:
            raise ValueError(f"its format is {said['format']!r}")
        boards = tuple(_board(each) for each in said["boards"])
        placed = tuple(Placed(**each) for each in said["placed"])
        return Layout(boards, placed, said["rotation"], tuple(said["left"]))
    except (ValueError, KeyError, TypeError) as error:
        raise UnusableError(
            f"{name} is no layout that can be read ({error}); lay the sheets anew."
        ) from error


def _board(said: dict[str, Any]) -> Board:
    keep_out = tuple(Rect(**each) for each in said.pop("keep_out"))
    return Board(**said, keep_out=keep_out)
