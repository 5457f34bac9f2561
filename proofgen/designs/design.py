"""A template as a maker drew it, and the design that it resolves to for one order."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.workshop.workshop import Bound


@dataclass(frozen=True, slots=True)
class Mark:
    """Something the machine does. `field` names the lettering it belongs to, else it is empty."""

    operation: str
    path: Path
    field: str = ""


@dataclass(frozen=True, slots=True)
class Slot:
    """Where a field is lettered. `zone` is the safe zone, a simple polygon in piece coordinates.

    `align` is left, centre, right or free: the letters' ink starts, is centred or ends at x =
    `anchor`, or may lie anywhere. `baseline` fixes the (first) baseline's y where it is not None.
    `path` is the line that a bent text follows, from its start to its end, else None.
    `made` says how: engrave.
    `faces` are tried in that order without asking; `faces_asked` only where the order names one.
    `lines` are tried without asking; up to `lines_asked` where the cell has line breaks.
    `narrow` is the least factor of the natural width that may be used.
    """

    field: str
    layer: str
    zone: tuple[Point, ...]
    faces: tuple[str, ...]
    faces_asked: tuple[str, ...]
    cap_height: Bound
    narrow: float
    lines: int
    lines_asked: int
    leading: float
    align: str
    anchor: float
    baseline: float | None
    case: str
    made: str
    path: Path | None = None


@dataclass(frozen=True, slots=True)
class Growth:
    """A line across which a design grows: x = `at` (axis "x", it widens) or y = `at` (axis "y").

    What lies beyond the line moves by up to `most`, so that `field` need not shrink.
    """

    axis: str
    at: float
    most: float
    field: str


@dataclass(frozen=True, slots=True)
class TemplateLayer:
    """A layer of wood as drawn. `finish` is an id of the workshop's, or "row": the order's choice.

    `hole` is the centre of the hanger's hole and `hole_extra` how much wider it is than the
    hanger asks; no hole where `hole` is None. `sha256` is that of the drawing's bytes.
    """

    name: str
    material: str
    finish: str
    rotation: tuple[int, ...]
    depth: int
    marks: tuple[Mark, ...]
    hole: Point | None
    hole_extra: float
    sha256: str


@dataclass(frozen=True, slots=True)
class Template:
    """A design folder as read. `size` is (width, height); layers go from the back to the front.

    `fields` are those that may be lettered, `needed` those that may not be blank;
    `family` says whether the lines of one order take one face and one cap height.
    `hangers` and `finishes` are the choices a row has, the first one the default (none where the
    design has no use for them).
    """

    id: str
    title: str
    folder: str
    size: tuple[float, float]
    layers: tuple[TemplateLayer, ...]
    slots: tuple[Slot, ...]
    needed: tuple[str, ...]
    hangers: tuple[str, ...]
    finishes: tuple[str, ...]
    symbols: tuple[str, ...]
    sha256: str
    growth: tuple[Growth, ...] = ()
    family: bool = True

    @property
    def fields(self) -> tuple[str, ...]:
        """The fields that the design letters, in the order of its slots."""
        return tuple(dict.fromkeys(slot.field for slot in self.slots))


@dataclass(frozen=True, slots=True)
class DesignLayer:
    """A layer resolved for one order, without its lettering."""

    name: str
    material: str
    finish: str
    rotation: tuple[int, ...]
    depth: int
    shared: bool
    marks: tuple[Mark, ...]
    sha256: str


@dataclass(frozen=True, slots=True)
class Design:
    """A template resolved for one order: choices made, holes placed. Layers back to front."""

    id: str
    title: str
    size: tuple[float, float]
    layers: tuple[DesignLayer, ...]
    slots: tuple[Slot, ...]
    hanger: str
    sha256: str
    growth: tuple[Growth, ...] = ()
    grown: tuple[float, ...] = ()
