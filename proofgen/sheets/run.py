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
    what is pulled.
    """

    sheets: tuple[str, ...]
    manner: str
    pulls: tuple[Pull, ...]
    formats: tuple[str, ...] = ("svg",)
    apart: bool = False
    hatch: str = ""


def to_json(run: Run) -> str:
    """The same run, the same text."""
    return json.dumps(asdict(run), ensure_ascii=False)


def from_json(text: str) -> Run:
    """The run back, from what `to_json` gave."""
    said = json.loads(text)
    pulls = tuple(Pull(**each) for each in said["pulls"])
    return Run(
        tuple(said["sheets"]),
        said["manner"],
        pulls,
        tuple(said.get("formats", ("svg",))),
        said.get("apart", False),
        said.get("hatch", ""),
    )
