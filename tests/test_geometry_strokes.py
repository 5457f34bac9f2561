"""Strokes and gaps against closed forms, and against the definition taken literally."""

import math
import random

import numpy as np
import pytest
import shapely
from outlines import FONTS, glyph

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import polygons_of, to_shapely
from proofgen.geometry.strokes import has_gap, has_stroke, narrowest_gap, thinnest_stroke
from proofgen.geometry.weld import weld

W = 60.0  # the bars' width, in thousandths of the unit


def bar(x: float, y: float, width: float, height: float) -> Path:
    return polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])


def even(sides: int, radius: float) -> Path:
    turns = [2 * math.pi * k / sides for k in range(sides)]
    return polygon([(radius * math.cos(a), radius * math.sin(a)) for a in turns])


def ring(outer: float, inner: float) -> Path:
    hole = circle((0, 0), inner).contours[0].reversed()
    return Path((*circle((0, 0), outer).contours, hole))


BARS = {
    "straight": [bar(0, 0, W, 600)],
    "stadium": [bar(0, 0, 600, W), circle((0, W / 2), W / 2), circle((600, W / 2), W / 2)],
    "T": [bar(0, 0, 600, W), bar(300, 0, W, 500)],
    "L": [bar(0, 0, 600, W), bar(0, 0, W, 500)],
    "X": [bar(0, 300, 600, W), bar(300, 0, W, 600)],
}


@pytest.mark.parametrize("kind", BARS)
def test_joints_are_no_thicker_than_their_bars(kind):
    """A bar of width w is lost just above d = w, whatever disc its joint holds."""
    assert thinnest_stroke(weld(BARS[kind]), 1000) == pytest.approx(W, abs=0.1)


def test_the_thinner_bar_counts():
    cross = weld([bar(0, 300, 600, 35), bar(300, 0, W, 600)])
    assert thinnest_stroke(cross, 1000) == pytest.approx(35, abs=0.1)


def test_annulus():
    """Radii 5 and 3: erosion by 1 leaves nothing; the hole is a gap as wide as itself."""
    assert thinnest_stroke(ring(5, 3), 20) == pytest.approx(2, abs=0.02)
    assert narrowest_gap(ring(5, 3), 20) == pytest.approx(6, abs=0.02)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
def test_even_polygons_vanish_at_their_inscribed_circle(sides):
    expected = 2 * math.cos(math.pi / sides)
    assert thinnest_stroke(even(sides, 1), 10) == pytest.approx(expected, abs=2e-3)


def test_triangle_of_3_4_5():
    assert thinnest_stroke(polygon([(0, 0), (4, 0), (0, 3)]), 10) == pytest.approx(2, abs=2e-3)


@pytest.mark.parametrize("angle", [10, 15, 20, 30, 45, 60])
def test_a_sharp_corner_is_no_stroke(angle):
    """An isosceles triangle of height 1: inscribed diameter 2 s / (1 + s) with s = sin(a / 2)."""
    half = math.tan(math.radians(angle / 2))
    s = math.sin(math.radians(angle / 2))
    measured = thinnest_stroke(polygon([(0, 0), (half, 1), (-half, 1)]), 2)
    assert measured == pytest.approx(2 * s / (1 + s), abs=1e-3)


def test_reuleaux_triangle():
    """Width w everywhere by caliper; the inscribed circle is 2 (1 - 1/sqrt 3) w = 0.845299 w."""
    corners = [(0, 0), (1, 0), (0.5, math.sqrt(3) / 2)]
    discs = [shapely.Point(c).buffer(1, quad_segs=128) for c in corners]
    common = shapely.intersection_all(discs)
    shape = polygon([(float(x), float(y)) for x, y in common.exterior.coords[:-1]])
    assert thinnest_stroke(shape, 3) == pytest.approx(0.845299, abs=1e-3)


def test_pentagram():
    """Tips of 36 deg are no strokes; what vanishes last touches the five inner corners."""
    turns = [4 * math.pi * k / 5 for k in range(5)]
    star = polygon([(math.sin(a), math.cos(a)) for a in turns])
    assert thinnest_stroke(star, 5) == pytest.approx(2 * 0.381966, abs=2e-3)


def test_neck_between_two_discs():
    """Two discs joined by a short bar: no lost piece is long, yet erosion parts them."""
    shape = weld([circle((0, 0), 100), circle((215, 0), 100), bar(90, -10, 35, 20)])
    assert thinnest_stroke(shape, 1000) == pytest.approx(20, abs=0.2)


def test_gap_between_letters_and_slots():
    assert narrowest_gap(join([bar(0, 0, 50, 500), bar(80, 0, 50, 500)]), 1000) == pytest.approx(
        30, abs=0.1
    )
    slot = weld([bar(0, 0, 300, 100), bar(0, 0, 100, 500), bar(170, 0, 130, 500)])
    assert narrowest_gap(slot, 1000) == pytest.approx(70, abs=0.1)


@pytest.mark.parametrize("angle", [10, 30, 60])
def test_a_notch_is_no_gap(angle):
    half = 300 * math.tan(math.radians(angle / 2))
    notch = polygon([(-400, 0), (-half, 0), (0, 300), (half, 0), (400, 0), (400, 500), (-400, 500)])
    assert narrowest_gap(notch, 1000) == math.inf


def test_nothing_to_find():
    assert thinnest_stroke(Path(), 1) == narrowest_gap(Path(), 1) == math.inf
    assert thinnest_stroke(bar(0, 0, 9, 9), 10) == math.inf


@pytest.mark.parametrize("unit", [0.02, 5.0, 3000.0])
def test_measures_scale_with_the_drawing(unit):
    outline = glyph(FONTS / "Nunito-wght.ttf", "a").moved(Affine.scale(unit / 1000))
    assert thinnest_stroke(outline, unit) / unit == pytest.approx(0.0302, abs=2e-4)


@pytest.mark.parametrize("name", ["Otto", "Xavier"])
@pytest.mark.parametrize("face", ["Nunito-wght", "DancingScript-wght"])
def test_a_word_apart_is_as_thin_as_its_thinnest_letter(name, face):
    letters = [glyph(FONTS / f"{face}.ttf", letter) for letter in name]
    apart = join(p.moved(Affine.shift(2000 * i, 0)) for i, p in enumerate(letters))
    least = min(thinnest_stroke(p, 1000) for p in letters)
    assert thinnest_stroke(apart, 1000) == pytest.approx(least, abs=0.1)


# The definition taken literally: finer arcs and curves, a fine scan, nothing skipped. Part by
# part: in one & a counter closes just where the background outside parts, and the sums agree.


def literal(shape, d: float) -> bool:
    core = shape.buffer(-d / 2, quad_segs=24)
    if counts(core) != counts(shape):
        return True
    # Arcs of 24 segments a quarter circle run 2.7e-4 r inside the circle.
    lost = polygons_of(shape.difference(core.buffer(d / 2 * 1.0005, quad_segs=24)))
    for piece in (p for p in lost if p.area > 0.5 * d * d):
        points = shapely.get_coordinates(piece)
        length = max(np.hypot(*(points - p).T).max() for p in points)
        if length > 1.5 * d and piece.area > 0.75 * d * length:
            return True
    return False


def counts(shape) -> tuple[int, int]:
    parts = polygons_of(shape)
    return len(parts), sum(len(part.interiors) for part in parts)


def scanned(shape, most: float = 400) -> float:
    shape = shape.segmentize(20)  # or else GEOS leaves ghosts of evenly shaped holes
    d = 4.0
    while d <= most and not literal(shape, d):
        d *= 1.02
    if d > most:
        return math.inf
    low, high = d / 1.02, d
    while high - low > 0.1:
        middle = (low + high) / 2
        low, high = (low, middle) if literal(shape, middle) else (middle, high)
    return (low + high) / 2


LETTERS = random.Random(7).sample(
    [
        (face, letter)
        for face in ("Nunito-wght", "RobotoSlab-wght", "DancingScript-wght", "Pacifico-Regular")
        for letter in "AMVWHRSQaegknstwy&35"
    ],
    30,
)


@pytest.mark.parametrize(("face", "letter"), LETTERS)
def test_equals_the_definition(face, letter):
    outline = glyph(FONTS / f"{face}.ttf", letter)
    shape = to_shapely(outline, 0.1)
    background = shapely.box(*shape.bounds).buffer(600, join_style="mitre").difference(shape)
    for found, expected in (
        (thinnest_stroke(outline, 1000), min(map(scanned, polygons_of(shape)))),
        (narrowest_gap(outline, 1000), min(map(scanned, polygons_of(background)))),
    ):
        # Nothing is looked for above 400, so there the two may differ in seeing it at all.
        assert min(found, 390) == pytest.approx(min(expected, 390), abs=1)


@pytest.mark.parametrize("face", ["Nunito-wght", "DancingScript-wght"])
def test_a_width_that_is_seen_is_no_less_than_the_measure(face):
    """The scan rises in steps of 5 %, so what is 6 % wider than the thinnest is seen."""
    for letter in "aegkx":
        path = glyph(FONTS / f"{face}.ttf", letter)
        stroke, gap = thinnest_stroke(path, 1000), narrowest_gap(path, 1000)
        for share in (0.5, 0.8, 0.95, 0.99):
            assert not has_stroke(path, stroke * share, 1000)
            assert not has_gap(path, gap * share, 1000)
        assert has_stroke(path, stroke * 1.06, 1000)
        assert math.isinf(gap) or gap > 390 or has_gap(path, gap * 1.06, 1000)
