"""What is drawn on one side of a layer, by the roles of its elements."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from proofgen.designs.design import Mark
from proofgen.designs.drawing import Shape
from proofgen.designs.roles import HOLE, IDENTITY, LINE, ZONE, role_of
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.orders.order import ORDER

FRONT, BACK = "front", "back"
SIDES = (FRONT, BACK)
ROUND = 0.01  # how far a hole's box may be from a square, mm


@dataclass(slots=True)
class DrawnSide:
    """One drawing: marks in drawing order, outlines of zones and lines of text by field, holes.

    `identity` says whether the zone of the order's number was drawn as such. `elements` are
    all outlines but holes, each with what a sentence calls it.
    """

    drawing: str
    side: str = FRONT
    marks: list[Mark] = field(default_factory=list)
    zones: dict[str, Path] = field(default_factory=dict)
    lines: dict[str, Path] = field(default_factory=dict)
    holes: list[Point] = field(default_factory=list)
    identity: bool = False
    elements: list[tuple[str, Path]] = field(default_factory=list)


def by_role(shapes: Iterable[Shape], file: str, side: str = FRONT) -> DrawnSide:
    """Sort the shapes of a drawing; UnusableError has a line for each element that is wrong."""
    drawn = DrawnSide(file, side)
    faults = []
    for shape in shapes:
        try:
            _take(drawn, shape)
        except UnusableError as fault:
            faults.append(str(fault))
    if len(drawn.holes) > 1:
        faults.append(f"{file}: has {len(drawn.holes)} holes; a hanger takes one.")
    if faults:
        raise UnusableError("\n".join(dict.fromkeys(faults)))
    return drawn


def _take(drawn: DrawnSide, shape: Shape) -> None:
    role, name = role_of(shape, drawn.drawing)
    place = f"{drawn.drawing}, element '{shape.id or role}'"
    if drawn.side == BACK and (role == HOLE or role.startswith("cut-")):
        raise UnusableError(f"{place}: cuts and holes are drawn as seen from the front.")
    if role == HOLE:
        drawn.holes.append(_hole_centre(shape.path, place))
    else:
        _sort(drawn, role, name, shape, place)
        drawn.elements.append((place, shape.path))


def _sort(drawn: DrawnSide, role: str, name: str, shape: Shape, place: str) -> None:
    path = shape.path
    if role == ZONE:
        if not name or name in drawn.zones:
            raise UnusableError(f"{place}: a zone is named after its field, once: 'zone.name'.")
        drawn.zones[name] = path
    elif role == IDENTITY:
        if ORDER in drawn.zones:
            raise UnusableError(f"{place}: the order's number has a place already.")
        drawn.zones[ORDER] = path
        drawn.identity = True
    elif role == LINE:
        if not name or name in drawn.lines:
            raise UnusableError(f"{place}: a path is named after its field, once: 'path.name'.")
        if len(path.contours) != 1:
            raise UnusableError(f"{place}: text follows one line; split it, or join its parts.")
        drawn.lines[name] = path
    else:
        drawn.marks.append(_mark(role, name, shape, drawn.side, place))


def _mark(operation: str, name: str, shape: Shape, side: str, place: str) -> Mark:
    if operation != "engrave-line" and not all(each.closed for each in shape.path.contours):
        raise UnusableError(f"{place}: its outline is not closed; join its ends.")
    return Mark(operation, shape.path, side=side, element=shape.id or operation, name=name)


def _hole_centre(path: Path, place: str) -> Point:
    box = path.bounds()
    if abs(box.width - box.height) > ROUND:
        raise UnusableError(f"{place}: a hole is drawn as a circle.")
    return box.centre
