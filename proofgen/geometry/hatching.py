"""Areas as lines at a pitch: scan lines, or lines parallel to the outline.

A line engraves half a pitch to either side, so every point of the area is to lie that near to one.
Whatever the plain pattern leaves (narrow edges, the spine of a stroke) gets lines of its own.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.geometry.path import Contour, Path
from proofgen.geometry.polygons import from_line, from_shapely, polygons_of, to_shapely

# mm; finer than the dot that engraves.
FINE = 0.005
# A share of half the pitch that a point may lie farther from a line than that.
SLACK = 0.1
# In pitches: what is left uncovered in a corner is less than CORNER across or LONG from end to end;
# what is less than SLIVER across is the coarseness of round ends.
CORNER, LONG, SLIVER = 0.25, 1.5, 0.03
# mm; shorter lines engrave nothing.
SHORTEST = 0.02


def scan_lines(path: Path, pitch: float) -> Path:
    """Horizontal lines to and fro, and lines along edges that those leave out."""
    body = to_shapely(path, FINE)
    if body.is_empty:
        return Path()
    left, top, right, bottom = body.bounds
    heights = np.arange(top + pitch / 2, bottom, pitch)
    ends = np.array([[[left - 1, y], [right + 1, y]] for y in heights]).reshape(-1, 2, 2)
    rows = shapely.intersection(shapely.linestrings(ends), body)
    runs: list[LineString] = []
    for number, found in enumerate(rows):
        own = sorted(_lines(found), key=lambda line: line.coords[0][0])
        runs += [line.reverse() for line in reversed(own)] if number % 2 else own
    return Path(tuple(map(from_line, [*runs, *_mended(body, runs, pitch, (0.5, 0.25, 0.0))])))


def contour_lines(path: Path, pitch: float) -> Path:
    """Closed lines half a pitch inside the outline and then at every pitch, lines for the rest."""
    body = to_shapely(path, FINE)
    rings: list[Contour] = []
    lines: list[LineString] = []
    inner, level = shapely.buffer(body, -pitch / 2), 1
    while not inner.is_empty:
        inner = shapely.simplify(inner, FINE / 5)
        rings += from_shapely(inner).contours
        lines += _edges(inner)
        level += 1
        inner = shapely.buffer(inner, -pitch)
    levels = (*map(float, range(level, 0, -1)), 0.25, 0.0)
    return Path((*rings, *map(from_line, _mended(body, lines, pitch, levels))))


def uncovered(path: Path, lines: Path, pitch: float, slack: float = SLACK) -> Path:
    """The parts of the area that lie farther than pitch / 2 (1 + slack) from every line, corners
    aside: what is under a quarter of the pitch across and under one and a half long.
    """
    runs = [LineString(run) for run in lines.flatten(FINE) if len(run) > 1]
    return from_shapely(_left(to_shapely(path, FINE), runs, pitch, slack))


def _mended(
    body: BaseGeometry, lines: list[LineString], pitch: float, levels: tuple[float, ...]
) -> list[LineString]:
    """Further lines, at such depths (in pitches) inside the outline, where some are missing."""
    added: list[LineString] = []
    left = _left(body, lines, pitch, SLACK)
    for level in levels:
        if left.is_empty:
            break
        edges = _edges(shapely.buffer(body, -level * pitch) if level else body)
        near = shapely.buffer(left, pitch)
        kept = shapely.intersection(shapely.multilinestrings(edges), near) if edges else None
        own = [line for line in _lines(kept) if line.length >= SHORTEST]
        added += own
        left = _left(left, own, pitch, SLACK)
    return added


def _left(body: BaseGeometry, lines: list[LineString], pitch: float, slack: float) -> BaseGeometry:
    reach = pitch / 2 * (1 + slack)
    covered = shapely.union_all(shapely.buffer(np.array(lines, dtype=object), reach))
    rest = shapely.difference(body, covered)
    return MultiPolygon([part for part in polygons_of(rest) if _counts(part, pitch)])


def _counts(part: Polygon, pitch: float) -> bool:
    """Whether what is left is more than a corner: wide enough, or a sliver that is long."""
    across = SLIVER if part.length / 2 > LONG * pitch else CORNER
    return not shapely.buffer(part, -across * pitch / 2).is_empty


def _edges(geometry: BaseGeometry) -> list[LineString]:
    return [
        LineString(ring)
        for part in polygons_of(geometry)
        for ring in (part.exterior, *part.interiors)
    ]


def _lines(geometry: BaseGeometry | None) -> list[LineString]:
    if geometry is None:
        return []
    merged = shapely.line_merge(geometry) if geometry.geom_type == "MultiLineString" else geometry
    return [
        part for part in shapely.get_parts(merged) if part.geom_type == "LineString" and part.length
    ]
