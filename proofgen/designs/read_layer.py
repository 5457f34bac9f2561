"""A layer of a design: its table in design.toml and its drawing."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath

from proofgen import config
from proofgen.designs.design import Backing, DrawnFile, Mark, TemplateLayer
from proofgen.designs.drawing import read_drawing
from proofgen.designs.order_of_work import in_order_of_work
from proofgen.designs.outlines import with_openings
from proofgen.designs.read_side import BACK, FRONT, DrawnSide, by_role
from proofgen.designs.roles import ROLES
from proofgen.errors import UnusableError
from proofgen.workshop.workshop import Workshop

ROW = "row"  # the finish that the order's row chooses
LAYER_KEYS = (
    "name",
    "drawing",
    "back_drawing",
    "material",
    "finish",
    "rotation",
    "hole_extra",
    "backing",
)
ANGLES = (0, 90, 180, 270)
ALIKE = 0.01  # mm; programs round what they save


@dataclass(frozen=True, slots=True)
class DrawnLayer:
    """A layer with what is drawn on its sides; (width, height) in mm."""

    layer: TemplateLayer
    size: tuple[float, float]
    sides: Mapping[str, DrawnSide]

    @property
    def drawing(self) -> str:
        """The file that shows the layer's front."""
        return self.sides[FRONT].drawing


def read_layer(
    table: config.Table,
    depth: int,
    file: FilePath,
    workshop: Workshop,
    some: Collection[str] = (),
) -> DrawnLayer:
    """Read the layer at this depth of the design file; UnusableError for what is wrong in it.

    `some` are the names of elements that are drawn in some rows only.
    """
    name = config.text(table, "name", f"{file}, layer {depth + 1}")
    place = f"{file}, layer '{name}'"
    config.check_keys(table, LAYER_KEYS, place)
    size, front, digest, shown = _read_side(table, "drawing", file, place, FRONT)
    sides, files = {FRONT: front}, [shown]
    if "back_drawing" in table:
        back_size, sides[BACK], other, shown = _read_side(table, "back_drawing", file, place, BACK)
        files.append(shown)
        check_alike(sides[BACK].drawing, back_size, front.drawing, size)
        digest = combined(digest, other)
    finishes = [*(finish.id for finish in workshop.finishes), ROW]
    layer = TemplateLayer(
        name=name,
        material=_material(table, place, workshop),
        finish=config.choice(table, "finish", place, finishes),
        rotation=_rotation(table, place),
        depth=depth,
        marks=in_order_of_work(_marks(sides, some)),
        hole=front.holes[0] if front.holes else None,
        hole_extra=config.number(table, "hole_extra", place, 0.0, least=0, most=10),
        sha256=digest,
        backing=_backing(table, place),
        files=tuple(files),
    )
    _check_backing(layer, front)
    return DrawnLayer(layer, size, sides)


def _marks(sides: Mapping[str, DrawnSide], some: Collection[str]) -> tuple[Mark, ...]:
    """All that is made; outlines that are drawn in some rows only say nothing of the others."""
    every = [mark for side in sides.values() for mark in side.marks]
    always = with_openings(mark for mark in every if mark.name not in some)
    return (*always, *(mark for mark in every if mark.name in some))


def _material(table: config.Table, place: str, workshop: Workshop) -> str:
    """The id of a material that may be cut."""
    wanted = config.choice(table, "material", place, [each.id for each in workshop.materials])
    unsafe = workshop.material(wanted).unsafe
    if unsafe:
        raise UnusableError(
            f"{place}: the material '{wanted}' must not be cut ({unsafe}); choose another."
        )
    return str(wanted)


def combined(*digests: str) -> str:
    """One SHA-256 for several, or for a digest and what was chosen."""
    return hashlib.sha256("\n".join(digests).encode()).hexdigest()


def check_alike(
    file: str, size: tuple[float, float], other: str, expected: tuple[float, float]
) -> None:
    """UnusableError where two drawings of a design differ in size."""
    if max(abs(a - b) for a, b in zip(size, expected, strict=True)) > ALIKE:
        raise UnusableError(
            f"{file}: is {_size(size)}, but {FilePath(other).name} is {_size(expected)}; "
            f"draw all layers at the same size, each in its place."
        )


def _size(size: tuple[float, float]) -> str:
    return f"{size[0]:.6g} by {size[1]:.6g} mm"


def _read_side(
    table: config.Table, key: str, file: FilePath, place: str, side: str
) -> tuple[tuple[float, float], DrawnSide, str, DrawnFile]:
    """Size, what is drawn, the SHA-256 and the name of the drawing that a key names."""
    drawing = _drawing_file(table, key, file, place)
    data = read_bytes(drawing)
    drawn = read_drawing(data, str(drawing))
    for wanted in drawn.empty:
        if wanted.partition(".")[0] in ROLES:
            raise UnusableError(f"{drawing}, element '{wanted}': draws nothing; give it a size.")
    shown = DrawnFile(drawing.name, side, drawn.unit)
    by_roles = by_role(drawn.shapes, str(drawing), side)
    return drawn.size, by_roles, hashlib.sha256(data).hexdigest(), shown


def _backing(table: config.Table, place: str) -> Backing | None:
    own = config.table(table, "backing", place, None)
    if own is None:
        return None
    place = f"{place}, backing"
    config.check_keys(own, ("field", "grow"), place)
    grow = config.number(own, "grow", place, least=0.5, most=50)
    return Backing(config.text(own, "field", place), grow)


def _check_backing(layer: TemplateLayer, front: DrawnSide) -> None:
    outlined = any(mark.operation == "cut-outside" for mark in layer.marks)
    if layer.backing and outlined:
        raise UnusableError(
            f"{front.drawing}: has a 'cut-outside', but the layer's outline is its backing; "
            f"take one of them out."
        )


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


def _drawing_file(table: config.Table, key: str, file: FilePath, place: str) -> FilePath:
    name = config.text(table, key, place)
    if name != FilePath(name).name or "\\" in name or ":" in name or not name.endswith(".svg"):
        raise UnusableError(f"{place}: '{key}' must name an .svg beside it, not '{name}'.")
    return file.parent / name


def _rotation(table: config.Table, place: str) -> tuple[int, ...]:
    angles = config.wholes(table, "rotation", place, (0, 180))
    if not angles or not set(angles) <= set(ANGLES):
        allowed = ", ".join(map(str, ANGLES))
        raise UnusableError(f"{place}: 'rotation' must list angles of {allowed}.")
    return tuple(angles)
