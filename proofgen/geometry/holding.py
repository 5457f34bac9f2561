"""Letters and what carries them as one part, held everywhere by a least width of wood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from proofgen.geometry.bridge import Bridge
from proofgen.geometry.marks import Tie
from proofgen.geometry.parts import SPECK
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import from_shapely, polygons_of, to_shapely
from proofgen.geometry.spanning import DECIMALS, SLACK, Asked, core, offered
from proofgen.geometry.weld import together, weld

NOTHING = Path()


@dataclass(frozen=True, slots=True)
class Held:
    """The welded whole, the bridges in it, and the parts that stayed loose."""

    path: Path
    bridges: tuple[Bridge, ...]
    loose: tuple[Path, ...]


def held_on(
    base: Path,
    letters: Path,
    width: float,
    longest: float,
    openings: Path = NOTHING,
    ties: Sequence[Tie] = (),
) -> Held:
    """The letters and the base as one, no part of it held by less than `width`.

    What is left after taking half the width off all round are the cores, and a part too slight to
    have one counts by its middle. Those that are not one with the largest part of the base, because
    they lie apart or only touch, are joined by the shortest bars from core to core that keep out of
    the openings. What only a bar longer than `longest` reaches stays loose, and all of it does
    where the base is empty. Before all else each mark is tied to what it hangs on.
    """
    whole = together(base, letters)
    clear = to_shapely(openings)
    wood = _outside(to_shapely(whole), clear)
    cores = [core for part in polygons_of(wood) for core in _cores(part, width)]
    asked = Asked(width, width, longest)
    bridges: list[Bridge] = []
    for tie in ties:
        if bridge := _tied(tie, cores, asked, wood, clear):
            bridges.append(bridge)
            cores = _linked(cores, bridge)
    inner = _carrier(base, openings, width)
    held = [core for core in cores if inner.intersects(core)]
    apart = [core for core in cores if not inner.intersects(core)]
    while found := _shortest(held, apart, asked, wood, clear):
        bridge, reached = found
        bridges.append(bridge)
        apart.remove(reached)
        held.append(reached)
    path = weld([whole, *(weld([bridge.bar()]) for bridge in bridges)]) if bridges else whole
    return Held(path, tuple(bridges), _loose(path, held) if apart else ())


# Of letters on drawn wood it is the same in all rows of a design.
@lru_cache(maxsize=64)
def _carrier(base: Path, openings: Path, width: float) -> BaseGeometry:
    """The core of the largest part of the base."""
    boards = polygons_of(to_shapely(base))
    largest = max(boards, key=lambda part: part.area, default=Polygon())
    inner = _outside(largest, to_shapely(openings)).buffer(-width / 2)
    shapely.prepare(inner)
    return inner


def _outside(shape: BaseGeometry, clear: BaseGeometry) -> BaseGeometry:
    return shape.difference(clear) if clear.intersects(shape) else shape


def _cores(part: Polygon, width: float) -> list[BaseGeometry]:
    if part.area < SPECK:
        return []
    return [*polygons_of(part.buffer(-width / 2))] or [core(part, width)]


def _tied(
    tie: Tie, cores: list[BaseGeometry], asked: Asked, wood: BaseGeometry, clear: BaseGeometry
) -> Bridge | None:
    """The bridge from a mark to what it hangs on, straight up or down where that can be.

    None where it has one, or where none keeps off all else.
    """
    mark, body = (to_shapely(path) for path in (tie.mark, tie.body))
    if any(each.intersects(mark) and each.intersects(body) for each in cores):
        return None
    both = shapely.union_all([mark, body]).buffer(SLACK)
    own, onto = core(mark, asked.width), core(body, asked.width)
    left, _, right, _ = own.bounds
    _, top, _, bottom = onto.bounds
    upright = shapely.clip_by_rect(onto, left, top - 1, right, bottom + 1)
    offers = (
        bridge
        for end in (upright, onto)
        if not end.is_empty and end.distance(own) <= asked.longest
        for _, bridge in offered(end, own, wood, asked)
    )
    return next((b for b in offers if _keeps_off(b, both, wood, clear)), None)


def _keeps_off(bridge: Bridge, own: BaseGeometry, wood: BaseGeometry, clear: BaseGeometry) -> bool:
    """Whether the bridge lies in no wood but its own, and in no opening."""
    bar = to_shapely(bridge.bar())
    if bar.intersection(clear).area:
        return False
    return not bar.difference(own).intersection(wood).area


def _linked(cores: list[BaseGeometry], bridge: Bridge) -> list[BaseGeometry]:
    """The cores, those at the ends of a bridge as one."""
    ends = [Point(bridge.start), Point(bridge.end)]
    at = [each for each in cores if any(each.distance(end) <= 2 * SLACK for end in ends)]
    solid = [each.buffer(SLACK) if each.geom_type == "Point" else each for each in at]
    linked = MultiPolygon([part for each in solid for part in polygons_of(each)])
    return [*(each for each in cores if each not in at), linked]


def _shortest(
    held: list[BaseGeometry],
    apart: list[BaseGeometry],
    asked: Asked,
    wood: BaseGeometry,
    clear: BaseGeometry,
) -> tuple[Bridge, BaseGeometry] | None:
    """The shortest bridge from what is held to what is not, and what it reaches."""
    far = {(i, j): a.distance(b) for i, a in enumerate(held) for j, b in enumerate(apart)}
    near = sorted((d, *pair) for pair, d in far.items() if d - asked.width <= asked.longest)
    for _, i, j in near:
        for bridge in _between(held[i], apart[j], asked, wood):
            if not to_shapely(bridge.bar()).intersection(clear).area:
                return bridge, apart[j]
    return None


def _between(
    here: BaseGeometry, there: BaseGeometry, asked: Asked, wood: BaseGeometry
) -> Iterator[Bridge]:
    """The shortest bridge, then others beside it."""
    start, end = (
        (round(point.x, DECIMALS), round(point.y, DECIMALS))
        for point in nearest_points(here, there)
    )
    if start != end:
        yield Bridge(start, end, asked.width)
    yield from (bridge for _, bridge in offered(here, there, wood, asked))


def _loose(path: Path, held: list[BaseGeometry]) -> tuple[Path, ...]:
    """The parts of the result that no held core is in, straight-sided."""
    pieces = polygons_of(to_shapely(path))
    lost = [piece for piece in pieces if not any(piece.intersects(core) for core in held)]
    return tuple(map(from_shapely, lost))
