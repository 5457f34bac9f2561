"""Names in joined scripts on a bar, and what is measured on them without the code that joins."""

from __future__ import annotations

import random

import shapely
from names import us_names

from proofgen.geometry.affine import Affine
from proofgen.geometry.bridge import Bridge
from proofgen.geometry.path import Path, join, polygon
from proofgen.lettering.bench import Bench

# Birch of the shipped workshop: 2 mm after a kerf of 0.18 mm. A border makes hairlines stand.
LIMIT, KERF = 2.0, 0.18
WIDTH = LIMIT + KERF
BOLDER = {"pacifico": 0.6, "dancing-script": 0.9}
CAP = 24.0
# Chords of flattened curves, each side.
CHORDS = 0.03
SPECK = 1e-3  # mm²


def sampled(count: int) -> list[str]:
    """So many names, each as likely as any other."""
    return random.Random("standing").sample([name for name, _ in us_names()], count)


def lettered(bench: Bench, face: str, name: str) -> Path:
    """A name on the baseline y = 0 at the cap height CAP."""
    found = bench.faces[face]
    cut = bench.cut(found, found.normal, 1.0)
    size = CAP / (found.cap_height(found.normal) or 1.0)
    placed = [cut.outline(u.key).moved(Affine.shift(u.x, 0.0)) for u in cut.units(name, 0.0)]
    return join(placed).moved(Affine.scale(size))


def bar_under(letters: Path, top: float) -> Path:
    """A bar of 8 mm from y = `top`, a little longer than the letters."""
    box = letters.bounds()
    left, right = box.left - 5, box.right + 5
    return polygon(((left, top), (right, top), (right, top + 8), (left, top + 8)))


def filled(path: Path, tolerance: float = 0.005) -> shapely.Geometry:
    """Contours combined one by one by the sign of their area: only for welded outlines."""
    rings = [shapely.Polygon(points).buffer(0) for points in path.flatten(tolerance)]
    shells = sorted(rings, key=lambda ring: -ring.area)
    shape: shapely.Geometry = shapely.Polygon()
    for ring in shells:
        shape = shape.symmetric_difference(ring)
    return shape


def bar_of(bridge: Bridge) -> shapely.Polygon:
    """What a bridge fills."""
    line = shapely.LineString([bridge.start, bridge.end])
    return line.buffer(bridge.width / 2, cap_style="flat")


def faults(whole: Path, letters: Path, base: Path, bridges: tuple[Bridge, ...]) -> list[str]:
    """What is wrong with a whole that should be the letters, the base and the bridges in one."""
    found = []
    shape = filled(whole)
    if shape.geom_type != "Polygon":
        found.append(f"{len(shapely.get_parts(shape))} parts")
    separate = [shapely.Polygon(points).buffer(0) for points in base.flatten(0.005)]
    union = shapely.union_all([filled(letters), *separate, *map(bar_of, bridges)])
    if (off := shape.symmetric_difference(union).area) > 0.5:
        found.append(f"{off:.2f} mm² are not what was joined")
    for bridge in bridges:
        middle = shapely.LineString([bridge.start, bridge.end])
        if not middle.buffer(LIMIT / 2 - CHORDS).within(shape.buffer(CHORDS)):
            found.append(f"a bridge at {bridge.start} is thinner than {LIMIT} mm")
    return found + weak(shape)


def weak(shape: shapely.Geometry) -> list[str]:
    """What is wrong with one part that should hang together by LIMIT everywhere."""
    core = shapely.get_parts(shape.buffer(-(LIMIT / 2 - CHORDS)))
    # A tip a hair wider than the limit has a core of its own, which nothing hangs on.
    bodies = [part for part in core if part.area > SPECK]
    if len(bodies) < 2:
        return []
    return [f"{len(bodies)} parts hang together by less than {LIMIT} mm"]
