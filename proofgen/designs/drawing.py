"""Drawn SVGs as outlines in millimetres: the one place that knows svgelements."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

from proofgen.designs.fill_rule import as_nonzero
from proofgen.designs.safe_svg import parse_svg
from proofgen.designs.viewport import MM_PER, check_view_box, drawing_size
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path, Segment

# Coordinates are kept to a nanometre, so that noise of the arithmetic does not travel on.
DECIMALS = 6
FARTHEST = 10_000.0  # mm; a coordinate beyond it is a slip of the drawing program


@dataclass(frozen=True, slots=True)
class Shape:
    """A drawn element: its id, the ids of the groups it lies in (innermost first), its outline."""

    id: str
    groups: tuple[str, ...]
    path: Path


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing: (width, height) in millimetres and what is drawn on it, in drawing order."""

    size: tuple[float, float]
    shapes: tuple[Shape, ...]


def read_drawing(data: bytes, file: str) -> Drawing:
    """Read an SVG; `file` names it in sentences. UnusableError for what cannot be read safely."""
    root = parse_svg(data, file)
    size = drawing_size(root.attrib, file)
    check_view_box(root.attrib, file)
    return Drawing(size, tuple(_shapes(_interpreted(root, size, file), (), file)))


def _interpreted(root: ElementTree.Element, size: tuple[float, float], file: str) -> Any:
    """The tree of svgelements, in CSS pixels.

    Width and height are handed over in pixels, since svgelements' own factor for millimetres is
    off by 5.4e-7.
    """
    import svgelements

    px = MM_PER["px"]
    root.attrib.update(width=repr(size[0] / px), height=repr(size[1] / px))
    if "preserveAspectRatio" in root.attrib:
        root.attrib["preserveAspectRatio"] = " ".join(root.attrib["preserveAspectRatio"].split())
    source = BytesIO(ElementTree.tostring(root))
    try:
        return svgelements.SVG.parse(source, ppi=96, on_error="raise")
    except (ValueError, TypeError, IndexError, KeyError, AttributeError, ArithmeticError):
        raise UnusableError(f"{file}: holds a shape or transform that cannot be read.") from None


def _shapes(group: Any, ids: tuple[str, ...], file: str) -> Iterator[Shape]:
    import svgelements

    for element in group:
        if isinstance(element, svgelements.Group):
            inner = (element.id, *ids) if element.id else ids
            yield from _shapes(element, inner, file)
        elif isinstance(element, svgelements.Shape):
            name = element.id or ""
            path = _path(element, f"{file}, element '{name}'")
            if path:
                yield Shape(name, ids, path)


def _path(shape: Any, place: str) -> Path:
    import svgelements

    contours = tuple(_contours(abs(svgelements.Path(shape)), place))
    if shape.values.get("fill-rule") == "evenodd":
        return as_nonzero(Path(contours))
    return Path(contours)


def _contours(drawn: Any, place: str) -> Iterator[Contour]:
    """Split at every move; a contour that ends where it began is closed as well."""
    import svgelements

    start: Point | None = None
    segments: list[Segment] = []
    for piece in drawn:
        if isinstance(piece, svgelements.Move):
            yield from _contour(start, segments, closed=False)
            start, segments = _point(piece.end, place), []
        elif isinstance(piece, svgelements.Close):
            yield from _contour(start, segments, closed=True)
            segments = []
        else:
            segments += _segments(piece, place)
    yield from _contour(start, segments, closed=False)


def _contour(start: Point | None, segments: list[Segment], closed: bool) -> Iterator[Contour]:
    if start is not None and segments:
        yield Contour(start, tuple(segments), closed or segments[-1][-1] == start)


def _segments(piece: Any, place: str) -> Iterator[Segment]:
    import svgelements

    if isinstance(piece, svgelements.Arc):
        for cubic in piece.as_cubic_curves():
            yield from _segments(cubic, place)
    elif isinstance(piece, svgelements.CubicBezier):
        yield tuple(_point(p, place) for p in (piece.control1, piece.control2, piece.end))
    elif isinstance(piece, svgelements.QuadraticBezier):
        yield tuple(_point(p, place) for p in (piece.control, piece.end))
    else:
        yield (_point(piece.end, place),)


def _point(p: Any, place: str) -> Point:
    """In millimetres."""
    x, y = p.x * MM_PER["px"], p.y * MM_PER["px"]
    if not (math.isfinite(x) and math.isfinite(y)) or max(abs(x), abs(y)) > FARTHEST:
        raise UnusableError(f"{place}: has a point more than {FARTHEST / 1000:g} m away.")
    # Adding zero turns a rounded -0.0 into 0.0.
    return round(x, DECIMALS) + 0.0, round(y, DECIMALS) + 0.0
