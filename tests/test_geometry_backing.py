"""Backings against outlines in closed form."""

from __future__ import annotations

import math

import pytest
import shapely

from proofgen.geometry.backing import backing
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import area, to_shapely


def test_a_box_grows_with_round_corners():
    """20 x 10 grown by 3: 200 + 60 x 3 + 9 pi."""
    made = backing(polygon(((0, 0), (20, 0), (20, 10), (0, 10))), 3.0, 2.0)
    assert area(made) == pytest.approx(200 + 180 + 9 * math.pi, abs=0.1)
    box = made.bounds()
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx((-3, -3, 23, 13), abs=0.01)


def test_holes_are_closed():
    hole = circle((0, 0), 9).contours[0].reversed()
    made = backing(Path((*circle((0, 0), 10).contours, hole)), 2.0, 2.0)
    assert len(made.contours) == 1
    assert area(made) == pytest.approx(144 * math.pi, rel=1e-3)


@pytest.mark.parametrize("apart", [10.0, 13.9, 14.1, 30.0])
def test_two_discs_become_one_part_with_no_thin_neck(apart):
    """Discs of radius 5 grown by 2 touch where their centres are 14 mm apart."""
    made = to_shapely(backing(join([circle((0, 0), 5), circle((apart, 0), 5)]), 2.0, 2.0))
    assert made.geom_type == "Polygon"
    assert shapely.buffer(made, -0.97).geom_type == "Polygon"
    # It covers what it should, and fills no more than what lies between the discs.
    discs = shapely.union_all([shapely.Point(x, 0).buffer(7, quad_segs=64) for x in (0, apart)])
    assert discs.difference(made.buffer(0.02)).area == 0
    assert made.difference(discs.convex_hull.buffer(0.02)).area == 0


def test_shows_all_round():
    letters = join([circle((0, 0), 2), circle((9, 1), 3), circle((15, -4), 1)])
    made = to_shapely(backing(letters, 3.0, 2.0))
    assert shapely.distance(made.exterior, to_shapely(letters)) >= 3.0 - 0.01


def test_nothing_to_back():
    assert backing(Path(), 3.0, 2.0) == Path()
