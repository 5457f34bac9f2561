"""What shows how letters run on within the wood that carries them, and what gives way to it."""

from __future__ import annotations

from functools import lru_cache

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.path import Path
from proofgen.geometry.polygons import TOLERANCE, from_line, from_shapely, polylines, to_shapely

# Chords a quarter of a circle: within 0.01 mm at the groove's width and round its corners.
ARCS, CORNERS = 8, 4


def groove(letters: Path, base: Path, openings: Path, width: float, finest: float) -> Path:
    """A border of `width` mm round the letters, where it lies on the base; straight-sided.

    Neither it nor what it leaves between itself is finer than `finest` mm. Empty where the letters
    keep out of the base.
    """
    whole = to_shapely(letters)
    wood = _near(to_shapely(base), whole, width + finest)
    if openings:
        wood = wood.difference(to_shapely(openings))
    inner = _near(whole, wood, width + finest)
    # What a disc of that size does not enter between borders is filled.
    closed = inner.buffer(width + finest / 2, ARCS).buffer(-finest / 2, CORNERS)
    border = wood.intersection(closed).difference(inner)
    opened = border.buffer(-finest / 2, CORNERS).buffer(finest / 2, CORNERS)
    return from_shapely(opened.simplify(TOLERANCE / 4, preserve_topology=False))


def shared(path: Path, letters: Path, reach: float) -> float:
    """Square millimetres that the path fills no further than `reach` mm from the letters."""
    own, far = to_shapely(path), to_shapely(letters)
    if not shapely.dwithin(own, far, reach):
        return 0.0
    return float(own.intersection(_near(far, own, reach).buffer(reach)).area)


def apart(path: Path, letters: Path, reach: float) -> bool:
    """Whether all that the path fills is further than `reach` mm from the letters."""
    return not shapely.dwithin(to_shapely(path), to_shapely(letters), reach)


def off(path: Path, letters: Path, reach: float, shortest: float) -> Path:
    """What of lines lies further than `reach` mm from the letters; pieces shorter than `shortest`
    mm are left out.

    The path itself where all of it does.
    """
    drawn = _drawn(path)
    inner = to_shapely(letters)
    if not shapely.dwithin(drawn, inner, reach):
        return path
    covered = _near(inner, drawn, reach).buffer(reach)
    return Path(tuple(map(from_line, _lines(drawn.difference(covered), shortest))))


def _near(shape: BaseGeometry, other: BaseGeometry, reach: float) -> BaseGeometry:
    """The shape as far as it can be within reach of the other one."""
    if other.is_empty:
        return other
    left, top, right, bottom = other.bounds
    box = shapely.box(left - reach, top - reach, right + reach, bottom + reach)
    return shape.intersection(box)


# What a design draws is the same for all its rows, so that an index of it is worth its while.
@lru_cache(maxsize=64)
def _drawn(path: Path) -> BaseGeometry:
    drawn = polylines(path.flatten(TOLERANCE))
    shapely.prepare(drawn)
    return drawn


def _lines(drawn: BaseGeometry, shortest: float) -> list[LineString]:
    merged = shapely.line_merge(drawn)
    return [line for line in shapely.get_parts(merged) if line.length >= shortest]
