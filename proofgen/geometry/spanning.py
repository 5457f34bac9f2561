"""The least bridges that make one piece of several polygons: a minimum spanning tree.

What is left of the polygons when half the width is taken off all round are their cores: round each
point of one, a disc of the width lies in the wood. Bridges run from core to core, so whatever lies
within half the width of their middle lines is wood, and no join is thinner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.bridge import Bridge
from proofgen.geometry.polygons import polygons_of

# mm; how much deeper in a core a bridge ends, so that its corners are covered.
SUNK = 0.02
# mm; by how much a join may be thinner than asked, for the chords of flattened curves.
SLACK = 0.02
# Shares of a border that are tried where a part is too slight for the whole one.
SHARES = (1.0, 0.75, 0.5, 0.25)
# What a millimetre sideways costs beside one of length: upright bridges disturb the eye least.
SLANT = 0.3
# Ends are snapped to a micrometre before any outline is made from them.
DECIMALS = 3


@dataclass(frozen=True, slots=True)
class Asked:
    """How bridges are to be: as wide as `width`, and no longer in sight than `longest`.

    What hangs together by at least `neck` needs none.
    """

    width: float
    neck: float
    longest: float


def spanning(parts: Sequence[Polygon], asked: Asked) -> tuple[Bridge, ...]:
    """Bridges that join as much of the polygons as can be, the cheapest first."""
    wood = shapely.union_all(parts)
    cores = _cores(wood, asked.neck)
    if len(cores) < 2:
        return ()
    deep = [deeper(core, asked) for core in cores]
    near = shapely.distance(np.array(cores)[:, None], np.array(cores)[None, :]) - asked.width
    offers = [
        (*offer, i, j)
        for i, j in combinations(range(len(cores)), 2)
        if near[i, j] <= asked.longest
        and (offer := next(offered(deep[i], deep[j], wood, asked), None))
    ]
    groups = list(range(len(cores)))
    bridges = []
    for _, bridge, i, j in sorted(offers, key=lambda offer: (offer[0], *offer[2:])):
        if groups[i] != groups[j]:
            groups = [groups[i] if group == groups[j] else group for group in groups]
            bridges.append(bridge)
    return tuple(bridges)


def offered(
    first: BaseGeometry, second: BaseGeometry, wood: BaseGeometry, asked: Asked
) -> Iterator[tuple[float, Bridge]]:
    """Bridges from one place in the wood to another with what they cost, cheapest first."""
    lines = _lines(first, second, asked.width / 2)
    ends = np.round(shapely.get_coordinates(lines), DECIMALS).reshape(-1, 2, 2)
    ends = ends[(ends[:, 0] != ends[:, 1]).any(axis=1)]
    along = np.abs(ends[:, 1] - ends[:, 0])
    costs = np.round(np.hypot(*along.T) + SLANT * along[:, 0], DECIMALS)
    for k in np.lexsort((ends[:, 0, 1], ends[:, 0, 0], costs)):
        if shapely.difference(LineString(ends[k]), wood).length <= asked.longest:
            start, end = ((float(x), float(y)) for x, y in ends[k])
            yield float(costs[k]), Bridge(start, end, asked.width)


def core(part: Polygon, width: float) -> BaseGeometry:
    """What is left of a part without half the width all round, or without as much as it has."""
    inner = _shrunk(part, max(width / 2 - SLACK, SUNK))
    return shapely.point_on_surface(part) if inner.is_empty else inner


def deeper(core: BaseGeometry, asked: Asked) -> BaseGeometry:
    """Where bridges to a core may end: so deep that all of their width lies in it, if it can."""
    inner = _shrunk(core, (asked.width - asked.neck) / 2 + SLACK + SUNK)
    return core if inner.is_empty else inner


def _shrunk(shape: BaseGeometry, by: float) -> BaseGeometry:
    """The shape without a border, or without as large a share of it as leaves something."""
    shrunk = (shape.buffer(-share * by, quad_segs=6) for share in SHARES)
    return next((inner for inner in shrunk if not inner.is_empty), Polygon())


def _cores(wood: BaseGeometry, width: float) -> list[BaseGeometry]:
    """The cores of the wood; a part too slight to have one counts by its middle."""
    found: list[BaseGeometry] = []
    for part in polygons_of(wood):
        own = core(part, width)
        found += polygons_of(own) or [own]
    return found


def _lines(first: BaseGeometry, second: BaseGeometry, step: float) -> NDArray[np.object_]:
    """The shortest lines to the second core from points of the first one's edge, and back."""
    there = shapely.shortest_line(_edge(first, second, step), second)
    back = shapely.reverse(shapely.shortest_line(_edge(second, first, step), first))
    return np.concatenate(([shapely.shortest_line(first, second)], there, back))


def _edge(core: BaseGeometry, other: BaseGeometry, step: float) -> NDArray[np.object_]:
    """Points of a core's edge that are hardly further from the other one than the nearest."""
    drawn = core if core.geom_type == "Point" else core.boundary.segmentize(step)
    points = shapely.points(shapely.get_coordinates(drawn))
    far = shapely.distance(points, other)
    return np.asarray(points[far <= far.min() * (1 + SLANT)])
