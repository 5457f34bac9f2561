"""Outlines made of lines, quadratic and cubic Bézier curves."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property, lru_cache
from itertools import chain, islice

import numpy as np
from numpy.typing import ArrayLike

from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.curves import Points as Points
from proofgen.geometry.outline import Outline, mapped
from proofgen.geometry.rect import Rect
from proofgen.geometry.rows import box, flattened, rows

# What a segment adds to the current point: its control points, then its end.
# One point is a line, two a quadratic curve, three a cubic one.
Segment = tuple[Point, ...]
LINE = b"\x01"


class Contour(Outline):
    """One run of segments; a closed one returns to its start by a line if it ends elsewhere.

    Its points (n, 2) are the start, then those of each segment.
    """

    def __init__(self, start: Point, segments: Iterable[Segment], closed: bool = True) -> None:
        segments = tuple(segments)
        points = np.array([start, *chain.from_iterable(segments)], dtype=np.float64)
        self._hold(points, ((bytes(map(len, segments)), closed),))

    @classmethod
    def through(cls, points: ArrayLike, closed: bool = True) -> Contour:
        """Straight lines from each point (n, 2) to the next."""
        own = np.array(points, dtype=np.float64)
        return cls.of(own, ((LINE * (len(own) - 1), closed),))

    def __repr__(self) -> str:
        return f"Contour(start={self.start}, segments={self.segments}, closed={self.closed})"

    @property
    def degrees(self) -> bytes:
        """How many points each segment has."""
        return self.kinds[0][0]

    @property
    def closed(self) -> bool:
        """Whether it encloses something."""
        return self.kinds[0][1]

    @cached_property
    def start(self) -> Point:
        """Where it begins."""
        x, y = self.points[0].tolist()
        return x, y

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """Of each segment the control points and the end."""
        given = iter([(x, y) for x, y in self.points[1:].tolist()])
        return tuple([tuple(islice(given, degree)) for degree in self.degrees])

    def reversed(self) -> Contour:
        """The same contour walked the other way."""
        return Contour.of(self.points[::-1], ((self.degrees[::-1], self.closed),))

    def flatten(self, tolerance: float) -> Points:
        """Points (n, 2) of a polyline within `tolerance`; a closed one ends at its start."""
        return Path((self,)).flatten(tolerance)[0]

    def drawn(self) -> tuple[Segment, ...]:
        """The segments, with the line that closes them where one is needed."""
        if self.closed and self.segments and self.segments[-1][-1] != self.start:
            return (*self.segments, (self.start,))
        return self.segments


class Path(Outline):
    """Contours that are filled together by the nonzero rule.

    Its points (n, 2) are those of all contours, in their order.
    """

    def __init__(self, contours: Iterable[Contour] = ()) -> None:
        contours = tuple(contours)
        kinds = tuple([contour.kinds[0] for contour in contours])
        self._hold(_together([contour.points for contour in contours]), kinds)
        self.__dict__["contours"] = contours

    def __repr__(self) -> str:
        return f"Path(contours={self.contours})"

    def __bool__(self) -> bool:
        return bool(self.kinds)

    @cached_property
    def contours(self) -> tuple[Contour, ...]:
        """Each for itself."""
        at = rows(self.kinds)
        spans = zip(at.starts.tolist(), at.last.tolist(), self.kinds, strict=True)
        return tuple([Contour.of(self.points[a : b + 1], (kind,)) for a, b, kind in spans])

    def flatten(self, tolerance: float) -> tuple[Points, ...]:
        """One polyline (n, 2) a contour, within `tolerance` of the curves."""
        return _flat(self, tolerance)

    def bounds(self) -> Rect:
        """The tight box round the drawn outline; ValueError for an empty path."""
        return Rect(*box(self.points, self.kinds))


def join(paths: Iterable[Path]) -> Path:
    """All contours of several paths as one path; nothing is welded."""
    paths = [path for path in paths if path]
    if len(paths) == 1:
        return paths[0]
    kinds = tuple(chain.from_iterable([path.kinds for path in paths]))
    return Path.of(_together([path.points for path in paths]), kinds)


def placed(parts: Iterable[tuple[Path, Affine]]) -> Path:
    """Several paths as one, each under a map of its own."""
    parts = [(path, at) for path, at in parts if path]
    if not parts:
        return Path()
    whole = join(path for path, _ in parts)
    maps = np.array([(at.a, at.b, at.c, at.d, at.e, at.f) for _, at in parts])
    each = np.repeat(maps.T, [len(path.points) for path, _ in parts], axis=1)
    return Path.of(mapped(whole.points, *each), whole.kinds)


def polygon(points: Iterable[Point]) -> Path:
    """A closed path of straight lines."""
    return Path((Contour.through(list(points)),))


def circle(centre: Point, radius: float) -> Path:
    """A circle as four cubic curves; radial error at most 2.8e-4 of the radius."""
    x, y = centre
    k = 0.5522847 * radius
    r = radius
    segments = (
        ((x + r, y + k), (x + k, y + r), (x, y + r)),
        ((x - k, y + r), (x - r, y + k), (x - r, y)),
        ((x - r, y - k), (x - k, y - r), (x, y - r)),
        ((x + k, y - r), (x + r, y - k), (x + r, y)),
    )
    return Path((Contour((x + r, y), segments),))


# An outline is measured and drawn in several ways one after the other.
@lru_cache(maxsize=64)
def _flat(path: Path, tolerance: float) -> tuple[Points, ...]:
    return flattened(path.points, path.kinds, tolerance)


def _together(runs: list[Points]) -> Points:
    if len(runs) == 1:
        return runs[0]
    return np.concatenate(runs) if runs else np.empty((0, 2))
