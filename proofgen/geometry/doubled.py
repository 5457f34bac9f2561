"""Lines that are drawn twice, to be cut once."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.linework import NEAR, RUN
from proofgen.geometry.path import Contour, Path
from proofgen.geometry.polygons import TOLERANCE, from_line


def undoubled(contours: Sequence[Contour]) -> tuple[tuple[Contour, ...], ...]:
    """What is left of each contour once the lines of those before it are taken off.

    A contour that runs along no earlier one for more than 0.5 mm within 0.02 mm is left as it
    is; of the others the rest is open, straight-sided runs, and none where all has been drawn.
    """
    if len(contours) < 2:
        return tuple((contour,) for contour in contours)
    lines = [LineString(run) for run in Path(tuple(contours)).flatten(TOLERANCE)]
    tree = shapely.STRtree(lines)
    near = tree.query(lines, predicate="dwithin", distance=NEAR).T.tolist()
    before: dict[int, list[int]] = {}
    for one, other in near:
        if other < one:
            before.setdefault(one, []).append(other)
    return tuple(
        _rest(contour, lines[i], [lines[j] for j in before[i]]) if i in before else (contour,)
        for i, contour in enumerate(contours)
    )


def _rest(contour: Contour, line: LineString, drawn: list[LineString]) -> tuple[Contour, ...]:
    beside = shapely.union_all([other.buffer(NEAR, cap_style="flat") for other in drawn])
    if all(run.length <= RUN for run in _runs(line.intersection(beside))):
        return (contour,)
    return tuple(from_line(run) for run in _runs(line.difference(beside)) if run.length > RUN)


def _runs(geometry: BaseGeometry) -> list[LineString]:
    merged = shapely.line_merge(geometry) if geometry.geom_type == "MultiLineString" else geometry
    return [part for part in shapely.get_parts(merged) if part.geom_type == "LineString"]
