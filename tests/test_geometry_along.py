"""Lengths, places and stretches of contours, and what lies inside what."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings, strategies as st

from proofgen.geometry.along import length, places, stretch
from proofgen.geometry.inside import Obstacles, depths
from proofgen.geometry.path import Contour, Path, circle, polygon

PARABOLA = Contour((0.0, 0.0), (((0.5, 0.0), (1.0, 1.0)),), closed=False)
TRIANGLE = polygon([(0.0, 0.0), (30.0, 0.0), (0.0, 40.0)]).contours[0]
ROUND = circle((5.0, 5.0), 10.0).contours[0]


def test_arc_length_of_a_parabola():
    """y = x² from 0 to 1: 1.4789428575 (derived)."""
    assert length(Path((PARABOLA,))) == pytest.approx(1.4789428575, rel=1e-4)


def test_the_line_that_closes_counts():
    assert length(Path((TRIANGLE,))) == pytest.approx(120)
    assert [at for at, _ in places(TRIANGLE)] == pytest.approx([0, 30, 80])
    assert [at for at, _ in places(TRIANGLE, parts=2)] == pytest.approx([0, 15, 30, 55, 80, 100])


@settings(deadline=None)
@given(st.sampled_from([TRIANGLE, ROUND]), st.floats(0, 59), st.floats(0.01, 70))
def test_a_stretch_lies_on_its_contour_and_is_as_long(contour, begin, along):
    found = stretch(contour, begin, begin + along)
    assert not found.closed
    assert length(Path((found,))) == pytest.approx(along, abs=2e-3)
    line = shapely.LineString(contour.flatten(1e-4))
    assert shapely.distance(shapely.points(found.flatten(0.05)), line).max() < 1e-3
    after = stretch(contour, begin + along, begin + along + 1)
    assert math.dist(after.start, found.segments[-1][-1]) < 2e-3


def test_of_an_open_contour_no_more_than_there_is():
    found = stretch(PARABOLA, 0.5, 9.0)
    assert found.segments[-1][-1] == (1.0, 1.0)
    assert length(Path((found,))) == pytest.approx(1.4789428575 - 0.5, rel=1e-3)


def test_depths():
    boxes = [(0, 9), (1, 4), (2, 3), (5, 8), (20, 30)]
    contours = [polygon([(a, a), (b, a), (b, b), (a, b)]).contours[0] for a, b in boxes]
    line = Contour((2.2, 2.2), (((2.8, 2.8),),), closed=False)
    assert depths([*contours, line]) == (0, 1, 2, 1, 0, 3)
    assert depths([]) == ()


def test_moves_over_and_beside():
    outlines = [polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), circle((30.0, 5.0), 5.0)]
    moves = np.array([
        (-5, 5, 15, 5),  # through the first
        (-5, 5, 40, 5),  # through both
        (0, 10.1, 40, 10.1),  # beside both
        (10, 5, 25, 5),  # from border to border
        (5, 5, 20, 20),  # out of the first
    ], dtype=float)  # fmt: skip
    over = Obstacles(outlines).passed(moves).tolist()
    assert over == [[True, False], [True, True], [False, False], [False, False], [True, False]]
    assert not Obstacles(outlines).passed(moves, but=np.zeros(5, dtype=int))[:, 0].any()
    assert Obstacles([]).passed(moves).shape == (5, 0)
