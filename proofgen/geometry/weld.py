"""Union of outlines with curves kept as curves, by skia-pathops: the one file that knows it."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

import pathops

from proofgen.geometry.path import Contour, Path, Segment

# skia computes in float32, about 7 digits: the drawing is moved and scaled so that its
# longer side spans this many units, whatever its own size and place.
SPAN = 1024.0


def weld(paths: Iterable[Path]) -> Path:
    """What the paths fill together by the nonzero rule, as contours that do not overlap.

    Lines, quadratic and cubic curves stay what they are. Holes are wound against their
    outer contours; contours are in order of the top, then the left of their control points.
    Open contours are left out.
    """
    closed = [c for path in paths for c in path.contours if c.closed and c.segments]
    if not closed:
        return Path()
    left, top, right, bottom = _corners(closed)
    scale = SPAN / max(right - left, bottom - top, 1e-9)
    x, y = (left + right) / 2, (top + bottom) / 2
    skia = pathops.Path(fillType=pathops.FillType.WINDING)
    for contour in closed:
        _draw(skia, contour, scale, x, y)
    skia.simplify(fix_winding=True)
    skia.convertConicsToQuads()
    return Path(tuple(sorted(_contours(skia, scale, x, y), key=_place)))


def _draw(skia: pathops.Path, contour: Contour, scale: float, x: float, y: float) -> None:
    add = (skia.lineTo, skia.quadTo, skia.cubicTo)
    skia.moveTo((contour.start[0] - x) * scale, (contour.start[1] - y) * scale)
    for segment in contour.segments:
        numbers = [n for px, py in segment for n in ((px - x) * scale, (py - y) * scale)]
        add[len(segment) - 1](*numbers)
    skia.close()


def _contours(skia: pathops.Path, scale: float, x: float, y: float) -> Iterable[Contour]:
    """Contours from the raw verbs; `segments` would drop the start of an all-curve contour."""
    start = (0.0, 0.0)
    segments: list[Segment] = []
    for verb, points in skia:
        moved = tuple((px / scale + x, py / scale + y) for px, py in points)
        if verb == pathops.PathVerb.MOVE:
            start, segments = moved[0], []
        elif verb == pathops.PathVerb.CLOSE:
            if segments:
                yield Contour(start, tuple(segments))
        else:
            segments.append(moved)


def _place(contour: Contour) -> tuple[float, float, float, float]:
    left, top, right, bottom = _corners([contour])
    return top, left, bottom, right


def _corners(contours: Iterable[Contour]) -> tuple[float, float, float, float]:
    """Least and greatest x and y of starts, ends and control points; quicker than true bounds."""
    points = [p for c in contours for p in (c.start, *chain.from_iterable(c.segments))]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
