"""What one laying of sheets decided, kept in the workshop's ledger."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass

from proofgen.sheets.setup import Setup, from_said

RUN = "run"


@dataclass(frozen=True, slots=True)
class Pull:
    """A layer of a copy of a piece that is taken from the stock `stock`; for a piece that is laid
    whether it was made or not where `again` says so.
    """

    number: str
    code: str
    layer: str
    stock: str
    again: bool = False


@dataclass(frozen=True, slots=True)
class Run:
    """The sheets that were laid together, how they are worked and written (see sheet_files.Form),
    what is pulled, and what ended the search for them before it was done (see nesting/part.py).
    `again` says that what was made already was laid too, `setup` how the workshop was set up then,
    `whole` whether all orders were laid; None where that was not kept, as it was not at first.
    `folder` is the one that they were written to, from that of the book where it lies in that.
    """

    sheets: tuple[str, ...]
    manner: str
    pulls: tuple[Pull, ...]
    ended: str = ""
    formats: tuple[str, ...] = ("svg",)
    apart: bool = False
    hatch: str = ""
    again: bool = False
    setup: Setup | None = None
    whole: bool | None = None
    folder: str = ""


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
        setup=from_said(said["setup"]) if said.get("setup") else None,
        whole=said.get("whole"),
        folder=said.get("folder", ""),
    )
