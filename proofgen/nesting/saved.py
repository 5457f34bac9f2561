"""A layout as JSON, to be kept with its job and used again."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Board, Layout, Placed

FORMAT = 1


def to_json(layout: Layout) -> str:
    """The same layout, the same text. Numbers keep all their digits."""
    return json.dumps({"format": FORMAT, **asdict(layout)}, ensure_ascii=False, indent=1) + "\n"


def from_json(text: str) -> Layout | None:
    """The layout back; None where the text is none of this format."""
    try:
        said = json.loads(text)
        if said["format"] != FORMAT:
            return None
        boards = tuple(_board(each) for each in said["boards"])
        placed = tuple(Placed(**each) for each in said["placed"])
        return Layout(boards, placed, said["rotation"], tuple(said["left"]))
    except (ValueError, KeyError, TypeError):
        return None


def _board(said: dict[str, Any]) -> Board:
    keep_out = tuple(Rect(**each) for each in said.pop("keep_out"))
    return Board(**said, keep_out=keep_out)
