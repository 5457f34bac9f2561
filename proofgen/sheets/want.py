"""A layer of a piece that is to be cut."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from proofgen.artwork.artwork import Layer
from proofgen.geometry.path import Path, join
from proofgen.nesting.part import Part
from proofgen.workshop.workshop import Workshop

# Days from today within which an outline has to be on the machine, for each class of urgency.
CLASSES = (0, 2, 7, 21)
LATER, AHEAD = len(CLASSES), len(CLASSES) + 1
NEVER = 10**6  # days, where nothing is due


@dataclass(frozen=True, slots=True)
class Wood:
    """A kind of board: its material, and the finish that goes on before anything is engraved."""

    material: str
    finish: str = ""


@dataclass(frozen=True, slots=True)
class Want:
    """One layer of one copy (from 1) of a piece of an order.

    `name` is what a person knows it by, `width` that of the whole piece in mm, `days` how many are
    left until it has to be cut. `stock` is what the layer is counted under where it is the same
    for every buyer, else empty. `ahead` says that it is cut for the stock, after the pattern of
    that piece.
    """

    number: str
    line: int
    code: str
    name: str
    copy: int
    layer: Layer
    width: float
    days: int = NEVER
    stock: str = ""
    ahead: bool = False

    @property
    def key(self) -> str:
        """Its own among all that is to be cut."""
        return key_of(
            self.number, self.line, self.code, self.copy, self.layer.name, ahead=self.ahead
        )

    @property
    def urgency(self) -> int:
        """Its class: pieces of one class share boards where that saves one."""
        if self.ahead:
            return AHEAD
        return next((i for i, most in enumerate(CLASSES) if self.days <= most), LATER)

    @property
    def rank(self) -> tuple[int, int]:
        """Lower comes first."""
        return self.urgency, self.days

    def part(self) -> Part:
        """What it takes of a board."""
        return Part(
            self.key, outline(self.layer), tuple(map(float, self.layer.rotation)), self.urgency
        )


def key_of(number: str, line: int, code: str, copy: int, layer: str, *, ahead: bool) -> str:
    """What a layer of a copy of a piece is told from all others by, on any sheet."""
    return f"{'stock ' if ahead else ''}{number} {line} {code} {copy} {layer}"


def wood_of(layer: Layer, workshop: Workshop) -> Wood:
    """What board a layer is cut from."""
    before = workshop.finish(layer.finish).when == "before"
    return Wood(layer.material, layer.finish if before else "")


def days_left(due: date | None, today: date, needed: int) -> int:
    """Until a piece has to be cut that takes so many days after that; NEVER where none is due."""
    return NEVER if due is None else (due - today).days - needed


def outline(layer: Layer) -> Path:
    """The cuts that set a layer free."""
    return join(mark.path for mark in layer.marks if mark.operation == "cut-outside")
