"""Whether a flat piece fits into the small-parts cylinder, however it is turned.

The cylinder of 16 CFR 1501.4: 1.25 in wide inside, 1 to 2.25 in deep, its bottom slanted. It is
convex, so only the corners of a piece's hull count. All turnings are searched by halving: a box of
turnings is dropped when even a cylinder that is larger by as much as a corner moves within the box
does not hold its middle. So no turning is missed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np
import shapely
from numpy.typing import NDArray

from proofgen.geometry.path import Path
from proofgen.geometry.polygons import to_shapely

BORE, SHALLOW, DEEP = 31.75, 25.4, 57.15  # mm; the inches govern
CHORD = float(np.hypot(BORE, DEEP))  # the longest line inside
NEAR = 0.3  # mm: what fits a cylinder that much larger on every side may count as fitting
FINE, COARSE = 0.005, 0.05  # mm, of flattened outlines
CHUNK = 1024  # boxes of turnings at a time

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Slab:
    """A flat part of a piece: its outline, from `bottom` to `top`; mm."""

    outline: Path
    bottom: float
    top: float


def narrowest_width(slabs: tuple[Slab, ...], shrunk: float = 0.0) -> float:
    """The least width of the widest slab, its border `shrunk` by that much; inf without slabs.

    However a slab is turned, some line in its plane lies level, so a cylinder that holds it is at
    least that wide.
    """
    return max((_width(slab.outline, shrunk) for slab in slabs), default=np.inf)


@lru_cache(maxsize=256)
def fits(slabs: tuple[Slab, ...], shrunk: float = 0.0) -> bool:
    """Whether a piece of these slabs, each border `shrunk` by that much, goes into the cylinder.

    A piece that is at most 0.3 mm too large may count as fitting, but for its narrowest width.
    """
    boxes = [slab.outline.bounds() for slab in slabs]
    if not boxes or max(max(b.width, b.height) for b in boxes) - 2 * shrunk > CHORD:
        return False
    if narrowest_width(slabs, shrunk) > BORE:
        return False
    return _some_turning_fits(_corners(slabs, shrunk))


@lru_cache(maxsize=256)
def _width(outline: Path, shrunk: float) -> float:
    """Between the two nearest parallels that hold the outline: one of them lies along its hull."""
    hull = to_shapely(outline, FINE).buffer(-shrunk).convex_hull
    if hull.geom_type != "Polygon" or hull.is_empty:
        return 0.0
    ring = shapely.get_coordinates(hull)
    sides = np.diff(ring, axis=0)
    normals = np.stack([-sides[:, 1], sides[:, 0]], axis=1) / np.hypot(*sides.T)[:, None]
    across = ring @ normals.T
    return float(np.min(across.max(axis=0) - across.min(axis=0)))


def _corners(slabs: tuple[Slab, ...], shrunk: float) -> Floats:
    """The corners (n, 3) of the piece, round the middle of its box."""
    found = []
    for slab in slabs:
        hull = to_shapely(slab.outline, COARSE).buffer(-shrunk).convex_hull
        ring = shapely.get_coordinates(hull.simplify(COARSE))[:-1]
        found += [np.column_stack([ring, np.full(len(ring), z)]) for z in (slab.bottom, slab.top)]
    points = np.concatenate(found)
    return np.asarray(points - (points.max(axis=0) + points.min(axis=0)) / 2, np.float64)


def _some_turning_fits(corners: Floats) -> bool:
    reach = np.linalg.norm(corners, axis=1)
    half = np.pi / 8
    middles = [half * (1 + 2 * np.arange(n)) for n in (8, 4, 8)]
    start = np.array(list(product(*middles)))
    # Flat, upright and slanted as they come: whatever is much too small is found out here.
    if _inside(corners, start - half, 0 * reach).any():
        return True
    waiting = [(start, half)]
    while waiting:
        turns, half = waiting.pop()
        # The first and the last turning may add up; the middle one is at right angles to both.
        moves = np.sqrt(5) * half * reach
        turns = turns[_inside(corners, turns, moves)]
        if not len(turns):
            continue
        if moves.max() <= NEAR or _inside(corners, turns, 0 * reach).any():
            return True
        waiting += [(chunk, half / 2) for chunk in _halved(turns, half / 2)]
    return False


def _halved(turns: Floats, half: float) -> Iterator[Floats]:
    corners = np.array(list(product((-half, half), repeat=3)))
    smaller = (turns[:, None, :] + corners).reshape(-1, 3)
    for start in range(0, len(smaller), CHUNK):
        yield smaller[start : start + CHUNK]


def _turned(corners: Floats, turns: Floats) -> Floats:
    """Corners (m, n, 3) after m turnings: about z, then x, then z; z points up."""
    (c1, c2, c3), (s1, s2, s3) = np.cos(turns).T, np.sin(turns).T
    zero = np.zeros_like(c1)
    first = np.array([[c1, -s1, zero], [s1, c1, zero], [zero, zero, zero + 1]])
    tilt = np.array([[zero + 1, zero, zero], [zero, c2, -s2], [zero, s2, c2]])
    last = np.array([[c3, -s3, zero], [s3, c3, zero], [zero, zero, zero + 1]])
    whole = np.einsum("ijm,jkm,klm->mil", last, tilt, first)
    return np.asarray(np.einsum("mil,nl->mni", whole, corners))


def _inside(corners: Floats, turns: Floats, slack: Floats) -> Flags:
    """Which turnings fit, each corner (n,) allowed to stick out of the cylinder by its `slack`.

    The floor falls towards x. A piece held up to the rim has to lie so far towards x that it is
    clear of the floor; its axis then has to be within the radius of every corner.
    """
    x, y, z = np.moveaxis(_turned(corners, turns), 2, 0)
    radius, room = BORE / 2 + slack, SHALLOW + BORE / 2
    up, down = (z - slack).max(axis=1), (-z - x - np.sqrt(2) * slack).max(axis=1)
    # The axis, seen from the piece, is nowhere beyond this x.
    most = room - up - down
    under = radius**2 - (x - most[:, None]) ** 2
    half = np.sqrt(np.maximum(under, 0.0))
    meet = (y - half).max(axis=1) <= (y + half).min(axis=1)
    found = np.asarray(meet & (under >= 0).all(axis=1))
    widest = 2 * radius.max()
    rest = np.flatnonzero(~found & (np.ptp(x, axis=1) <= widest) & (np.ptp(y, axis=1) <= widest))
    if len(rest):
        found[rest] = _clear_of_the_floor(x[rest], y[rest], most[rest], widest / 2)
    return found


def _clear_of_the_floor(x: Floats, y: Floats, most: Floats, radius: float) -> Flags:
    """Whether the middle of the smallest circle round the corners will do as the axis."""
    seen = shapely.multipoints(shapely.points(x, y))
    circles = shapely.minimum_bounding_circle(seen)
    middle = shapely.get_x(shapely.centroid(circles))
    return np.asarray((shapely.minimum_bounding_radius(seen) <= radius) & (middle <= most))
