"""What one laying of sheets decided, kept in the workshop's ledger."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass

RUN = "run"


@dataclass(frozen=True, slots=True)
class Pull:
    """A layer of a copy of a piece that is taken from the stock `stock`."""

    number: str
    code: str
    layer: str
    stock: str


@dataclass(frozen=True, slots=True)
class Run:
    """The sheets that were laid together, how they are worked and written (see sheet_files.Form),
    what is pulled, and what ended the search for them before it was done (see nesting/part.py).
    `again` says that what was made already was laid too.
    """

    sheets: tuple[str, ...]
    manner: str
    pulls: tuple[Pull, ...]
    ended: str = ""
    formats: tuple[str, ...] = ("svg",)
    apart: bool = False
    hatch: str = ""
    again: bool = False


def to_json(run: Run) -> str:
    """The same run, the same text."""
    return json.dumps(asdict(run), ensure_ascii=False)


def from_json(text: str) -> Run:
    """The run back, from what `to_json` gave."""
    said = json.loads(text)
    pulls = tuple(Pull(**each) for each in said["pulls"])
    return Run(
        sheets=tuple(said["sheets"]),
        manner=said["manner"],
        pulls=pulls,
        ended=said.get("ended", ""),
        formats=tuple(said.get("formats", ("svg",))),
        apart=said.get("apart", False),
        hatch=said.get("hatch", ""),
        again=said.get("again", False),
    )
