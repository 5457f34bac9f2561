"""A template as a maker drew it, and the design that it resolves to for one order."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.orders.order import ORDER
from proofgen.workshop.workshop import USUAL_MESSAGE, Bound


@dataclass(frozen=True, slots=True)
class Mark:
    """Something the machine does. `field` names the lettering it belongs to, else it is empty.

    `side` is front or back; what is on the back is drawn as it is seen from there. `element` is
    the id that it has in the drawing, if it comes from one. `name` is what follows its role: it is
    for checks, and no part of what is recorded and compared.
    """

    operation: str
    path: Path
    field: str = ""
    side: str = "front"
    element: str = ""
    name: str = dataclasses.field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class DrawnFile:
    """The drawing of one side of a layer: its file name, and the unit its width is given in."""

    name: str
    side: str
    unit: str


@dataclass(frozen=True, slots=True)
class Slot:
    """Where a field is lettered. `zone` is the safe zone, a simple polygon in piece coordinates.

    `align` is left, centre, right or free: the letters' ink starts, is centred or ends at x =
    `anchor`, or may lie anywhere. `baseline` fixes the (first) baseline's y where it is not None.
    `path` is the line that a bent text follows, from its start to its end, else None.
    `made` is engrave (an area), cut (openings through the layer) or stand (letters stay as wood).
    `side` is front or back; what is on the back is drawn as it is seen from there.
    `bolder` is a border in mm that is welded round letters that stand; thin places of them are then
    made up by at most `mended` mm.
    `faces` are tried in that order without asking; `faces_asked` only where the order names one.
    `lines` are tried without asking; up to `lines_asked` where the cell has line breaks.
    `narrow` is the least factor of the natural width that may be used.
    `usual` is the text where the row has none.
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
    side: str = "front"
    path: Path | None = None
    bolder: float = 0.0
    mended: float = 0.0
    usual: str = ""


@dataclass(frozen=True, slots=True)
class SymbolDrawing:
    """A symbol of the workshop's folder: an area of one colour, and the SHA-256 of its file."""

    id: str
    path: Path
    sha256: str

    @property
    def title(self) -> str:
        """What a person reads."""
        return self.id.replace("-", " ")


@dataclass(frozen=True, slots=True)
class BrokenSymbol:
    """A symbol of the maker's own that cannot be used, and a sentence that says why."""

    id: str
    fault: str

    @property
    def title(self) -> str:
        """What a person types for it."""
        return self.id.replace("-", " ")


@dataclass(frozen=True, slots=True)
class SymbolSlot:
    """Where the row's symbol goes: centred in `zone` (a simple polygon), as large as it takes.

    `default` is the symbol where the row names none, or an empty text.
    """

    layer: str
    zone: tuple[Point, ...]
    made: str
    default: str
    side: str = "front"


@dataclass(frozen=True, slots=True)
class Backing:
    """An outline made from lettering: grown by `grow`, holes closed, narrow necks filled."""

    field: str
    grow: float


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
class When:
    """What is drawn only in some rows: the elements of the names `drawn`, where all of `present`
    and none of `absent` is there: fields that are lettered, "symbol", "hanger".
    """

    drawn: tuple[str, ...]
    present: tuple[str, ...]
    absent: tuple[str, ...]

    @property
    def asks(self) -> tuple[str, ...]:
        """All that it depends on."""
        return (*self.present, *self.absent)


@dataclass(frozen=True, slots=True)
class TemplateLayer:
    """A layer of wood as drawn. `finish` is an id of the workshop's, or "row": the order's choice.

    `hole` is the centre of the hanger's hole and `hole_extra` how much wider it is than the
    hanger asks; no hole where `hole` is None. `sha256` is that of the drawings' bytes, which
    `files` names.
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
    backing: Backing | None = None
    files: tuple[DrawnFile, ...] = ()

    def file(self, side: str) -> str:
        """The name of the drawing that shows that side."""
        return next(file.name for file in self.files if file.side == side)


@dataclass(frozen=True, slots=True)
class Template:
    """A design folder as read. `size` is (width, height); layers go from the back to the front.

    `fields` are those that may be lettered, `needed` those that may not be blank;
    `sizes` are ids with factors, the first one the default; `family` says whether the lines of
    one order take one face and one cap height. `symbol_drawings` are what a row may choose from;
    a row that chooses one of `broken_symbols` stops.
    `hangers` and `finishes` are the choices a row has, the first one the default (none where the
    design has no use for them). `message` is the id of the text that goes with its picture.
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
    sha256: str
    symbol_drawings: tuple[SymbolDrawing, ...] = ()
    broken_symbols: tuple[BrokenSymbol, ...] = ()
    symbol_slots: tuple[SymbolSlot, ...] = ()
    growth: tuple[Growth, ...] = ()
    when: tuple[When, ...] = ()
    sizes: tuple[tuple[str, float], ...] = ()
    family: bool = True
    message: str = USUAL_MESSAGE

    @property
    def fields(self) -> tuple[str, ...]:
        """The fields that a row fills, in the order of the slots; its number is always there."""
        return tuple(dict.fromkeys(s.field for s in self.slots if s.field != ORDER))

    @property
    def symbols(self) -> tuple[str, ...]:
        """The ids of the symbols that a row may choose."""
        return tuple(drawing.id for drawing in self.symbol_drawings)


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
    backing: Backing | None = None


@dataclass(frozen=True, slots=True)
class Design:
    """A template resolved for one order: choices made, holes placed. Layers back to front.

    `grown` says how far each line of `growth` has grown; none where nothing has. A layer's
    `sha256` covers its drawing and all that was chosen for it but its hole.
    """

    id: str
    title: str
    size: tuple[float, float]
    layers: tuple[DesignLayer, ...]
    slots: tuple[Slot, ...]
    hanger: str
    sha256: str
    growth: tuple[Growth, ...] = ()
    grown: tuple[float, ...] = ()
