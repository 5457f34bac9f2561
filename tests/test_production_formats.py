"""SVG, DXF and PDF of one sheet, each read by a library that did not write it."""

from __future__ import annotations

import ctypes
import io
from collections import defaultdict
from dataclasses import replace
from functools import cache
from itertools import groupby

import ezdxf
import ezdxf.path
import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
import svgelements
from defusedxml.ElementTree import fromstring
from ezdxf import recover
from sheets import lone, nine, square, workshop

from proofgen.designs.design import Mark
from proofgen.geometry.path import circle
from proofgen.production.hatch import hatched
from proofgen.production.plan import MANNERS, plan
from proofgen.production.sheet_dxf import sheet_dxf
from proofgen.production.sheet_pdf import sheet_pdf
from proofgen.production.sheet_svg import sheet_svg
from proofgen.production.steps import Plan
from proofgen.workshop.workshop import OPERATIONS

MM_A_INCH, PX_A_INCH, POINTS_AN_INCH = 25.4, 96.0, 72.0  # CSS Values 3; PDF 32000-1
CUTS, ENGRAVINGS = set(OPERATIONS[2:]), set(OPERATIONS[:2])

# Of an operation: millimetres along its lines, square millimetres that they wind round, the box.
Measures = dict[str, tuple[float, float, list[float]]]


@cache
def sheet(manner: str = "piece") -> Plan:
    return plan(nine("lantern", "front", degrees=10), manner, workshop())


def measured(runs: dict[str, list[np.ndarray]]) -> Measures:
    """Areas by the even-odd rule: what lies in an odd number of others is a hole."""
    found: Measures = {}
    for operation, lines in runs.items():
        length = sum(np.hypot(*np.diff(line, axis=0).T).sum() for line in lines)
        closed = [shapely.Polygon(line) for line in lines if len(line) > 3]
        rings = np.array(closed, dtype=object)
        spots = shapely.get_point(shapely.get_exterior_ring(rings), 0)
        around = shapely.contains(rings[None, :], spots[:, None]).sum(axis=1)
        area = float((shapely.area(rings) * np.where(around % 2, -1, 1)).sum())
        points = np.concatenate(lines)
        box = [*points.min(axis=0), *points.max(axis=0)]
        found[operation] = (float(length), area, [float(n) for n in box])
    return found


def of_svg(text: str) -> Measures:
    read = svgelements.SVG.parse(io.StringIO(text))
    runs: dict[str, list[np.ndarray]] = defaultdict(list)
    for group in read.elements(lambda e: isinstance(e, svgelements.Group)):
        operation = group.values.get("data-operation")
        for path in (e for e in group if operation and isinstance(e, svgelements.Path)):
            for part in path.as_subpaths():
                drawn = [s for s in svgelements.Path(part) if not isinstance(s, svgelements.Move)]
                t = np.linspace(0, 1, 33)
                points = np.concatenate([_points(segment, t) for segment in drawn])
                runs[operation].append(points * MM_A_INCH / PX_A_INCH)
    return measured(runs)


def _points(segment, t: np.ndarray) -> np.ndarray:
    if isinstance(segment, svgelements.Line | svgelements.Close):
        return np.array([[*segment.start], [*segment.end]])
    return np.asarray(segment.npoint(t))


def of_dxf(data: bytes, height: float) -> Measures:
    doc = ezdxf.read(io.StringIO(data.decode("cp1252")))
    operations = {workshop().group(each).name: each for each in OPERATIONS}
    runs: dict[str, list[np.ndarray]] = defaultdict(list)
    for entity in doc.modelspace():
        path = ezdxf.path.make_path(entity)
        points = np.array([(p.x, height - p.y) for p in path.flattening(0.001, segments=16)])
        runs[operations[entity.dxf.layer]].append(points)
    return measured(runs)


def of_pdf(data: bytes, colours: dict[tuple[int, int, int], str]) -> Measures:
    page = pypdfium2.PdfDocument(data)[0]
    runs: dict[str, list[np.ndarray]] = defaultdict(list)
    for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        operation = colours[_colour(item)]
        matrix = item.get_matrix()
        for run in _pdf_runs(item.raw):
            points = np.array([matrix.on_point(x, y) for x, y in run])
            points[:, 1] = page.get_height() - points[:, 1]
            runs[operation].append(points * MM_A_INCH / POINTS_AN_INCH)
    return measured(runs)


def _colour(item) -> tuple[int, int, int]:
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    fill, stroke = ctypes.c_int(), ctypes.c_int()
    assert pdfium.FPDFPath_GetDrawMode(item.raw, fill, stroke)
    ask = pdfium.FPDFPageObj_GetStrokeColor if stroke else pdfium.FPDFPageObj_GetFillColor
    assert ask(item.raw, red, green, blue, alpha)
    return red.value, green.value, blue.value


def _pdf_runs(path) -> list[list[tuple[float, float]]]:
    runs: list[list[tuple[float, float]]] = []
    waiting: list[tuple[float, float]] = []
    for index in range(pdfium.FPDFPath_CountSegments(path)):
        segment = pdfium.FPDFPath_GetPathSegment(path, index)
        x, y = ctypes.c_float(), ctypes.c_float()
        assert pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        point = (x.value, y.value)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            runs.append([point])
        elif kind == pdfium.FPDF_SEGMENT_LINETO:
            runs[-1].append(point)
        else:
            waiting.append(point)
            if len(waiting) == 3:
                t = np.linspace(0, 1, 33)[1:, None]
                a, b, c, d = (np.array(p) for p in (runs[-1][-1], *waiting))
                curve = (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c
                runs[-1] += [tuple(p) for p in curve + t**3 * d]
                waiting = []
        if pdfium.FPDFPathSegment_GetClose(segment) and runs[-1][-1] != runs[-1][0]:
            runs[-1].append(runs[-1][0])
    return runs


def colours() -> dict[tuple[int, int, int], str]:
    return {workshop().group(each).colour: each for each in OPERATIONS}


def agree(one: Measures, other: Measures) -> None:
    assert one.keys() == other.keys()
    for operation, (length, area, box) in one.items():
        found = other[operation]
        assert found[0] == pytest.approx(length, rel=1e-3), operation
        assert found[1] == pytest.approx(area, rel=1e-3), operation
        assert found[2] == pytest.approx(box, abs=0.02), operation


def test_the_three_agree_in_lengths_areas_and_place():
    svg = of_svg(sheet_svg(sheet(), workshop()))
    assert svg.keys() == set(OPERATIONS)
    agree(svg, of_dxf(sheet_dxf(sheet(), workshop()), sheet().height))
    agree(svg, of_pdf(sheet_pdf(sheet(), workshop()), colours()))


def test_a_disc_has_the_size_it_has():
    """A disc of radius 10 by four cubic curves: area 3.142472 r² (derived)."""
    found = plan(lone(Mark("engrave-area", circle((50, 30), 10))), "piece", workshop())
    for read in (
        of_svg(sheet_svg(found, workshop())),
        of_dxf(sheet_dxf(found, workshop()), 100),
        of_pdf(sheet_pdf(found, workshop()), colours()),
    ):
        _, area, box = read["engrave-area"]
        assert area == pytest.approx(314.2472, rel=1e-3)
        assert box == pytest.approx([40, 20, 60, 40], abs=1e-3)


def test_dxf_passes_the_audit_of_ezdxf():
    doc, audit = recover.read(io.BytesIO(sheet_dxf(sheet(), workshop())))
    assert (audit.errors, audit.fixes) == ([], [])
    assert (doc.dxfversion, doc.units, doc.header["$INSUNITS"]) == ("AC1015", 4, 4)
    used = {entity.dxf.layer for entity in doc.modelspace()}
    assert used == {workshop().group(each).name for each in OPERATIONS}
    assert len({layer.color for layer in doc.layers if layer.dxf.name in used}) == 4
    assert {entity.dxftype() for entity in doc.modelspace()} == {"LWPOLYLINE", "SPLINE"}


def test_dxf_layers_stay_apart_whatever_the_groups_are_called():
    same = tuple(replace(group, name="cut/engrave") for group in workshop().groups)
    data = sheet_dxf(sheet(), replace(workshop(), groups=same))
    doc, audit = recover.read(io.BytesIO(data))
    assert (audit.errors, audit.fixes) == ([], [])
    assert len({entity.dxf.layer for entity in doc.modelspace()}) == 4


@pytest.mark.parametrize("part", ["engrave", "cut"])
def test_parts_share_one_origin(part):
    everything = of_svg(sheet_svg(sheet(), workshop()))
    wanted = ENGRAVINGS if part == "engrave" else CUTS
    own = {key: value for key, value in everything.items() if key in wanted}
    agree(own, of_svg(sheet_svg(sheet(), workshop(), part)))
    agree(own, of_dxf(sheet_dxf(sheet(), workshop(), part), sheet().height))
    agree(own, of_pdf(sheet_pdf(sheet(), workshop(), part), colours()))
    sizes = {fromstring(sheet_svg(sheet(), workshop(), p)).get("viewBox") for p in ("all", part)}
    assert len(sizes) == 1


@pytest.mark.parametrize("manner", MANNERS)
def test_groups_run_as_the_plan_does(manner):
    found = sheet(manner)
    root = fromstring(sheet_svg(found, workshop()))
    groups = [group.get("data-operation") for group in root]
    assert groups == [key for key, _ in groupby(step.operation for step in found.steps)]
    assert len(groups) == (36 if manner == "piece" else 4)
    labels = [path.get("data-piece") for group in root for path in group]
    assert labels == [found.pieces[step.piece].label for step in found.steps]


def test_nothing_is_cut_but_what_lies_on_the_sheet():
    """No border, no outline of the sheet: of every operation as many contours as are laid."""
    (layer,) = {laid.layer for laid in nine("lantern", "front").laid}
    root = fromstring(sheet_svg(sheet(), workshop()))
    for operation in CUTS:
        drawn = sum(len(m.path.contours) for m in layer.marks if m.operation == operation)
        groups = (g for g in root if g.get("data-operation") == operation)
        assert sum(len(group) for group in groups) == 9 * drawn
    doc = ezdxf.read(io.StringIO(sheet_dxf(sheet(), workshop()).decode("cp1252")))
    assert len(doc.modelspace()) == sum(len(step.path.contours) for step in sheet().steps)


def test_two_runs_give_the_same_bytes():
    again = plan(nine("lantern", "front", degrees=10), "piece", workshop())
    for write in (sheet_svg, sheet_dxf, sheet_pdf):
        assert write(again, workshop()) == write(sheet(), workshop())


def test_hatched_areas_are_lines():
    """40 mm² at 0.5 mm are 80 mm of lines, and a little more for edges."""
    area = lone(Mark("engrave-area", square(10, 10, 4)), Mark("engrave-area", square(20, 10, 5)))
    found = plan(area, "piece", workshop())
    for manner in ("scan", "contour"):
        lines = hatched(found, manner, 0.5)
        root = fromstring(sheet_svg(lines, workshop()))
        assert {group.get("fill") for group in root} == {"none"}
        length, _, box = of_svg(sheet_svg(lines, workshop()))["engrave-area"]
        assert length == pytest.approx((16 + 25) / 0.5, rel=0.2)
        assert box[0] >= 9.99 and box[2] <= 25.01
