"""Contours as entities of a DXF file, written out here: one at a time by ezdxf takes five times as
long.

A contour of lines becomes an LWPOLYLINE, one with curves a SPLINE of degree 3 that is those very
Bézier curves (knots threefold where they join); a quadratic one is raised, which changes nothing of
it. Group codes are those of the DXF Reference for R2000, checked by reading with ezdxf.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Segment

CLOSED, PLANAR = 1, 8  # bits of group 70
CORNER = "10\n%.5f\n20\n%.5f\n"
CONTROL = "10\n%.5f\n20\n%.5f\n30\n0.0\n"


def entity(contour: Contour, layer: str, height: float, handle: int, owner: str) -> str:
    """The contour in the modelspace `owner`, y turned upwards on a sheet of that height in mm."""
    drawn = contour.drawn()
    curved = any(len(segment) > 1 for segment in drawn)
    kind, body = ("SPLINE", _spline) if curved else ("LWPOLYLINE", _polyline)
    head = f"0\n{kind}\n5\n{handle:X}\n330\n{owner}\n100\nAcDbEntity\n8\n{layer}\n"
    return head + body(contour, drawn, height)


def _polyline(contour: Contour, drawn: Sequence[Segment], height: float) -> str:
    ends = [contour.start, *(segment[0] for segment in drawn)]
    corners = ends[:-1] if contour.closed else ends
    head = f"100\nAcDbPolyline\n90\n{len(corners)}\n70\n{CLOSED * contour.closed}\n"
    return head + _points(CORNER, corners, height)


def _spline(contour: Contour, drawn: Sequence[Segment], height: float) -> str:
    control = [contour.start]
    for segment in drawn:
        control += segment if len(segment) == 3 else _cubic(control[-1], segment)
    knots = _knots(len(drawn))
    head = (
        f"100\nAcDbSpline\n70\n{PLANAR + CLOSED * contour.closed}\n71\n3\n"
        f"72\n{3 * len(drawn) + 5}\n73\n{len(control)}\n74\n0\n"
    )
    return head + knots + _points(CONTROL, control, height)


@lru_cache(maxsize=1024)
def _knots(curves: int) -> str:
    inner = (k for k in range(1, curves) for _ in range(3))
    return "".join(f"40\n{k}.0\n" for k in (*(0,) * 4, *inner, *(curves,) * 4))


def _points(form: str, points: Sequence[Point], height: float) -> str:
    return form * len(points) % tuple([n for x, y in points for n in (x, height - y)])


def _cubic(start: Point, points: Segment) -> Segment:
    """What a cubic curve adds to its start; the same curve as that of one or two points."""
    end = points[-1]
    if len(points) == 1:
        return _towards(start, end, 1 / 3), _towards(start, end, 2 / 3), end
    return _towards(start, points[0], 2 / 3), _towards(end, points[0], 2 / 3), end


def _towards(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
