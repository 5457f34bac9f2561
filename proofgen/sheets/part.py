"""What lies on a sheet: parts to cut out, where they are placed, and the sheet itself."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from proofgen.designs.design import Mark
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, join
from proofgen.geometry.rect import Rect


@dataclass(frozen=True, slots=True)
class Part:
    """One layer of one piece, as it is cut from a sheet; marks of its front in the order of work.

    `id` is unique in a job, such as "LH-1001/2/front/1": order, line, layer, copy from 1.
    `label` is what a person reads. `rotation` are the angles in degrees that its grain allows;
    `due` is the day when it has to be cut, None where nobody waits for it. Coordinates are the
    piece's: millimetres, y down.
    """

    id: str
    order: str
    label: str
    layer: str
    material: str
    marks: tuple[Mark, ...]
    rotation: tuple[int, ...] = (0, 180)
    due: date | None = None

    @property
    def outline(self) -> Path:
        """What is cut free."""
        return join(mark.path for mark in self.marks if mark.operation == "cut-outside")


@dataclass(frozen=True, slots=True)
class Placed:
    """A part on a sheet: turned by `angle` degrees about its origin, then shifted by (x, y) mm.

    Angles turn from the x axis towards the y axis, which points down.
    """

    part: Part
    angle: float
    x: float
    y: float

    @property
    def affine(self) -> Affine:
        """From the piece's coordinates to the sheet's."""
        return Affine.rotation(self.angle).then(Affine.shift(self.x, self.y))


@dataclass(frozen=True, slots=True)
class Stock:
    """A sheet to be filled: (width, height) in mm, origin at its upper left corner, y down.

    Nothing lies within `margin` of its edge, nor in the `keep_out` areas. `id` is that of a
    remainder, else empty.
    """

    material: str
    width: float
    height: float
    margin: float
    keep_out: tuple[Rect, ...] = ()
    id: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A filled sheet, numbered from 1 within a job."""

    number: int
    stock: Stock
    placed: tuple[Placed, ...]
