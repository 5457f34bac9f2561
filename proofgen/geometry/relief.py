"""What shows how letters run on within the wood that carries them, and what gives way to it."""

from __future__ import annotations

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.path import Contour, Path
from proofgen.geometry.polygons import TOLERANCE, from_shapely, to_shapely


def groove(letters: Path, base: Path, openings: Path, width: float, finest: float) -> Path:
    """A border of `width` mm round the letters, where it lies on the base; straight-sided.

    Neither it nor what it leaves between itself is finer than `finest` mm. Empty where the letters
    keep out of the base.
    """
    inner = to_shapely(letters)
    border = inner.buffer(width).difference(inner)
    closed = border.buffer(finest / 2).buffer(-finest / 2).difference(inner)
    wood = to_shapely(base).difference(to_shapely(openings))
    opened = closed.intersection(wood).buffer(-finest / 2).buffer(finest / 2)
    return from_shapely(opened.simplify(TOLERANCE / 4))


def off(path: Path, area: Path, shortest: float) -> Path:
    """What lies outside the area, of lines; pieces shorter than `shortest` mm are left out.

    The path itself where it keeps out of the area.
    """
    drawn = shapely.multilinestrings([LineString(line) for line in path.flatten(TOLERANCE)])
    covered = to_shapely(area)
    if not drawn.intersects(covered):
        return path
    return Path(tuple(map(_open, _lines(drawn.difference(covered), shortest))))


def _lines(drawn: BaseGeometry, shortest: float) -> list[LineString]:
    merged = shapely.line_merge(drawn)
    return [line for line in shapely.get_parts(merged) if line.length >= shortest]


def _open(line: LineString) -> Contour:
    first, *rest = ((float(x), float(y)) for x, y in line.coords)
    return Contour(first, tuple((point,) for point in rest), closed=False)
