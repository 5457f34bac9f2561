"""A sheet as DXF, by ezdxf: R2000, millimetres, y up, one DXF layer for each operation.

A contour of lines becomes a closed LWPOLYLINE, one with curves a SPLINE of degree 3 that is those
very Bézier curves (knots threefold where they join); a quadratic one is raised, which changes
nothing of it. DXF R2000 knows a table of 255 colours, so each group takes the nearest that is free.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

import ezdxf
from ezdxf import colors
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

from proofgen.geometry.path import Contour
from proofgen.production.steps import Plan
from proofgen.workshop.workshop import OPERATIONS, Colour, Workshop

Vertex = tuple[float, float, float]

MILLIMETRES = 4  # $INSUNITS, DXF Reference
# Characters that a layer's name may not hold in R2000.
FORBIDDEN = str.maketrans(dict.fromkeys('<>/\\":;?*|=`,', "-"))


def sheet_dxf(plan: Plan, workshop: Workshop, parts: str = "all") -> bytes:
    """The sheet's engraving ("engrave"), its cuts ("cut") or all of it, the same bytes each time.

    The origin is the sheet's lower left corner, for every part.
    """
    with _same_bytes():
        doc = ezdxf.new("R2000", units=MILLIMETRES)
        doc.header["$EXTMIN"], doc.header["$EXTMAX"] = (0, 0, 0), (plan.width, plan.height, 0)
        doc.header["$LIMMIN"], doc.header["$LIMMAX"] = (0, 0), (plan.width, plan.height)
        layers = _layers(doc, workshop)
        space = doc.modelspace()
        for step in plan.part(parts).steps:
            for contour in step.path.contours:
                _draw(space, contour, layers[step.operation], plan.height)
        out = io.StringIO()
        doc.write(out)
        return doc.encode(out.getvalue())


@contextmanager
def _same_bytes() -> Iterator[None]:
    """Meanwhile ezdxf puts in neither the time nor random numbers."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _layers(doc: Drawing, workshop: Workshop) -> dict[str, str]:
    """A layer for each operation, named and coloured as its group."""
    names: dict[str, str] = {}
    taken: list[int] = []
    for operation in OPERATIONS:
        group = workshop.group(operation)
        name = group.name.translate(FORBIDDEN).strip()
        alike = [other.casefold() for other in (*names.values(), "0", "defpoints", "")]
        names[operation] = f"{name} {operation}".strip() if name.casefold() in alike else name
        taken.append(_nearest(group.colour, taken))
        doc.layers.add(names[operation], color=taken[-1])
    return names


def _nearest(colour: Colour, taken: list[int]) -> int:
    """The free number of AutoCAD's colour table that is nearest; 7 is black or white at will."""

    def away(number: int) -> int:
        return sum((a - b) ** 2 for a, b in zip(colors.aci2rgb(number), colour, strict=True))

    return min((n for n in range(1, 255) if n != 7 and n not in taken), key=away)


def _draw(space: Modelspace, contour: Contour, layer: str, height: float) -> None:
    def up(point: tuple[float, float]) -> Vertex:
        return round(point[0], 6), round(height - point[1], 6), 0.0

    drawn = contour.drawn()
    said = {"layer": layer}
    if all(len(segment) == 1 for segment in drawn):
        ends = [contour.start, *(segment[0] for segment in drawn)]
        corners = ends[:-1] if contour.closed else ends
        space.add_lwpolyline([up(p)[:2] for p in corners], close=contour.closed, dxfattribs=said)
        return
    control = [up(contour.start)]
    for segment in drawn:
        control += _cubic(control[-1], [up(point) for point in segment])
    curves = len(drawn)
    knots = [0.0] * 4 + [float(k) for k in range(1, curves) for _ in range(3)] + [float(curves)] * 4
    spline = space.add_spline(degree=3, dxfattribs=said)
    spline.control_points, spline.knots = control, knots
    spline.set_flag_state(spline.CLOSED, contour.closed)


def _cubic(start: Vertex, points: list[Vertex]) -> list[Vertex]:
    """What a cubic curve adds to its start; the same curve as that of one or two points."""
    if len(points) == 3:
        return points
    end = points[-1]
    if len(points) == 1:
        return [_towards(start, end, 1 / 3), _towards(start, end, 2 / 3), end]
    return [_towards(start, points[0], 2 / 3), _towards(end, points[0], 2 / 3), end]


def _towards(a: Vertex, b: Vertex, share: float) -> Vertex:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, 0.0
