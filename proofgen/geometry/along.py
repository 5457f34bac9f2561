"""Places along a contour by their distance from its start, and the stretch between two of them."""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise

import numpy as np

from proofgen.geometry.affine import Point
from proofgen.geometry.curves import Points, points_on
from proofgen.geometry.path import Contour, Path, Segment

# Chords a curve is measured by; 64 keep the length of a quarter circle to 3e-5 of it.
CHORDS = 64


def length(path: Path) -> float:
    """Millimetres along all contours."""
    return sum(sum(_lengths(contour)) for contour in path.contours)


def places(contour: Contour, parts: int = 1) -> tuple[tuple[float, Point], ...]:
    """Where the segments of a closed contour begin, each with its distance from the start.

    Straight ones are divided into that many parts, and each part's beginning is among the places.
    """
    found: list[tuple[float, Point]] = []
    begun = 0.0
    for control, own in zip(_controls(contour), _lengths(contour), strict=True):
        (x, y), end = control[0], control[-1]
        shares = [i / parts for i in range(parts if len(control) == 2 else 1)]
        found += [(begun + t * own, (x + t * (end[0] - x), y + t * (end[1] - y))) for t in shares]
        begun += own
    return tuple(found)


def point_at(contour: Contour, distance: float) -> Point:
    """The place that far from the start, going round a closed contour as often as it takes."""
    lengths = _lengths(contour)
    index, rest = _place(lengths, distance % sum(lengths) if contour.closed else distance)
    control = _controls(contour)[index]
    x, y = points_on(np.array(control), np.array([[_parameter(control, rest)]]))[0]
    return float(x), float(y)


def corners(contour: Contour) -> tuple[tuple[Point, float], ...]:
    """Where one segment goes over into the next, and by how many degrees, 0 to 180, it turns there.

    The ends of an open contour are none. Segments without length are passed over.
    """
    drawn = [own for own in map(_distinct, _controls(contour)) if len(own) > 1]
    joints = zip(drawn, drawn[1:] + (drawn[:1] if contour.closed else []), strict=False)
    return tuple((after[0], _turn(before[-2:], after[:2])) for before, after in joints)


def _distinct(control: tuple[Point, ...]) -> tuple[Point, ...]:
    """Control points of which none is where the one before it is: they point along the curve."""
    apart = [b for a, b in pairwise(control) if math.dist(a, b) > 1e-6]
    return (control[0], *apart)


def _turn(before: tuple[Point, ...], after: tuple[Point, ...]) -> float:
    (ax, ay), (bx, by) = ((q[0] - p[0], q[1] - p[1]) for p, q in (before, after))
    return math.degrees(abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)))


def stretch(contour: Contour, begin: float, end: float) -> Contour:
    """The open contour from `begin` to `end` mm from the start, curves kept.

    Of a closed contour `end` may lie beyond its length: the stretch then goes on past the start.
    """
    lengths, controls = _lengths(contour), _controls(contour)
    around = sum(lengths)
    whole = int(begin // around) if contour.closed else 0
    begin, end = begin - whole * around, end - whole * around
    index, rest = _place(lengths, begin)
    at = begin - rest
    start: Point | None = None
    segments: list[Segment] = []
    while at < end - 1e-9 and (contour.closed or index < len(lengths)):
        own, control = lengths[index % len(lengths)], controls[index % len(lengths)]
        low, high = max(0.0, begin - at), min(own, end - at)
        if high - low > 1e-9:
            first = _parameter(control, low) if low > 0 else 0.0
            piece = _between(control, first, _parameter(control, high) if high < own else 1.0)
            start = piece[0] if start is None else start
            segments.append(piece[1:])
        at, index = at + own, index + 1
    return Contour(start or point_at(contour, begin), tuple(segments), closed=False)


def _controls(contour: Contour) -> list[tuple[Point, ...]]:
    drawn = contour.drawn()
    starts = (contour.start, *(segment[-1] for segment in drawn[:-1]))
    return [(start, *segment) for start, segment in zip(starts, drawn, strict=True)]


@lru_cache(maxsize=8192)
def _lengths(contour: Contour) -> tuple[float, ...]:
    """Millimetres of each drawn segment; curves of one degree are measured together."""
    controls = _controls(contour)
    found = np.zeros(len(controls))
    for degree in {len(control) for control in controls}:
        own = [i for i, control in enumerate(controls) if len(control) == degree]
        chords = _steps_along(np.array([controls[i] for i in own]))
        found[own] = chords.sum(axis=-1)
    return tuple(found.tolist())


def _steps_along(control: Points) -> Points:
    """The lengths of the chords of curves (n, degree + 1, 2); a line has one chord."""
    chords = 1 if control.shape[1] == 2 else CHORDS
    t = np.linspace(0, 1, chords + 1)[None, :, None]
    places = points_on(control[:, None], t)
    step = np.diff(places, axis=1)
    return np.asarray(np.hypot(step[..., 0], step[..., 1]))


def _place(lengths: tuple[float, ...], distance: float) -> tuple[int, float]:
    """The segment at that distance, and how far into it."""
    for index, own in enumerate(lengths):
        if distance < own or index == len(lengths) - 1:
            return index, min(distance, own)
        distance -= own
    return 0, 0.0


def _parameter(control: tuple[Point, ...], distance: float) -> float:
    """The parameter of a curve at that distance from its start."""
    if len(control) == 2:
        return distance / math.dist(*control)
    chords = _steps_along(np.array([control]))[0]
    sums = np.concatenate([[0.0], np.cumsum(chords)])
    return float(np.interp(distance, sums, np.linspace(0, 1, len(sums))))


def _between(control: tuple[Point, ...], low: float, high: float) -> tuple[Point, ...]:
    """The control points of the part of a Bézier curve between two parameters (de Casteljau)."""
    before = _split(control, high)[0] if high < 1 else control
    return _split(before, low / high)[1] if low > 0 else before


def _split(control: tuple[Point, ...], t: float) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    first, last, row = [control[0]], [control[-1]], list(control)
    while len(row) > 1:
        row = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for a, b in pairwise(row)]
        first.append(row[0])
        last.append(row[-1])
    return tuple(first), tuple(reversed(last))
