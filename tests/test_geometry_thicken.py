"""Thin places made up, in shapes whose widths are known."""

from __future__ import annotations

import pytest

from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import area
from proofgen.geometry.strokes import thinnest_stroke
from proofgen.geometry.thicken import thickened
from proofgen.geometry.weld import weld

WIDTH = 2.0


def box(left: float, top: float, right: float, bottom: float) -> Path:
    return polygon(((left, top), (right, top), (right, bottom), (left, bottom)))


@pytest.mark.parametrize("neck", [1.3, 1.7])
def test_a_neck_is_made_as_wide_as_asked(neck):
    """Two boxes of 6 mm, 4 mm apart on a bar: the bar grows to 2 mm, the boxes keep their size."""
    halves = [box(0, 0, 6, 6), box(10, 0, 16, 6)]
    thin = weld([*halves, box(5, 3 - neck / 2, 11, 3 + neck / 2)])
    assert thinnest_stroke(thin, 10) == pytest.approx(neck, abs=0.01)
    made = thickened(thin, WIDTH, 0.8)
    assert thinnest_stroke(made, 10) >= WIDTH - 0.05
    assert area(made) - area(thin) < 4 * (WIDTH - neck) + 2.0
    assert made.bounds() == thin.bounds()


def test_a_thin_end_is_made_up_too():
    """A hairline of 1.4 mm that runs out from a box."""
    made = thickened(weld([box(0, 0, 6, 6), box(5, 2, 14, 3.4)]), WIDTH, 0.8)
    assert thinnest_stroke(made, 10) >= WIDTH - 0.05


def test_what_is_wide_enough_is_left_as_it_is():
    """Corners are no strokes, and the hole of a ring 2.5 mm wide keeps its size."""
    ring = Path((*circle((20, 5), 5).contours, circle((20, 5), 2.5).contours[0].reversed()))
    drawn = weld([join([box(0, 0, 10, 10), ring])])
    assert thickened(drawn, WIDTH, 0.8) is drawn


def test_no_more_is_added_than_allowed():
    thin = weld([box(0, 0, 6, 6), box(10, 0, 16, 6), box(5, 2.7, 11, 3.3)])
    assert thinnest_stroke(thickened(thin, WIDTH, 0.4), 10) < 1.1
