"""The marks of each series, drawn in a cell: (x, y) is the middle of its upper side; mm, y down."""

from __future__ import annotations

from collections.abc import Iterable

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path, circle, join, polygon

TALL = 8.0  # of a mark within the card
CELL = 8.2  # width of a mark with what is free beside it
FOOT = 5.0  # the second leg of a stroke, across the first
FRAME = 1.4  # engraved round a gap
SLIT = 1.2  # width of the two cuts that leave a web
FREE = 1.5  # between a finger's end and the window that it stands in
HOLE = 3.0  # diameter of the holes along the edge
PATCH = 4.0  # side of the patches along the edge


def stroke(at: Point, size: float) -> Path:
    """An upright stroke and a level one, since a beam that runs in rows draws them unlike."""
    return _angle((at[0] - FOOT / 2, at[1]), size, (FOOT, TALL))


def gap(at: Point, size: float) -> Path:
    """A patch with the same angle left blank in it."""
    wide = FOOT + 2 * FRAME - 1
    left, top = at[0] - wide / 2, at[1]
    inner = _angle((left + FRAME, top + FRAME), size, (wide - 2 * FRAME, TALL - 2 * FRAME))
    return join((box((left, top), (wide, TALL)), _reversed(inner)))


def web(at: Point, size: float) -> Path:
    """Two slits with so much wood between them."""
    left = box((at[0] - size / 2 - SLIT, at[1]), (SLIT, TALL))
    return join((left, box((at[0] + size / 2, at[1]), (SLIT, TALL))))


def opening(at: Point, size: float) -> Path:
    """A slit so wide."""
    return box((at[0] - size / 2, at[1]), (size, TALL))


def hole(at: Point, size: float) -> Path:
    """A hole of that diameter in the middle of the cell."""
    return circle((at[0], at[1] + TALL / 2), size / 2)


def fingers(at: Iterable[Point], sizes: Iterable[float]) -> Path:
    """A window in which fingers of those widths stand free, on its lower side."""
    places = list(zip(at, sizes, strict=True))
    (first, top), (last, _) = places[0][0], places[-1][0]
    left, right, foot = first - CELL / 2, last + CELL / 2, top + TALL
    corners = [(right, foot), (right, top), (left, top), (left, foot)]
    for (x, _), size in places:
        near, far = x - size / 2, x + size / 2
        corners += [(near, foot), (near, top + FREE), (far, top + FREE), (far, foot)]
    return polygon(corners)


def hole_to_edge(at: Point, size: float) -> Path:
    """A hole with so much wood between it and the edge; `at` is on the edge."""
    return circle((at[0], at[1] - size - HOLE / 2), HOLE / 2)


def near_cut(at: Point, size: float) -> Path:
    """A patch so far from the edge; `at` is on the edge."""
    return box((at[0] - PATCH / 2, at[1] - size - PATCH), (PATCH, PATCH))


def comb(at: Point, count: int, pitch: float, height: float) -> tuple[Path, Path]:
    """The lines that part a lot of loose pieces, and the outline of the lot, from its corner."""
    x, y = at
    lines = tuple(
        Contour((x + k * pitch, y), (((x + k * pitch, y + height),),), closed=False)
        for k in range(1, count)
    )
    return Path(lines), box(at, (count * pitch, height))


def box(corner: Point, size: tuple[float, float]) -> Path:
    """An upright rectangle from its upper left corner."""
    (x, y), (width, height) = corner, size
    return polygon(((x, y), (x + width, y), (x + width, y + height), (x, y + height)))


def _angle(corner: Point, size: float, reach: tuple[float, float]) -> Path:
    """An L of legs so wide, in a box of that reach from its upper left corner."""
    x, y = corner
    right, foot = x + reach[0], y + reach[1]
    upper = (x, y), (x + size, y), (x + size, foot - size), (right, foot - size)
    return polygon((*upper, (right, foot), (x, foot)))


def _reversed(path: Path) -> Path:
    return Path(tuple(contour.reversed() for contour in path.contours))
