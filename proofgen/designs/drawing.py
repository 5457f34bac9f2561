"""Drawn SVGs as outlines in millimetres: the one place that knows svgelements."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

from proofgen.designs.effort import check_effort
from proofgen.designs.fill_rule import as_nonzero
from proofgen.designs.safe_svg import named, parse_svg, without_size
from proofgen.designs.stylesheet import apply_styles
from proofgen.designs.viewport import MM_PER, check_view_box, drawing_size, unit_of
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Contour, Path, Segment, join

# Coordinates are kept to a nanometre, so that noise of the arithmetic does not travel on.
DECIMALS = 6
# What svgelements raises at data that it cannot read.
UNREADABLE = (ValueError, TypeError, IndexError, KeyError, AttributeError, ArithmeticError)
FARTHEST = 10_000.0  # mm; a coordinate beyond it is a slip of the drawing program


@dataclass(frozen=True, slots=True)
class Shape:
    """A drawn element: its id, the ids of the groups it lies in (innermost first), its outline."""

    id: str
    groups: tuple[str, ...]
    path: Path


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing: (width, height) in millimetres and what is drawn on it, in drawing order.

    `unit` is the one that its width is given in; `empty` are the ids of elements of no size.
    """

    size: tuple[float, float]
    unit: str
    shapes: tuple[Shape, ...]
    empty: tuple[str, ...]


def read_drawing(data: bytes, file: str) -> Drawing:
    """Read an SVG; `file` names it in sentences. UnusableError for what cannot be read safely."""
    root = parse_svg(data, file)
    size = drawing_size(root.attrib, file)
    check_view_box(root.attrib, file)
    unit = unit_of(root.attrib)
    shapes = tuple(_shapes(_interpreted(root, size, file), (), file))
    check_effort(join(shape.path for shape in shapes), file)
    return Drawing(size, unit, shapes, tuple(without_size(root)))


def _interpreted(root: ElementTree.Element, size: tuple[float, float], file: str) -> Any:
    """The tree of svgelements, in CSS pixels.

    Width and height are handed over in pixels, since svgelements' own factor for millimetres is
    off by 5.4e-7.
    """
    apply_styles(root, file)
    px = MM_PER["px"]
    root.attrib.update(width=repr(size[0] / px), height=repr(size[1] / px))
    if "preserveAspectRatio" in root.attrib:
        root.attrib["preserveAspectRatio"] = " ".join(root.attrib["preserveAspectRatio"].split())
    try:
        return _parsed(root)
    except UNREADABLE:
        culprit = next((e for e in root.iter() if not _is_readable(e, root)), root)
        raise UnusableError(
            f"{file}, {named(culprit)}: its shape or transform cannot be read; draw it anew."
        ) from None


def _parsed(root: ElementTree.Element) -> Any:
    import svgelements

    source = BytesIO(ElementTree.tostring(root))
    return svgelements.SVG.parse(source, reify=False, ppi=96, on_error="raise")


def _is_readable(element: ElementTree.Element, root: ElementTree.Element) -> bool:
    """Whether the element can be read when it is alone on its page."""
    page = ElementTree.Element(root.tag, root.attrib)
    ElementTree.SubElement(page, element.tag, element.attrib)
    try:
        _parsed(page)
    except UNREADABLE:
        return False
    return True


def _shapes(group: Any, ids: tuple[str, ...], file: str) -> Iterator[Shape]:
    import svgelements

    for element in group:
        if isinstance(element, svgelements.Group):
            inner = (element.id, *ids) if element.id else ids
            yield from _shapes(element, inner, file)
        elif isinstance(element, svgelements.Shape) and _is_shown(element):
            name = element.id or ""
            path = _path(element, f"{file}, element '{name}'")
            if path:
                yield Shape(name, ids, path)


def _is_shown(shape: Any) -> bool:
    """SVG 2, section 11.3: what is hidden is not drawn. What has no display is no shape at all."""
    return bool(shape.values.get("visibility", "visible") == "visible")


def _path(shape: Any, place: str) -> Path:
    """Arcs become cubics before the transform: svgelements (1.9.6) errs with arcs under a skew."""
    matrix = shape.transform
    to_pixels = Affine(matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f)
    path = Path(tuple(_contours(shape.segments(transformed=False)))).moved(
        to_pixels.then(Affine.scale(MM_PER["px"]))
    )
    path = _clean(path, place)
    if shape.values.get("fill-rule") != "evenodd":
        return path
    check_effort(path, place)
    return as_nonzero(path)


def _contours(drawn: Iterable[Any]) -> Iterator[Contour]:
    """Split at every move."""
    import svgelements

    start: Point | None = None
    segments: list[Segment] = []
    for piece in drawn:
        if isinstance(piece, svgelements.Move):
            yield from _contour(start, segments, closed=False)
            start, segments = _point(piece.end), []
        elif isinstance(piece, svgelements.Close):
            yield from _contour(start, segments, closed=True)
            segments = []
        else:
            segments += _segments(piece)
    yield from _contour(start, segments, closed=False)


def _contour(start: Point | None, segments: list[Segment], closed: bool) -> Iterator[Contour]:
    if start is not None and segments:
        yield Contour(start, tuple(segments), closed)


def _segments(piece: Any) -> Iterator[Segment]:
    import svgelements

    if isinstance(piece, svgelements.Arc):
        for cubic in piece.as_cubic_curves():
            yield from _segments(cubic)
    elif isinstance(piece, svgelements.CubicBezier):
        yield _point(piece.control1), _point(piece.control2), _point(piece.end)
    elif isinstance(piece, svgelements.QuadraticBezier):
        yield _point(piece.control), _point(piece.end)
    else:
        yield (_point(piece.end),)


def _point(p: Any) -> Point:
    return p.x, p.y


def _clean(path: Path, place: str) -> Path:
    """Rounded; a contour that ends where it began is closed. UnusableError where one is far off."""

    def rounded(point: Point) -> Point:
        if not all(math.isfinite(v) and abs(v) <= FARTHEST for v in point):
            raise UnusableError(f"{place}: has a point more than {FARTHEST / 1000:g} m away.")
        # Adding zero turns a rounded -0.0 into 0.0.
        return round(point[0], DECIMALS) + 0.0, round(point[1], DECIMALS) + 0.0

    def cleaned(contour: Contour) -> Contour:
        start = rounded(contour.start)
        segments = tuple(tuple(map(rounded, segment)) for segment in contour.segments)
        return Contour(start, segments, contour.closed or segments[-1][-1] == start)

    return Path(tuple(map(cleaned, path.contours)))
