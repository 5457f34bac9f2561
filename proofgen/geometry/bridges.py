"""Making one part of lettering that stands, and what it stands on."""

from __future__ import annotations

from dataclasses import dataclass

import shapely

from proofgen.geometry.bridge import Bridge
from proofgen.geometry.parts import parts
from proofgen.geometry.path import Path, join
from proofgen.geometry.polygons import from_shapely, polygons_of, to_shapely
from proofgen.geometry.spanning import Asked, spanning
from proofgen.geometry.weld import weld

# mm² by which two ways of welding one outline may differ: the chords of 0.01 mm, by far.
ALIKE = 0.5


@dataclass(frozen=True, slots=True)
class Joined:
    """The welded outline, the bridges that are in it, and the parts that nothing holds."""

    outline: Path
    bridges: tuple[Bridge, ...]
    loose: tuple[Path, ...]


def joined(
    path: Path,
    base: Path,
    width: float,
    longest: float,
    neck: float | None = None,
    keep_clear: Path | None = None,
) -> Joined:
    """The path's parts and the base as one, by bridges of `width` where they do not join.

    A bridge shows at most `longest` between the parts it joins, and none comes into
    `keep_clear`. Pieces that overlap are joined where the join is at least `neck` wide (`width`
    where it is not given; give less for lettering of thinner strokes). What hangs together with
    the largest part of the base, or of the path without one, is held; other parts are loose.
    """
    own, under = parts(path), _largest_first(parts(base))
    every = (*under, *own) if under else _largest_first(own)
    if not every:
        return Joined(Path(), (), ())
    polygons = [_polygon(part) for part in every]
    asked = Asked(width, min(neck or width, width), longest, to_shapely(keep_clear or Path()))
    span = spanning(polygons, asked)
    bars = tuple(bridge.bar() for bridge in span.bridges)
    union = shapely.union_all([*polygons, *map(to_shapely, bars)])
    loose = tuple(part for part, held in zip(every, span.held, strict=True) if not held)
    return Joined(_welded((*every, *bars), union), span.bridges, loose)


def _welded(every: tuple[Path, ...], union: shapely.Geometry) -> Path:
    """The union with its curves; straight-sided where that does not come out as it should."""
    curved = weld([join(every)])
    filled = to_shapely(curved)
    alike = abs(filled.area - union.area) <= ALIKE
    return (
        curved
        if alike and len(polygons_of(filled)) == len(polygons_of(union))
        else from_shapely(union)
    )


def _polygon(part: Path) -> shapely.Polygon:
    return max(polygons_of(to_shapely(part)), key=lambda polygon: polygon.area)


def _largest_first(found: tuple[Path, ...]) -> tuple[Path, ...]:
    return tuple(sorted(found, key=lambda part: -to_shapely(part).area))
