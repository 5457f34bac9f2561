"""Letters and what carries them as one part, held everywhere by a least width of wood."""

from __future__ import annotations

from dataclasses import dataclass

from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from proofgen.geometry.bridge import Bridge
from proofgen.geometry.path import Path
from proofgen.geometry.polygons import from_shapely, polygons_of, to_shapely
from proofgen.geometry.weld import weld

FLATNESS = 0.005


@dataclass(frozen=True, slots=True)
class Held:
    """The welded whole, the bridges in it, and the parts that stayed loose."""

    path: Path
    bridges: tuple[Bridge, ...]
    loose: tuple[Path, ...]


def held_on(base: Path, letters: Path, width: float, longest: float) -> Held:
    """The letters and the base as one, no part of it held by less than `width`.

    What is left after taking half the width off all round are the cores; those that are not one
    already, because they lie apart or only touch, are joined by the shortest bars from core to
    core. A core that only a bar longer than `longest` reaches, and a part without any core, stay
    loose.
    """
    whole = weld([weld([base]), weld([letters])])
    carrier = to_shapely(base, FLATNESS).buffer(-width / 2)
    cores = polygons_of(to_shapely(whole, FLATNESS).buffer(-width / 2))
    held = [core for core in cores if core.intersects(carrier)]
    apart = [core for core in cores if not core.intersects(carrier)]
    bridges: list[Bridge] = []
    while held and apart:
        bridge, reached = _shortest(held, apart, width)
        if bridge.length - width > longest:
            break
        bridges.append(bridge)
        apart.remove(reached)
        held.append(reached)
    path = weld([whole, *(weld([bridge.bar()]) for bridge in bridges)])
    return Held(path, tuple(bridges), _loose(path, held))


def _shortest(held: list[Polygon], apart: list[Polygon], width: float) -> tuple[Bridge, Polygon]:
    here, there = min(
        ((a, b) for a in held for b in apart), key=lambda pair: pair[0].distance(pair[1])
    )
    start, end = nearest_points(here, there)
    return Bridge((start.x, start.y), (end.x, end.y), width), there


def _loose(path: Path, held: list[BaseGeometry]) -> tuple[Path, ...]:
    """The parts of the result that no held core is in, straight-sided."""
    pieces = polygons_of(to_shapely(path, FLATNESS))
    lost = [piece for piece in pieces if not any(piece.intersects(core) for core in held)]
    return tuple(map(from_shapely, lost))
