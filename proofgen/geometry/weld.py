"""Union and difference of outlines, curves kept, by skia-pathops: the one file that knows it."""

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
    frame = _Frame(contours := _closed(*paths))
    return frame.drawn(frame.skia(contours)) if contours else Path()


def grown(path: Path, by: float) -> Path:
    """The outline with a border of width `by` welded on, or taken off where it is negative."""
    frame = _Frame(contours := _closed(path), abs(by))
    skia = frame.skia(contours)
    edge = pathops.Path(skia)
    width = 2 * abs(by) * frame.scale
    edge.stroke(width, pathops.LineCap.ROUND_CAP, pathops.LineJoin.ROUND_JOIN, 4)
    edge.convertConicsToQuads()
    how = pathops.PathOp.UNION if by > 0 else pathops.PathOp.DIFFERENCE
    return frame.drawn(pathops.op(skia, edge, how))


def together(path: Path, other: Path) -> Path:
    """What either fills, each by the nonzero rule for itself."""
    first, second = _closed(path), _closed(other)
    frame = _Frame([*first, *second])
    return frame.drawn(pathops.op(frame.skia(first), frame.skia(second), pathops.PathOp.UNION))


def without(path: Path, other: Path) -> Path:
    """What the first fills and the second does not."""
    first, second = _closed(path), _closed(other)
    frame = _Frame([*first, *second])
    return frame.drawn(pathops.op(frame.skia(first), frame.skia(second), pathops.PathOp.DIFFERENCE))


class _Frame:
    """Moves and scales contours to skia's numbers and back."""

    def __init__(self, contours: list[Contour], margin: float = 0.0) -> None:
        left, top, right, bottom = _corners(contours) if contours else (0.0, 0.0, 1.0, 1.0)
        self.scale = SPAN / max(right - left + 2 * margin, bottom - top + 2 * margin, 1e-9)
        self._x, self._y = (left + right) / 2, (top + bottom) / 2

    def skia(self, contours: list[Contour]) -> pathops.Path:
        skia = pathops.Path(fillType=pathops.FillType.WINDING)
        for contour in contours:
            _draw(skia, contour, self.scale, self._x, self._y)
        skia.simplify(fix_winding=True)
        return skia

    def drawn(self, skia: pathops.Path) -> Path:
        """What is simple already, as it is."""
        skia.convertConicsToQuads()
        found = _contours(skia, self.scale, self._x, self._y)
        return Path(tuple(sorted(found, key=_place)))


def _closed(*paths: Path) -> list[Contour]:
    return [c for path in paths for c in path.contours if c.closed and c.segments]


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
