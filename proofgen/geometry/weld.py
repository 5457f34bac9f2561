"""Union and difference of outlines, curves kept, by skia-pathops: the one file that knows it."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pathops

from proofgen.geometry.path import Contour, Path, Points, join

# skia computes in float32, about 7 digits: the drawing is moved and scaled so that its
# longer side spans this many units, whatever its own size and place.
SPAN = 1024.0
# A contour as skia has it, and the degrees of its segments.
MOVE, CLOSE = bytes([pathops.PathVerb.MOVE]), bytes([pathops.PathVerb.CLOSE])
DRAWN = bytes([pathops.PathVerb.LINE, pathops.PathVerb.QUAD, pathops.PathVerb.CUBIC])
DEGREES = bytes.maketrans(DRAWN, bytes([1, 2, 3]))


def weld(paths: Iterable[Path]) -> Path:
    """What the paths fill together by the nonzero rule, as contours that do not overlap.

    Lines, quadratic and cubic curves stay what they are. Holes are wound against their
    outer contours; contours are in order of the top, then the left of their control points.
    Open contours are left out.
    """
    frame = _Frame(closed := _closed(paths))
    return frame.drawn(frame.simple(closed)) if closed else Path()


def grown(path: Path, by: float) -> Path:
    """The outline with a border of width `by` welded on, or taken off where it is negative."""
    frame = _Frame(closed := _closed([path]), abs(by))
    skia = frame.simple(closed)
    edge = pathops.Path(skia)
    width = 2 * abs(by) * frame.scale
    edge.stroke(width, pathops.LineCap.ROUND_CAP, pathops.LineJoin.ROUND_JOIN, 4)
    edge.convertConicsToQuads()
    how = pathops.PathOp.UNION if by > 0 else pathops.PathOp.DIFFERENCE
    return frame.drawn(pathops.op(skia, edge, how))


def together(path: Path, other: Path) -> Path:
    """What either fills, each by the nonzero rule for itself."""
    first, second = _closed([path]), _closed([other])
    frame = _Frame(join([first, second]))
    return frame.drawn(pathops.op(frame.skia(first), frame.skia(second), pathops.PathOp.UNION))


def without(path: Path, other: Path) -> Path:
    """What the first fills and the second does not."""
    first, second = _closed([path]), _closed([other])
    frame = _Frame(join([first, second]))
    return frame.drawn(pathops.op(frame.skia(first), frame.skia(second), pathops.PathOp.DIFFERENCE))


class _Frame:
    """Moves and scales outlines to skia's numbers and back."""

    def __init__(self, path: Path, margin: float = 0.0) -> None:
        points = path.points if path else np.array([[0.0, 0.0], [1.0, 1.0]])
        low, high = points.min(axis=0), points.max(axis=0)
        self.scale = SPAN / max(*(high - low + 2 * margin).tolist(), 1e-9)
        self._middle = (low + high) / 2

    def skia(self, path: Path) -> pathops.Path:
        skia = pathops.Path(fillType=pathops.FillType.WINDING)
        add = (skia.lineTo, skia.quadTo, skia.cubicTo)
        numbers = ((path.points - self._middle) * self.scale).ravel().tolist()
        at = 0
        for degrees, _ in path.kinds:
            skia.moveTo(*numbers[at : at + 2])
            at += 2
            for degree in degrees:
                add[degree - 1](*numbers[at : at + 2 * degree])
                at += 2 * degree
            skia.close()
        return skia

    def simple(self, path: Path) -> pathops.Path:
        """What the path fills, as contours that do not overlap."""
        skia = self.skia(path)
        skia.simplify(fix_winding=True)
        return skia

    def drawn(self, skia: pathops.Path) -> Path:
        """What is simple already, as it is."""
        skia.convertConicsToQuads()
        points = np.array(list(skia.points)).reshape(-1, 2) / self.scale + self._middle
        return _sorted(list(_contours(points, bytes(skia.verbs))))


def _closed(paths: Iterable[Path]) -> Path:
    whole = join(paths)
    if all(closed and degrees for degrees, closed in whole.kinds):
        return whole
    return Path(each for each in whole.contours if each.closed and each.degrees)


def _contours(points: Points, verbs: bytes) -> Iterable[Contour]:
    """Contours from the raw verbs; `segments` would drop the start of an all-curve contour."""
    begin = 0
    for run in verbs.split(MOVE)[1:]:
        degrees = run.translate(DEGREES, CLOSE)
        end = begin + 1 + sum(degrees)
        if degrees and run.endswith(CLOSE):
            yield Contour.of(points[begin:end], ((degrees, True),))
        begin = end


def _sorted(contours: list[Contour]) -> Path:
    """By least and greatest x and y of starts, ends and control points; quicker than bounds."""
    if len(contours) < 2:
        return Path(contours)
    points = np.concatenate([each.points for each in contours])
    starts = np.cumsum([0, *(len(each.points) for each in contours[:-1])])
    left, top = np.minimum.reduceat(points, starts).T
    right, bottom = np.maximum.reduceat(points, starts).T
    return Path(contours[i] for i in np.lexsort((right, bottom, left, top)))
