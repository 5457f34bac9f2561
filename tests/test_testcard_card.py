"""The test card measured again from its own SVG, by other libraries than those that drew it."""

from __future__ import annotations

import io
from collections import defaultdict
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import numpy as np
import pytest
import resvg_py
import shapely
import svgelements
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from proofgen.day.shop import NOWHERE, open_bench
from proofgen.production.svg import drawing, path_data
from proofgen.resources import folder
from proofgen.testcard.card import Card, test_card as card_of
from proofgen.testcard.letters import Label
from proofgen.testcard.series import SERIES
from proofgen.workshop.read import load

WORKSHOP = load(None)
NEAR = 0.001  # mm
OUTSIDE = "cut-outside"
SVG = "{http://www.w3.org/2000/svg}"
Mark = tuple[str, svgelements.Path]  # what is done, and along what


@cache
def card() -> Card:
    return card_of(WORKSHOP.material("birch-3"), open_bench(NOWHERE))


@cache
def svg() -> str:
    return drawing("card", card().size, card().layer, WORKSHOP)


@cache
def marks() -> dict[str, list[Mark]]:
    """Of each field what is done along which paths, in the file's order."""
    found: dict[str, list[Mark]] = defaultdict(list)
    for group in ElementTree.fromstring(svg()).iter(f"{SVG}g"):
        for path in group:
            mark = (group.get("data-operation", ""), svgelements.Path(path.get("d")))
            found[group.get("data-field", "")].append(mark)
    return found


def areas(field: str) -> list[shapely.Polygon]:
    """Straight-sided areas of a field from left to right, holes cut out of what is round them."""
    found = [_area(path) for _, path in marks()[field]]
    return sorted(found, key=lambda area: area.bounds[0])


def _area(path: svgelements.Path) -> shapely.Geometry:
    first, *others = _rings(path)
    for ring in others:
        first = first.symmetric_difference(ring)
    return first


def _rings(path: svgelements.Path) -> list[shapely.Polygon]:
    """What each contour of straight lines encloses."""
    parts = map(svgelements.Path, path.as_subpaths())
    return [shapely.Polygon([(s.end.x, s.end.y) for s in part]) for part in parts]


def numbers(series: str) -> list[float]:
    """The numbers written by a series, from left to right."""
    own = [label for label in card().labels if label.series == series]
    return [float(label.text) for label in sorted(own, key=lambda label: label.at[0])]


def across(area: shapely.Geometry, y: float) -> list[float]:
    """The lengths of a level line at y within an area, from left to right."""
    left, _, right, _ = area.bounds
    found = area.intersection(shapely.LineString([(left - 1, y), (right + 1, y)]))
    parts = [part for part in shapely.get_parts(found) if part.length > 0]
    return [part.length for part in sorted(parts, key=lambda part: part.bounds[0])]


def turned(area: shapely.Geometry) -> shapely.Geometry:
    return shapely.transform(area, lambda points: points[:, ::-1])


def test_a_unit_is_a_millimetre() -> None:
    root = ElementTree.fromstring(svg())
    width, height = card().size
    assert (root.get("width"), root.get("height")) == (f"{width:g}mm", f"{height:g}mm")
    assert root.get("viewBox") == f"0 0 {width:g} {height:g}"
    ((operation, path),) = marks()["card"]
    assert operation == OUTSIDE
    assert path.bbox() == (0, 0, width, height)


def test_strokes_are_as_wide_as_it_says_both_ways() -> None:
    strokes, said = areas("stroke"), numbers("stroke")
    middles = [(area.bounds[1] + area.bounds[3]) / 2 for area in strokes]
    upright = [across(area, y) for area, y in zip(strokes, middles, strict=True)]
    level = [across(turned(area), area.bounds[2] - 1) for area in strokes]
    assert upright == [pytest.approx([each], abs=NEAR) for each in said]
    assert level == [pytest.approx([each], abs=NEAR) for each in said]


def test_gaps_are_as_wide_as_it_says_both_ways() -> None:
    said = numbers("gap")
    for area, number in zip(areas("gap"), said, strict=True):
        left, top, right, bottom = area.bounds
        blank = shapely.box(left, top, right, bottom).difference(area)
        assert across(blank, (top + bottom) / 2) == pytest.approx([number], abs=NEAR)
        assert across(turned(blank), blank.bounds[2] - 0.5) == pytest.approx([number], abs=NEAR)
        # No other gap is as narrow: what is engraved round it comes out whole.
        assert blank.distance(area.boundary) == 0.0
        assert min(blank.bounds[0] - left, right - blank.bounds[2]) >= 1.0


def test_webs_are_as_wide_as_it_says() -> None:
    found = [shapely.MultiPolygon(_rings(path)) for _, path in marks()["web"]]
    found.sort(key=lambda pair: pair.bounds[0])
    webs = [pair.geoms[0].distance(pair.geoms[1]) for pair in found]
    assert webs == pytest.approx(numbers("web"), abs=NEAR)
    # The wood to the next pair is wider than any web that is tried.
    between = [a.distance(b) for a, b in pairwise(found)]
    assert min(between) > 1.0


def test_fingers_are_as_wide_as_it_says() -> None:
    (window,) = areas("standing")
    left, top, right, bottom = window.bounds
    wood = shapely.box(left, top, right, bottom).difference(window)
    assert across(wood, bottom - 2) == pytest.approx(numbers("standing"), abs=NEAR)
    # Each is held at its foot and free elsewhere.
    fingers = shapely.get_parts(wood)
    assert all(finger.bounds[3] == bottom and finger.bounds[1] > top + 1 for finger in fingers)


def test_openings_are_as_wide_as_it_says() -> None:
    found = [area.bounds[2] - area.bounds[0] for area in areas("opening")]
    assert found == pytest.approx(numbers("opening"), abs=NEAR)
    assert all(shapely.box(*area.bounds).equals(area) for area in areas("opening"))


def test_holes_are_round_and_as_wide_as_it_says() -> None:
    boxes = sorted(path.bbox() for _, path in marks()["hole"])
    wide = [right - left for left, _, right, _ in boxes]
    tall = [bottom - top for _, top, _, bottom in boxes]
    assert wide == pytest.approx(numbers("hole"), abs=NEAR)
    assert tall == pytest.approx(numbers("hole"), abs=NEAR)
    for _, path in marks()["hole"]:
        left, top, right, bottom = path.bbox()
        middle, radius = np.array([left + right, top + bottom]) / 2, (right - left) / 2
        points = np.array([(p.x, p.y) for p in map(path.point, np.linspace(0, 1, 101))])
        assert np.abs(np.hypot(*(points - middle).T) - radius).max() < NEAR


def test_distances_to_the_edge_are_as_it_says() -> None:
    edge = card().size[1]
    holes = sorted(path.bbox() for _, path in marks()["hole-to-edge"])
    assert [edge - box[3] for box in holes] == pytest.approx(numbers("hole-to-edge"), abs=NEAR)
    patches = [edge - area.bounds[3] for area in areas("engraving-to-cut")]
    assert patches == pytest.approx(numbers("engraving-to-cut"), abs=NEAR)


def test_the_kerf_comb_is_as_it_says() -> None:
    title = next(label.text for label in card().labels if label.text.startswith("kerf"))
    count, pitch, whole, cuts = (
        float(word) for word in title.replace(":", "").split() if word[0].isdigit()
    )
    lines, outline = (path for _, path in marks()["kerf"])
    boxes = [part.bbox() for part in lines.as_subpaths()]
    left, top, right, bottom = outline.bbox()
    # Each line parts the lot from its upper side to its lower one, and is cut once.
    assert all(box[0] == box[2] and (box[1], box[3]) == (top, bottom) for box in boxes)
    ends = sorted((left, *(box[0] for box in boxes), right))
    assert np.diff(ends) == pytest.approx([pitch] * int(count), abs=NEAR)
    assert right - left == pytest.approx(whole, abs=NEAR)
    assert cuts == count


def test_engraving_comes_first_and_the_outline_last() -> None:
    order = [group.get("data-operation") for group in ElementTree.fromstring(svg()).iter(f"{SVG}g")]
    known = ["engrave-area", "cut-inside", OUTSIDE]
    assert order == sorted(order, key=known.index)
    assert set(order) == set(known)
    assert order.count(OUTSIDE) == 1


def test_nothing_comes_too_near_to_anything_else() -> None:
    """A millimetre between cuts and what is written, or the numbers go with the waste."""
    cuts = [
        _lines(path) for field, own in marks().items() for op, path in own if op == "cut-inside"
    ]
    written = [_lines(path) for _, path in marks()["writing"]]
    assert min(a.distance(b) for a in cuts for b in written) > 1.0
    body = shapely.box(0, 0, *card().size)
    assert all(body.contains(line) for line in (*cuts, *written))


def _lines(path: svgelements.Path) -> shapely.MultiLineString:
    """The path by chords, curves in eight."""
    runs = []
    for part in path.as_subpaths():
        points = [
            (p.x, p.y)
            for segment in svgelements.Path(part)
            if not isinstance(segment, svgelements.Move)
            for p in map(segment.point, np.linspace(0, 1, 9))
        ]
        runs.append(points)
    return shapely.MultiLineString(runs)


@pytest.mark.parametrize("series", [series.id for series in SERIES if not series.row])
def test_numbers_are_written_as_they_read(series: str) -> None:
    """The outlines engraved beside the marks against FreeType's picture of the same number."""
    own = [label for label in card().labels if label.series == series]
    texts = {label.text for label in own}
    for label in own:
        assert path_data(label.outline) in svg()
        likeness = {text: _alike(_drawn(label), _by_freetype(text)) for text in texts}
        assert max(likeness, key=likeness.__getitem__) == label.text
        assert likeness[label.text] > 0.9
    assert len(texts) == len(own)


def _drawn(label: Label) -> NDArray[np.bool_]:
    box = label.outline.bounds()
    made = (
        '<svg xmlns="http://www.w3.org/2000/svg" '
        f'width="{round(box.width * 60)}" height="{round(box.height * 60)}" '
        f'viewBox="{box.left} {box.top} {box.width} {box.height}">'
        f'<path d="{path_data(label.outline)}"/></svg>'
    )
    picture = Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=made))))
    return _cropped(np.asarray(picture)[..., 3] > 127)


@cache
def _by_freetype(text: str) -> NDArray[np.bool_]:
    font = ImageFont.truetype(folder("fonts") / "Nunito-wght.ttf", 190)
    font.set_variation_by_axes([800])
    picture = Image.new("L", (900, 300))
    ImageDraw.Draw(picture).text((30, 30), text, 255, font)
    return _cropped(np.asarray(picture) > 127)


def _cropped(ink: NDArray[np.bool_]) -> NDArray[np.bool_]:
    rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
    return ink[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


def _alike(one: NDArray[np.bool_], other: NDArray[np.bool_]) -> float:
    """The share of ink in common, the second picture at the first one's height; 0 where one is
    a tenth wider.
    """
    height, width = one.shape
    wide = round(other.shape[1] * height / other.shape[0])
    if abs(wide - width) > 0.1 * width:
        return 0.0
    sized = np.asarray(Image.fromarray(other).resize((width, height))) > 0
    return float((one & sized).sum() / (one | sized).sum())


@pytest.mark.parametrize(
    ("face", "file", "series", "measure"),
    [
        ("saira-stencil", "SairaStencilOne-Regular.ttf", "plain-faces", "sCapHeight"),
        ("pacifico", "Pacifico-Regular.ttf", "joined-faces", "sxHeight"),
    ],
)
def test_faces_stand_at_the_heights_it_says(
    face: str, file: str, series: str, measure: str
) -> None:
    """The height of the ink of "Sea 8", by the font's own glyphs and its OS/2 table."""
    font = TTFont(folder("fonts") / file)
    names = [font.getBestCmap()[ord(letter)] for letter in "Sea8"]
    spans = []
    for name in names:
        pen = BoundsPen(font.getGlyphSet())
        font.getGlyphSet()[name].draw(pen)
        spans.append((pen.bounds[1], pen.bounds[3]))
    ink = max(top for _, top in spans) - min(low for low, _ in spans)
    boxes = sorted(path.bbox() for _, path in marks()[face])
    tall = [box[3] - box[1] for box in boxes]
    expected = [each * ink / getattr(font["OS/2"], measure) for each in numbers(series)]
    assert tall == pytest.approx(expected, abs=NEAR)


def test_names_and_years_stand_at_the_heights_it_says() -> None:
    """The height of the ink of "Al 7", by the font's own glyphs and its OS/2 table."""
    font = TTFont(folder("fonts") / "Nunito-wght.ttf")
    tops = []
    for letter in "Al7":
        pen = BoundsPen(font.getGlyphSet(location={"wght": 400}))
        pen.glyphSet[font.getBestCmap()[ord(letter)]].draw(pen)
        tops.append((pen.bounds[1], pen.bounds[3]))
    ink = max(top for _, top in tops) - min(low for low, _ in tops)
    tall = [path.bbox()[3] - path.bbox()[1] for _, path in marks()["names"]]
    expected = [each * ink / font["OS/2"].sCapHeight for each in numbers("names")]
    assert tall == pytest.approx(expected, rel=0.01)
    shared = {series.row for series in SERIES if series.row}
    assert shared == {"names"}


def test_every_face_is_there_at_every_height() -> None:
    sizes = {series.id: series.sizes for series in SERIES}
    bench = open_bench(NOWHERE)
    for each in bench.faces:
        wanted = sizes["joined-faces" if bench.faces[each].joined else "plain-faces"]
        tall = [path.bbox()[3] - path.bbox()[1] for _, path in marks()[each]]
        # The same word all along, larger by the number above it.
        assert np.array(tall) / wanted == pytest.approx([tall[0] / wanted[0]] * len(wanted), 1e-3)
