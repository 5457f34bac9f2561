"""Bridges between parts, in cases whose bridges are known beforehand."""

from __future__ import annotations

import math

import pytest
import shapely
from proofgen.geometry.bridges import joined

from proofgen.geometry.affine import Affine
from proofgen.geometry.bridge import Bridge
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


def test_a_dot_hangs_on_its_stem_by_an_upright_bridge():
    """A 4 mm dot 2 mm above a stem: the bridge adds its 2 x 2 mm between them."""
    made = joined(join([box(0, 0, 4, 4), box(0, 6, 4, 16)]), box(*BAR), 2.0, 5.0)
    (bridge,) = made.bridges
    assert bridge.start[0] == pytest.approx(bridge.end[0], abs=1e-3)
    assert area(made.outline) == pytest.approx(16 + 36 + 4 + 200, abs=0.02)
    assert (len(parts(made.outline)), made.loose) == (1, ())


def test_of_two_ways_the_upright_one_is_taken():
    """A dot 1.0 mm beside one letter and 1.1 mm above another."""
    beside, below = box(5, 0, 9, 16), box(0, 5.1, 4, 16)
    (bridge,) = joined(join([box(0, 0, 4, 4), beside, below]), box(*BAR), 2.0, 5.0).bridges
    assert bridge.start[0] == pytest.approx(bridge.end[0], abs=1e-3)


def test_a_part_out_of_reach_is_loose():
    far = box(0, 0, 4, 4)
    made = joined(join([far, box(0, 10, 4, 16)]), box(*BAR), 2.0, 5.9)
    assert made.bridges == ()
    assert [part.bounds() for part in made.loose] == [far.bounds()]
    assert joined(join([far, box(0, 10, 4, 16)]), box(*BAR), 2.0, 6.1).loose == ()


def test_no_bridge_where_none_may_be():
    keep_clear = box(-1, 4.5, 5, 5.5)
    made = joined(join([box(0, 0, 4, 4), box(0, 6, 4, 16)]), box(*BAR), 2.0, 5.0, None, keep_clear)
    assert len(made.loose) == 1


@pytest.mark.parametrize(("deep", "bridges"), [(0.05, 1), (1.5, 0)])
def test_a_part_that_only_grazes_the_bar_is_sunk_into_it(deep, bridges):
    """A 6 mm disc: 0.05 mm deep its neck is 1.1 mm wide, 1.5 mm deep it is 5.2 mm."""
    made = joined(circle((0, 12 + deep), 3), box(*BAR), 2.0, 5.0)
    assert len(made.bridges) == bridges
    assert to_shapely(made.outline).buffer(-0.98).geom_type == "Polygon"


def test_a_thin_neck_is_let_be_where_the_caller_takes_it():
    stem = join([box(0, 5, 1.2, 17), box(0, 0, 6, 6)])
    assert len(joined(stem, box(*BAR), 2.0, 9.0).bridges) == 1
    assert joined(stem, box(*BAR), 2.0, 9.0, neck=1.1).bridges == ()


def test_a_dot_smaller_than_its_bridge_is_held():
    made = joined(join([circle((2, 2), 0.6), box(0, 6, 4, 16)]), box(*BAR), 2.0, 5.0)
    assert (len(made.bridges), len(parts(made.outline)), made.loose) == (1, 1, ())


def test_without_a_base_the_largest_part_carries_the_others():
    made = joined(join([box(0, 0, 3, 3), box(0, 5, 9, 9)]), Path(), 2.0, 1.0)
    assert [part.bounds().width for part in made.loose] == [3]
    assert joined(Path(), Path(), 2.0, 1.0).outline == Path()


def test_curves_stay_curves():
    made = joined(circle((2, 5), 4), box(*BAR), 2.0, 9.0)
    assert any(len(s) == 3 for c in made.outline.contours for s in c.segments)


def test_the_least_bridges_join_scattered_discs():
    """Twenty discs in the plane: nineteen bridges, as short as scipy-free Prim finds them."""
    spots = [
        (7.0 * (i % 5) + (i * 37 % 11) / 7, 7.0 * (i // 5) + (i * 53 % 13) / 8) for i in range(20)
    ]
    discs = [circle(spot, 2) for spot in spots]
    made = joined(join(discs), Path(), 1.5, 20.0)
    union = [to_shapely(disc) for disc in discs]
    union += [bar(bridge) for bridge in made.bridges]
    assert len(made.bridges) == 19
    whole = shapely.union_all(union)
    assert whole.geom_type == "Polygon"
    assert whole.buffer(-0.73).geom_type == "Polygon"
    assert area(made.outline) == pytest.approx(whole.area, abs=0.05)


def bar(bridge: Bridge) -> shapely.Polygon:
    line = shapely.LineString([bridge.start, bridge.end])
    return line.buffer(bridge.width / 2, cap_style="flat")


def test_the_bar_of_a_bridge():
    leaning = Bridge((1, 1), (4, 5), 2.0)
    assert leaning.length == 5
    assert area(leaning.bar()) == pytest.approx(10)
    assert to_shapely(leaning.bar()).symmetric_difference(bar(leaning)).area < 1e-9
    assert area(leaning.bar().moved(Affine.scale(2))) == pytest.approx(40)
