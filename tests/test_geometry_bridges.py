"""Bridges between parts, in cases whose bridges are known beforehand."""

from __future__ import annotations

import math

import pytest
import shapely

from proofgen.geometry.affine import Affine
from proofgen.geometry.bridge import Bridge
from proofgen.geometry.holding import held_on
from proofgen.geometry.parts import overlap, parts
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import area, to_shapely

BAR = (-10.0, 15.0, 30.0, 20.0)


def box(left: float, top: float, right: float, bottom: float) -> Path:
    return polygon(((left, top), (right, top), (right, bottom), (left, bottom)))


def ring(radius: float, inner: float) -> Path:
    hole = circle((0, 0), inner).contours[0].reversed()
    return Path((*circle((0, 0), radius).contours, hole))


def test_parts_keep_their_holes_and_curves():
    """A ring round a dot, and a box beside them: three parts from the top down."""
    whole = join([box(20, 1, 25, 5), circle((0, 0), 1), ring(5, 3)])
    found = parts(whole)
    assert [len(part.contours) for part in found] == [2, 1, 1]
    areas = [area(part, 1e-4) for part in found]
    assert areas == pytest.approx([16 * math.pi, math.pi, 20], rel=1e-3)
    assert {len(s) for c in found[0].contours for s in c.segments} == {3}
    assert parts(Path()) == ()


def test_boxes_that_overlap_are_one_part():
    (part,) = parts(join([box(0, 0, 4, 4), box(3, 3, 8, 8)]))
    assert area(part) == pytest.approx(16 + 25 - 1)
    assert overlap(part, box(3, 3, 4, 4)) == pytest.approx(1)


def test_a_dot_hangs_on_its_stem_by_one_bridge():
    """A 4 mm dot 2 mm above a stem: the bridge adds its 2 x 2 mm between them."""
    made = held_on(box(*BAR), join([box(0, 0, 4, 4), box(0, 6, 4, 16)]), 2.0, 5.0)
    assert len(made.bridges) == 1
    assert area(made.path) == pytest.approx(16 + 36 + 4 + 200, abs=0.02)
    assert (len(parts(made.path)), made.loose) == (1, ())


@pytest.mark.parametrize(("longest", "loose"), [(5.9, 1), (6.1, 0)])
def test_a_part_out_of_reach_is_loose(longest, loose):
    """A dot 6 mm above its stem."""
    letters = join([box(0, 0, 4, 4), box(0, 10, 4, 16)])
    made = held_on(box(*BAR), letters, 2.0, longest)
    assert (len(made.loose), len(made.bridges)) == (loose, 1 - loose)
    assert all(0 < x < 4 and 0 < y < 4 for x, y in (p.bounds().centre for p in made.loose))


@pytest.mark.parametrize(("deep", "bridges"), [(0.05, 1), (1.5, 0)])
def test_a_part_that_only_grazes_the_bar_is_sunk_into_it(deep, bridges):
    """A 6 mm disc: 0.05 mm deep its neck is 1.1 mm wide, 1.5 mm deep it is 5.2 mm."""
    made = held_on(box(*BAR), circle((0, 12 + deep), 3), 2.0, 5.0)
    assert len(made.bridges) == bridges
    assert to_shapely(made.path).buffer(-0.98).geom_type == "Polygon"


def test_a_thin_neck_is_made_wider():
    """A 1.2 mm stem under a box is too thin for 2 mm and wide enough for 1.1 mm."""
    letters = join([box(0, 5, 1.2, 17), box(0, 0, 6, 6)])
    assert len(held_on(box(*BAR), letters, 2.0, 9.5).bridges) == 1
    assert held_on(box(*BAR), letters, 1.1, 9.5).bridges == ()


def test_curves_stay_curves():
    made = held_on(box(*BAR), circle((2, 5), 4), 2.0, 9.0)
    assert any(len(s) == 3 for c in made.path.contours for s in c.segments)


def test_scattered_discs_take_one_bridge_each():
    """Twenty discs above a bar: twenty bridges, and an independent union of all is one part."""
    spots = [(7.0 * (i % 5) + i * 37 % 11 / 7, 7.0 * (i // 5) + i * 53 % 13 / 8) for i in range(20)]
    discs, base = [circle(spot, 2) for spot in spots], box(-5, 26, 40, 32)
    made = held_on(base, join(discs), 1.5, 20.0)
    assert len(made.bridges) == 20
    whole = shapely.union_all([*map(to_shapely, (base, *discs)), *map(bar, made.bridges)])
    assert whole.buffer(-0.73).geom_type == "Polygon"
    assert area(made.path) == pytest.approx(whole.area, abs=0.1)


def bar(bridge: Bridge) -> shapely.Polygon:
    line = shapely.LineString([bridge.start, bridge.end])
    return line.buffer(bridge.width / 2, cap_style="flat")


def test_the_bar_of_a_bridge():
    leaning = Bridge((1, 1), (4, 5), 2.0)
    assert leaning.length == 5
    assert area(leaning.bar()) == pytest.approx(10)
    assert to_shapely(leaning.bar()).symmetric_difference(bar(leaning)).area < 1e-9
    assert area(leaning.bar().moved(Affine.scale(2))) == pytest.approx(40)


def test_a_dot_narrower_than_the_bridge_is_held():
    """A 1.4 mm dot 2 mm above a stem takes a bridge of 2 mm, and nothing is loose."""
    made = held_on(box(*BAR), join([circle((2, 3), 0.7), box(0, 6, 4, 16)]), 2.0, 5.0)
    assert (len(made.bridges), len(parts(made.path)), made.loose) == (1, 1, ())
    assert all(coordinate == round(coordinate, 3) for coordinate in made.bridges[0].end)


def test_two_outlines_of_one_layer_become_one_part():
    """Bars 4 mm apart hang together by a bridge; a bar out of reach is loose."""
    letters = box(0, 2, 4, 16)
    for top, loose in ((-8.0, 0), (-40.0, 1)):
        frame = join([box(*BAR), box(-10, top, 30, top + 6)])
        made = held_on(frame, letters, 2.0, 5.0)
        assert (len(made.loose), len(parts(made.path))) == (loose, 1 + loose)


def test_a_bridge_keeps_out_of_openings():
    """A box 2 mm above the bar with an opening in the bar under its middle: held beside it."""
    opening = box(0.5, 15.5, 3.5, 19)
    plain = held_on(box(*BAR), box(0, 6, 4, 13), 1.0, 5.0)
    made = held_on(box(*BAR), box(0, 6, 4, 13), 1.0, 5.0, opening)
    assert len(plain.bridges) == len(made.bridges) == 1
    assert overlap(made.bridges[0].bar(), opening) == 0
    shut = held_on(box(*BAR), box(0, 6, 4, 13), 1.0, 5.0, box(-9.5, 15.5, 29.5, 17))
    assert len(shut.loose) == 1


def test_letters_without_anything_to_stand_on_are_all_loose():
    made = held_on(Path(), join([box(0, 0, 4, 4), box(10, 0, 14, 4)]), 2.0, 12.0)
    assert (len(made.loose), made.bridges) == (2, ())
