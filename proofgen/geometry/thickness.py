"""Local thickness along the edge of a polygon: the disc that touches there from inside.

It says at which widths a search for thin strokes need not look, at a thousandth of its cost.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry.path import Points

Numbers = NDArray[np.float64]

# Directions that a disc is tried in round a reflex corner lie this close: the touching disc
# is then at most 1/cos(10 deg) = 1.5 % thicker than the one in the best direction.
FAN = np.radians(20.0)
# A disc that touches a reflex corner pinches only if its chord is about its diameter.
OPPOSITE = 0.9
TINY = 1e-9  # of a sine or of a share of the longest edge: less is rounding
CHUNK = 64  # samples that are compared with all edges near them at once


@dataclass(frozen=True, slots=True)
class Thickness:
    """Samples along the rings: diameter of the disc, edge length, area between edge and middle.

    `starts` are the indices at which rings begin; `pinches` are the widths at which a disc
    touches a reflex corner and what is opposite: elsewhere erosion splits and joins nothing,
    as long as something is left.
    """

    diameters: Numbers
    lengths: Numbers
    areas: Numbers
    starts: tuple[int, ...]
    pinches: Numbers

    def may_split(self, below: float, d: float) -> bool:
        """Whether erosion may change the number of parts or holes at widths from below to d."""
        found = (self.pinches >= below * 0.98) & (self.pinches <= d * 1.02)
        return bool(found.any() or np.all(self.diameters < d))

    def may_lose(self, d: float, least_area: float, least_mean: float) -> bool:
        """Whether a run of edge thinner than d has that much area and that mean thickness."""
        thin = self.diameters < d
        if not thin.any():
            return False
        opens = thin & ~np.concatenate(([False], thin[:-1]))
        opens[list(self.starts)] = thin[list(self.starts)]
        run = np.cumsum(opens)[thin] - 1
        run = self._closed(thin, opens, run)
        area = np.bincount(run, self.areas[thin])
        length = np.bincount(run, self.lengths[thin])
        return bool(np.any((area >= least_area) & (2 * area >= least_mean * length)))

    def _closed(
        self, thin: NDArray[np.bool_], opens: NDArray[np.bool_], run: NDArray[np.intp]
    ) -> NDArray[np.intp]:
        """Runs that go on over the end of their ring count as one."""
        number = np.cumsum(opens) - 1
        ends = (*self.starts[1:], len(thin))
        for start, end in zip(self.starts, ends, strict=True):
            if thin[start] and thin[end - 1]:
                run = np.where(run == number[end - 1], number[start], run)
        return run


@dataclass(frozen=True, slots=True)
class _Edges:
    """Directed edges with the inside on their left; `reflex` tells which start at such a corner."""

    starts: Points
    lengths: Numbers
    along: Points
    inward: Points
    reflex: NDArray[np.bool_]

    def near(self, points: Points, reach: float) -> _Edges:
        """Those whose boxes come within reach of the box of the points."""
        ends = self.starts + self.along * self.lengths[:, None]
        low, high = points.min(axis=0) - reach, points.max(axis=0) + reach
        keep = np.all(
            (np.minimum(self.starts, ends) <= high) & (np.maximum(self.starts, ends) >= low), axis=1
        )
        return _Edges(*(part[keep] for part in astuple(self)))


def thickness(rings: list[Points], spacing: float, reach: float) -> Thickness:
    """Measure along closed rings that have what they bound on their left (n + 1 points each).

    Edges are sampled at about `spacing`, closer towards their ends; a diameter above `reach`
    need not be right, only above.
    """
    vectors = np.concatenate([np.diff(ring, axis=0) for ring in rings])
    lengths = np.hypot(vectors[:, 0], vectors[:, 1])
    along = vectors / lengths[:, None]
    inward = np.column_stack((-along[:, 1], along[:, 0]))
    firsts = np.cumsum([0, *(len(ring) - 1 for ring in rings[:-1])])
    before = np.concatenate([np.roll(n, 1, axis=0) for n in np.split(inward, firsts[1:])])
    turns = np.arctan2(
        before[:, 0] * inward[:, 1] - before[:, 1] * inward[:, 0], (before * inward).sum(axis=1)
    )
    starts = np.concatenate([ring[:-1] for ring in rings])
    edges = _Edges(starts, lengths, along, inward, turns < -TINY)
    owner, points, normals, weights, fan = _samples(edges, turns, spacing)
    radii, chords = _touching(points, normals, edges, reach)
    # The area between edge and middle: a strip at an edge, a sector in a fan.
    areas = weights * radii * np.where(fan, radii / 2, 1.0)
    return Thickness(
        2 * radii,
        np.where(fan, 0.0, weights),
        areas,
        tuple(int(i) for i in np.searchsorted(owner, firsts)),
        2 * radii[fan & (chords >= OPPOSITE * 2 * radii)],
    )


def _samples(
    edges: _Edges, turns: Numbers, spacing: float
) -> tuple[NDArray[np.intp], Points, Points, Numbers, NDArray[np.bool_]]:
    """Owner edge, point, inward normal, weight (length, or angle in a fan) and whether in a fan.

    A fan stands at a reflex corner, before the samples of the edge that starts there.
    """
    fans = np.ceil(np.maximum(-turns - TINY, 0) / FAN).astype(int)
    cells = np.where(edges.lengths < spacing, 1, np.ceil(edges.lengths / spacing) + 2).astype(int)
    each = fans + cells
    owner = np.repeat(np.arange(len(edges.starts)), each)
    index = np.arange(len(owner)) - np.repeat(np.cumsum(each) - each, each)
    fan = index < fans[owner]
    # Edge cells by cosine: fine where a corner makes the disc shrink.
    cell = index - fans[owner]
    low = (1 - np.cos(np.pi * cell / cells[owner])) / 2
    high = (1 - np.cos(np.pi * (cell + 1) / cells[owner])) / 2
    offset = np.where(fan, 0.0, (low + high) / 2 * edges.lengths[owner])
    points = edges.starts[owner] + edges.along[owner] * offset[:, None]
    # In a fan the normal turns from the previous edge's to this one's.
    share = (index + 0.5) / np.maximum(fans[owner], 1)
    angle = np.where(fan, -turns[owner] * (1 - share), 0.0)
    cos, sin = np.cos(angle), np.sin(angle)
    nx, ny = edges.inward[owner].T
    normals = np.column_stack((cos * nx - sin * ny, sin * nx + cos * ny))
    weights = np.where(
        fan, -turns[owner] / np.maximum(fans[owner], 1), (high - low) * edges.lengths[owner]
    )
    return owner, points, normals, weights, fan


def _touching(
    points: Points, normals: Points, edges: _Edges, reach: float
) -> tuple[Numbers, Numbers]:
    """Radius of the greatest disc inside that touches at each point, and its chord there.

    Discs wider than `reach` may come out too wide.
    """
    found = [
        _touching_all(points[i : i + CHUNK], normals[i : i + CHUNK], edges, reach)
        for i in range(0, len(points), CHUNK)
    ]
    radii, chords = zip(*found, strict=True)
    return np.concatenate(radii), np.concatenate(chords)


def _touching_all(
    points: Points, normals: Points, edges: _Edges, reach: float
) -> tuple[Numbers, Numbers]:
    close = edges.near(points, reach)
    radii, chords = _touching_edges(points, normals, close)
    corners = close.starts[close.reflex]
    if not len(corners):
        return radii, chords
    at_corners, across = _touching_corners(points, normals, corners)
    closer = at_corners < radii
    return np.where(closer, at_corners, radii), np.where(closer, across, chords)


def _touching_edges(points: Points, normals: Points, edges: _Edges) -> tuple[Numbers, Numbers]:
    """A disc of radius r at p + r n touches the line through a where m.(p - a) = r (1 - m.n).

    m is the line's inward normal; the touch counts if it falls on the edge.
    """
    height = points @ edges.inward.T - (edges.starts * edges.inward).sum(axis=1)
    facing = 1 - normals @ edges.inward.T
    ok = (height > TINY * edges.lengths.max()) & (facing > TINY)
    radius = np.where(ok, height, 0.0) / np.where(ok, facing, 1.0)
    foot = points @ edges.along.T - (edges.starts * edges.along).sum(axis=1)
    foot += radius * (normals @ edges.along.T)
    radius[~ok | (foot < 0) | (foot > edges.lengths)] = np.inf
    rows, best = np.arange(len(points)), radius.argmin(axis=1)
    radii = radius[rows, best]
    # The chord is 2 r sin(half the angle between the touches), and facing is 1 - its cosine.
    with np.errstate(invalid="ignore"):
        chords = radii * np.sqrt(np.maximum(2 * facing[rows, best], 0.0))
    return radii, np.nan_to_num(chords, nan=0.0, posinf=0.0)


def _touching_corners(points: Points, normals: Points, corners: Points) -> tuple[Numbers, Numbers]:
    """A disc of radius r at p + r n touches the corner v where |v - p|^2 = 2 r n.(v - p)."""
    dx = corners[:, 0] - points[:, :1]
    dy = corners[:, 1] - points[:, 1:]
    ahead = 2 * (normals[:, :1] * dx + normals[:, 1:] * dy)
    square = dx * dx + dy * dy
    ok = ahead > TINY * np.sqrt(square)
    radius = np.where(ok, square, np.inf) / np.where(ok, ahead, 1.0)
    rows, best = np.arange(len(points)), radius.argmin(axis=1)
    return radius[rows, best], np.sqrt(square[rows, best])
