"""Random simple zones, and the largest size in one by trying places: for tests of the fit."""

from __future__ import annotations

import math
import random

import numpy as np
import shapely
from shapely import Polygon

from proofgen.lettering.layout import Layout
from proofgen.lettering.zone import Floats, Hold

# Sizes are told apart to this share; places are tried on a grid of so many steps a side.
FINE = 2e-4
COARSE = 19
ROUNDS = 5


def convex(rng: random.Random) -> Polygon:
    """The hull of a few points, about 80 by 50 mm."""
    points = [(rng.uniform(0, 80), rng.uniform(0, 50)) for _ in range(rng.randint(5, 12))]
    return shapely.convex_hull(shapely.MultiPoint(points))


def hollow(rng: random.Random) -> Polygon:
    """A boat or a bay: a roof and a floor over the same stretch, each bent at random."""
    xs = sorted(rng.uniform(4, 76) for _ in range(rng.randint(2, 6)))
    roof = [(x, rng.uniform(0, 14)) for x in (0, *xs, 80)]
    floor = [(x, rng.uniform(24, 45)) for x in (0, *xs, 80)]
    return Polygon([*roof, *reversed(floor)])


def star(rng: random.Random) -> Polygon:
    """Seen whole from its middle, with corners at any distance."""
    count = rng.randint(5, 12)
    turns = [(i + rng.uniform(0, 0.8)) * 2 * math.pi / count for i in range(count)]
    reach = [rng.uniform(18, 45) for _ in turns]
    return Polygon(
        [(45 + r * math.cos(t), 45 + r * math.sin(t)) for r, t in zip(reach, turns, strict=True)]
    )


def bent(rng: random.Random) -> Polygon:
    """A room with a nook: an L, a T or a U, leaning a little, which upright lines meet often."""
    nook = Polygon([(0, 0), (30, 0), (30, 20), (50, 20), (50, 0), (80, 0), (80, 48), (0, 48)])
    for box in rng.sample(((0, 0, 30, 20), (50, 0, 80, 20), (20, 40, 50, 48)), rng.randint(0, 2)):
        nook = nook.difference(shapely.box(*box))
    lean, turn = rng.uniform(-0.3, 0.3), rng.uniform(-0.2, 0.2)
    return shapely.transform(nook, lambda p: p @ np.array([[1.0, turn], [lean, 1.0]]))


class BruteForce:
    """Tries places and sizes with shapely; knows nothing of the fit."""

    def __init__(self, zone: Polygon, layout: Layout, hold: Hold) -> None:
        self._zone = zone
        self._hold = hold
        contours = [c for path in layout.outlines() for c in path.flatten(1e-4)]
        self._lines = shapely.multilinestrings([shapely.LineString(c) for c in contours])
        box = shapely.bounds(self._lines)
        self._centre = (box[:2] + box[2:]) / 2
        self._extent = box[2:] - box[:2]
        self._hull = shapely.get_coordinates(shapely.convex_hull(self._lines))
        shapely.prepare(zone)

    def best(self) -> float:
        """The greatest size found, mm an em: a grid, then finer ones round its best places."""
        left, top, right, bottom = self._zone.bounds
        step = (right - left) / COARSE, (bottom - top) / COARSE
        middle = np.array([(left + right) / 2, (top + bottom) / 2])
        size, places = self._search(self._grid(middle, step, COARSE), 0.0)
        for place in places[-3:][::-1]:
            size = max(size, self._closer(place, step, size))
        return size

    def _closer(self, place: Floats, step: tuple[float, float], size: float) -> float:
        for _ in range(ROUNDS):
            step = step[0] / 3, step[1] / 3
            size, found = self._search(self._grid(place, step, 7), size)
            place = found[-1] if found else place
        return size

    def _grid(self, middle: Floats, step: tuple[float, float], count: int) -> Floats:
        """Places (n, 2) of the middle of the ink; one row or column where the hold leaves one."""
        steps = np.arange(count) - (count - 1) / 2
        across = [0.0] if self._hold.x else steps * step[0]
        down = [0.0] if self._hold.y else steps * step[1]
        return middle + np.array([(dx, dy) for dx in across for dy in down])

    def _search(self, places: Floats, size: float) -> tuple[float, list[Floats]]:
        """The greatest size at these places, if more than `size`, and the places that raised it."""
        raised = []
        while len(places):
            places = places[self._hull_inside(places, max(size * (1 + FINE), 0.5))]
            if not len(places):
                break
            place, places = places[0], places[1:]
            if self._inside(place, max(size * (1 + FINE), 0.5)):
                size = self._grown(place, size)
                raised.append(place)
        return size, raised

    def _grown(self, place: Floats, low: float) -> float:
        left, top, right, bottom = self._zone.bounds
        high = 2 * max((right - left) / self._extent[0], (bottom - top) / self._extent[1])
        low = max(low, 0.5)
        while high / low > 1 + FINE:
            middle = math.sqrt(low * high)
            low, high = (middle, high) if self._inside(place, middle) else (low, middle)
        return low

    def _origins(self, places: Floats, size: float) -> Floats:
        origins = places - size * self._centre
        for axis, held in enumerate((self._hold.x, self._hold.y)):
            if held:
                origins[..., axis] = held[0] + held[1] * size
        return origins

    def _hull_inside(self, places: Floats, size: float) -> Floats:
        points = size * self._hull[None, :, :] + self._origins(places, size)[:, None, :]
        return np.asarray(shapely.contains_xy(self._zone, points[..., 0], points[..., 1]).all(1))

    def _inside(self, place: Floats, size: float) -> bool:
        origin = self._origins(place, size)
        return bool(self._zone.covers(shapely.transform(self._lines, lambda p: size * p + origin)))
