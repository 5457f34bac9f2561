"""Welding against shapely's polygons, which share no code with skia."""

import itertools
import random

import pytest
from outlines import FONTS, glyph

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, circle, join
from proofgen.geometry.polygons import area, to_shapely
from proofgen.geometry.weld import weld

FACES = ["Pacifico-Regular", "DancingScript-wght", "RobotoSlab-wght", "Vollkorn-wght"]


@pytest.mark.parametrize("face", FACES)
def test_area_of_overlapping_letters(face):
    choice = random.Random(face)
    for _ in range(8):
        pair = choice.sample("abdeghkmoqsxzABGKOQRSX&38", 2)
        a, b = (glyph(FONTS / f"{face}.ttf", letter) for letter in pair)
        both = [a, b.moved(Affine.shift(choice.uniform(100, 400), 0))]
        # Millimetres at a cap height of about 14.
        both = [path.moved(Affine.scale(0.02)) for path in both]
        welded = weld(both)
        assert area(welded, 1e-4) == pytest.approx(area(join(both), 1e-4), rel=1e-4), pair
        # No overlaps are left: each contour adds or takes away its whole area.
        sides = sum(signed(contour) for contour in welded.contours)
        assert abs(sides) == pytest.approx(area(welded, 1e-4), rel=1e-4)


def signed(contour) -> float:
    x, y = contour.flatten(1e-4).T
    return float((x[:-1] * y[1:] - x[1:] * y[:-1]).sum() / 2)


def test_two_circles_stay_cubic():
    """Radius 1, centres 1 apart: the lens is 2 pi/3 - sqrt(3)/2."""
    welded = weld([circle((0, 0), 1), circle((1, 0), 1)])
    (contour,) = welded.contours
    assert {len(segment) for segment in contour.segments} == {3}
    assert area(welded, 1e-6) == pytest.approx(2 * 3.1415927 - 1.2283697, rel=3e-4)


def test_a_circle_alone_keeps_its_start():
    (contour,) = weld([circle((3, 4), 2)]).contours
    assert len(contour.segments) == 4
    assert contour.flatten(1e-3)[0] == pytest.approx((5, 4), abs=1e-5)


def test_order_does_not_hang_on_the_order_given():
    shapes = [circle((9 - 3 * i, 2 * (i % 2)), 1) for i in range(4)]
    for order in itertools.permutations(shapes):
        tops = [contour.start[1] for contour in weld(order).contours]
        assert tops == sorted(tops)
        assert to_shapely(weld(order)).symmetric_difference(to_shapely(weld(shapes))).area < 1e-6


def test_a_hole_is_wound_against_its_shell():
    ring = Path((*circle((0, 0), 5).contours, circle((0, 0), 3).contours[0].reversed()))
    outer, inner = (signed(contour) for contour in weld([ring]).contours)
    assert outer * inner < 0


def test_nothing_to_weld():
    assert weld([Path(), Path()]) == Path()
