"""Glyph outlines as paths, straight from fontTools and HarfBuzz, for tests of the geometry."""

from __future__ import annotations

from functools import cache
from pathlib import Path as File

import shapely
import uharfbuzz as hb
from fontTools.pens.basePen import BasePen

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Contour, Path, Segment
from proofgen.geometry.polygons import from_shapely, to_shapely

FONTS = File(__file__).parent.parent / "fonts"


class PathPen(BasePen):
    """Collects contours; HarfBuzz and fontTools both draw into it."""

    def __init__(self) -> None:
        super().__init__(None)
        self.contours: list[Contour] = []

    def _moveTo(self, point):  # noqa: N802 (fontTools names them)
        self.start, self.segments = point, list[Segment]()

    def _lineTo(self, point):  # noqa: N802
        self.segments.append((point,))

    def _curveToOne(self, *points):  # noqa: N802
        self.segments.append(points)

    def _qCurveToOne(self, *points):  # noqa: N802
        self.segments.append(points)

    def _closePath(self):  # noqa: N802
        self.contours.append(Contour(self.start, tuple(self.segments)))


@cache
def face(file: File) -> hb.Face:
    return hb.Face(hb.Blob.from_file_path(str(file)))


def glyph(file: File, letter: str, axes: dict[str, float] | None = None) -> Path:
    """A letter in thousandths of an em, y down; every axis at its default where not given."""
    font = hb.Font(face(file))
    every = {info.tag: info.default_value for info in face(file).axis_infos}
    if every:
        font.set_variations(every | (axes or {}))
    pen = PathPen()
    font.draw_glyph_with_pen(font.get_nominal_glyph(ord(letter)), pen)
    per_unit = 1000 / face(file).upem
    return Path(tuple(pen.contours)).moved(Affine.scale(per_unit, -per_unit))


def clipped(path: Path, left: float, top: float, right: float, bottom: float) -> Path:
    """What lies between these shares of the path's box."""
    box = path.bounds()
    window = shapely.box(
        box.left + left * box.width,
        box.top + top * box.height,
        box.left + right * box.width,
        box.top + bottom * box.height,
    )
    return from_shapely(to_shapely(path).intersection(window))
