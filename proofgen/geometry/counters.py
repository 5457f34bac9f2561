"""Holding the islands of wood inside letters that are cut through."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely import Polygon

from proofgen.geometry.bridge import Bridge
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import from_shapely, polygons_of, to_shapely
from proofgen.geometry.spanning import Asked, core, deeper, offered, spanning
from proofgen.geometry.weld import weld, without

# mm²; a smaller island is char.
LEAST_ISLAND = 0.05
# An island longer than so many bridge widths gets a second bridge, about on its other side.
LARGE = 3.0
# Bridges of one island are apart by at least this share of its length.
OPPOSITE = 0.6


@dataclass(frozen=True, slots=True)
class Held:
    """Openings with bridges left standing in them, and the islands that still fall out."""

    openings: Path
    bridges: tuple[Bridge, ...]
    loose: tuple[Path, ...]


def loose_islands(openings: Path) -> tuple[Path, ...]:
    """The wood inside openings that nothing holds, straight-sided; not that of under 0.05 mm²."""
    return tuple(from_shapely(island) for island in _wood(openings, 1.0)[1:])


# A season's year is cut alike in all pieces of a design.
@lru_cache(maxsize=64)
def held(openings: Path, width: float, longest: float) -> Held:
    """The openings less bridges of `width` to all islands inside them.

    A bridge crosses openings over at most `longest` mm. A large island gets two where it can.
    """
    wood = _wood(openings, 2 * width)
    if len(wood) < 2:
        return Held(openings, (), ())
    asked = Asked(width, 0.0, longest)
    first = spanning(wood, asked)
    bridges = (*first, *_seconds(wood, first, asked))
    left = without(openings, weld([bridge.bar() for bridge in bridges])) if bridges else openings
    return Held(left, bridges, loose_islands(left))


def _wood(openings: Path, around: float) -> list[Polygon]:
    """The wood round the openings (so far out, mm), then every island from top to bottom."""
    shape = to_shapely(openings)
    if shape.is_empty:
        return []
    frame = shapely.box(*shape.bounds).buffer(around, join_style="mitre")
    pieces = polygons_of(frame.difference(shape))
    outer = max(pieces, key=lambda piece: shapely.box(*piece.bounds).area)
    islands = [p for p in pieces if p is not outer and p.area >= LEAST_ISLAND]
    return [outer, *sorted(islands, key=lambda p: (p.bounds[1], p.bounds[0]))]


def _seconds(wood: list[Polygon], bridges: tuple[Bridge, ...], asked: Asked) -> tuple[Bridge, ...]:
    """One more bridge to the wood round it for every large island that has only one."""
    found: list[Bridge] = []
    outer, *inner = (deeper(core(piece, asked.neck), asked) for piece in wood)
    whole = shapely.union_all(wood)
    for island, within in zip(wood[1:], inner, strict=True):
        left, top, right, bottom = island.bounds
        length = max(right - left, bottom - top)
        ends = [shapely.Point(end) for bridge in bridges for end in (bridge.start, bridge.end)]
        own = [end for end in ends if island.contains(end)]
        if length <= LARGE * asked.width or len(own) != 1:
            continue
        far = within.difference(own[0].buffer(OPPOSITE * length))
        offer = None if far.is_empty else next(offered(far, outer, whole, asked), None)
        found += [offer[1]] if offer else []
    return tuple(found)
