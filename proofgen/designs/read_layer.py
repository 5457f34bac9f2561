"""A layer of a design: its table in design.toml and its drawing."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path as FilePath

from proofgen import config
from proofgen.designs.design import Growth, Mark, TemplateLayer
from proofgen.designs.drawing import Shape, read_drawing
from proofgen.designs.grow import crosses_askew
from proofgen.designs.order_of_work import in_order_of_work
from proofgen.designs.roles import HOLE, LINE, ZONE, role_of
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.workshop.workshop import Workshop

ROW = "row"  # the finish that the order's row chooses
LAYER_KEYS = ("name", "drawing", "material", "finish", "rotation", "hole_extra")
ANGLES = (0, 90, 180, 270)
ROUND = 0.01  # how far a hole's box may be from a square, mm


@dataclass(frozen=True, slots=True)
class DrawnLayer:
    """A layer with its drawing: file, size, and the outlines of the zones and the lines
    that bent text follows, by field."""

    layer: TemplateLayer
    drawing: str
    size: tuple[float, float]
    zones: dict[str, Path]
    lines: dict[str, Path]


def read_layer(
    table: config.Table,
    depth: int,
    file: FilePath,
    growth: tuple[Growth, ...],
    workshop: Workshop,
) -> DrawnLayer:
    """Read the layer at this depth of the design file; UnusableError for what is wrong in it."""
    name = config.text(table, "name", f"{file}, layer {depth + 1}")
    place = f"{file}, layer '{name}'"
    config.check_keys(table, LAYER_KEYS, place)
    drawing = _drawing_file(table, file, place)
    data = read_bytes(drawing)
    drawn = read_drawing(data, str(drawing))
    roles = _by_role(drawn.shapes, growth, str(drawing))
    finishes = [*(finish.id for finish in workshop.finishes), ROW]
    layer = TemplateLayer(
        name=name,
        material=config.choice(table, "material", place, [m.id for m in workshop.materials]),
        finish=config.choice(table, "finish", place, finishes),
        rotation=_rotation(table, place),
        depth=depth,
        marks=in_order_of_work(roles.marks),
        hole=roles.holes[0] if roles.holes else None,
        hole_extra=config.number(table, "hole_extra", place, 0.0, least=0, most=10),
        sha256=hashlib.sha256(data).hexdigest(),
    )
    return DrawnLayer(layer, str(drawing), drawn.size, roles.zones, roles.lines)


def read_bytes(file: FilePath) -> bytes:
    """A text file's bytes with plain line ends and no byte order mark.

    So a checkout that turns line ends into CRLF gives the same digest.
    """
    try:
        data = file.read_bytes()
    except FileNotFoundError:
        raise UnusableError(f"{file}: there is no such file.") from None
    except OSError as error:
        raise UnusableError(f"{file}: cannot be opened ({error.strerror}).") from None
    return data.removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n").replace(b"\r", b"\n")


def _drawing_file(table: config.Table, file: FilePath, place: str) -> FilePath:
    name = config.text(table, "drawing", place)
    if name != FilePath(name).name or "\\" in name or ":" in name or not name.endswith(".svg"):
        raise UnusableError(f"{place}: 'drawing' must name an .svg beside it, not '{name}'.")
    return file.parent / name


def _rotation(table: config.Table, place: str) -> tuple[int, ...]:
    angles = config.wholes(table, "rotation", place, (0, 180))
    if not angles or not set(angles) <= set(ANGLES):
        allowed = ", ".join(map(str, ANGLES))
        raise UnusableError(f"{place}: 'rotation' must list angles of {allowed}.")
    return tuple(angles)


@dataclass(slots=True)
class _Roles:
    """What a drawing holds: marks in drawing order, zones and lines by field, hole centres."""

    marks: list[Mark] = field(default_factory=list)
    zones: dict[str, Path] = field(default_factory=dict)
    lines: dict[str, Path] = field(default_factory=dict)
    holes: list[Point] = field(default_factory=list)


def _by_role(shapes: Iterable[Shape], growth: tuple[Growth, ...], file: str) -> _Roles:
    found = _Roles()
    for shape in shapes:
        role, name = role_of(shape, file)
        place = f"{file}, element '{shape.id or role}'"
        if role in (ZONE, LINE):
            kept = found.zones if role == ZONE else found.lines
            if not name or name in kept:
                raise UnusableError(f"{place}: it is named after its field, once: '{role}.name'.")
            kept[name] = shape.path
            continue
        if any(crosses_askew(shape.path, each) for each in growth):
            raise UnusableError(
                f"{place}: it crosses the line of growth other than straight; "
                f"move the line, or draw a straight stretch across it."
            )
        if role == HOLE:
            found.holes.append(_hole_centre(shape.path, place))
        else:
            found.marks.append(_mark(role, shape.path, place))
    if len(found.holes) > 1:
        raise UnusableError(f"{file}: has {len(found.holes)} holes; a hanger takes one.")
    return found


def _mark(operation: str, path: Path, place: str) -> Mark:
    if operation != "engrave-line" and not all(contour.closed for contour in path.contours):
        raise UnusableError(f"{place}: its outline is not closed; join its ends.")
    return Mark(operation, path)


def _hole_centre(path: Path, place: str) -> Point:
    box = path.bounds()
    if abs(box.width - box.height) > ROUND:
        raise UnusableError(f"{place}: a hole is drawn as a circle.")
    return box.centre
