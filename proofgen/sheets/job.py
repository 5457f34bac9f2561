"""A sheet that is to be cut: what lies where on it. Kept as JSON in the workshop's ledger."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass, replace

from proofgen.artwork.artwork import Layer
from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Placed
from proofgen.sheets.want import Wood, key_of

FORMAT = 1


@dataclass(frozen=True, slots=True)
class Lies:
    """A layer on a sheet, by its piece; turned about (0, 0) by `turn` degrees, then moved.

    `ahead` says that it goes into stock under `stock` and not to that piece. Of a board that lies
    there already, the number of the `copy` is 0 where nobody asks for it any more.
    """

    number: str
    line: int
    code: str
    name: str
    copy: int
    layer: str
    turn: float
    x: float
    y: float
    ahead: bool = False
    stock: str = ""

    @property
    def key(self) -> str:
        """That of the want that it serves."""
        return key_of(self.number, self.line, self.code, self.copy, self.layer, ahead=self.ahead)

    @property
    def unasked(self) -> bool:
        """Whether nobody asks for it any more."""
        return self.copy == 0

    def placed(self) -> Placed:
        """Where it lies."""
        return Placed("", 0, self.turn, self.x, self.y)


@dataclass(frozen=True, slots=True)
class Job:
    """One sheet, `lies` in the order in which the pieces are worked on.

    `digest` is that of all that its layout came from; `uses` is the id of the remainder that it is
    cut from, or empty; `leaves` the (width, height) in mm of what is worth keeping, or None,
    `left_at` where its top left corner is, and `pencil` the id to write on that where it is not the
    sheet's own. `engraved` are the sides, "front" and "back", of a board that was begun whose
    engraving is done.
    """

    id: str
    digest: str
    wood: Wood
    width: float
    height: float
    uses: str
    lies: tuple[Lies, ...]
    leaves: tuple[float, float] | None
    pencil: str = ""
    engraved: tuple[str, ...] = ()
    left_at: tuple[float, float] | None = None

    @property
    def remainder(self) -> str:
        """The id to pencil on what is left."""
        return (self.pencil or f"R{self.id[1:]}") if self.leaves else ""

    @property
    def rest(self) -> Rect | None:
        """Where on the board what is worth keeping lies."""
        if self.leaves is None or self.left_at is None:
            return None
        (x, y), (width, height) = self.left_at, self.leaves
        return Rect(x, y, x + width, y + height)

    def still(self, layer: Layer) -> Layer:
        """What is still to be engraved and cut of a layer on this board."""
        marks = (
            mark
            for mark in layer.marks
            if mark.side not in self.engraved or not mark.operation.startswith("engrave")
        )
        return replace(layer, marks=tuple(marks))


def to_json(job: Job) -> str:
    """The same job, the same text; it tells sheets apart, so what says nothing is not in it."""
    said = {"format": FORMAT, **asdict(job)}
    silent = {key for key in ("engraved", "left_at") if not said[key]}
    return json.dumps({k: v for k, v in said.items() if k not in silent}, ensure_ascii=False)


def from_json(text: str) -> Job:
    """The job back, from what `to_json` gave."""
    said = json.loads(text)
    leaves = said["leaves"]
    return Job(
        id=said["id"],
        digest=said["digest"],
        wood=Wood(**said["wood"]),
        width=said["width"],
        height=said["height"],
        uses=said["uses"],
        lies=tuple(Lies(**each) for each in said["lies"]),
        leaves=(leaves[0], leaves[1]) if leaves else None,
        pencil=said.get("pencil", ""),
        engraved=tuple(said.get("engraved", ())),
        left_at=(at[0], at[1]) if (at := said.get("left_at")) else None,
    )


def next_number(ids: Iterable[str]) -> int:
    """The first number that no sheet has yet."""
    return max((int(each[2:]) for each in ids), default=0) + 1
