"""Islands inside openings, and the bridges that hold them."""

from __future__ import annotations

import pytest
import shapely
from outlines import FONTS, glyph

from proofgen.geometry.affine import Affine
from proofgen.geometry.counters import held, loose_islands
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import area, to_shapely
from proofgen.geometry.weld import weld

ISLANDS = {"A": 1, "B": 2, "C": 0, "D": 1, "O": 1, "R": 1, "e": 1, "g": 2, "8": 2, "%": 2, "@": 1}


def ring(radius: float, inner: float) -> Path:
    hole = circle((0, 0), inner).contours[0].reversed()
    return Path((*circle((0, 0), radius).contours, hole))


def drops(openings: Path) -> int:
    """Pieces of a board that come loose when the openings are cut, by shapely alone."""
    shape = to_shapely(openings)
    board = shapely.box(*shape.bounds).buffer(5, join_style="mitre")
    return len([p for p in shapely.get_parts(board.difference(shape)) if p.area > 0.05]) - 1


def test_a_small_ring_gets_one_bridge():
    """Between radii 3 and 2, a bridge 1.5 wide takes 1.5 mm² and a little for the arcs."""
    made = held(ring(3, 2), 1.5, 5.0)
    assert (len(made.bridges), made.loose) == (1, ())
    assert area(ring(3, 2)) - area(made.openings) == pytest.approx(1.5, abs=0.1)
    assert drops(made.openings) == 0


def test_a_large_ring_gets_two_on_either_side():
    made = held(ring(10, 9), 1.5, 5.0)
    first, second = (shapely.LineString([b.start, b.end]).centroid for b in made.bridges)
    assert first.distance(second) > 10
    assert drops(made.openings) == 0
    # The arcs that are left stay curves.
    assert {len(s) for c in made.openings.contours for s in c.segments} >= {3}


def test_the_thin_side_is_crossed():
    """An opening that is 3 mm wide at the sides and 1 mm above and below."""
    outer = polygon(((0, 0), (20, 0), (20, 10), (0, 10)))
    inner = polygon(((3, 1), (3, 9), (17, 9), (17, 1)))
    made = held(weld([Path((*outer.contours, *inner.contours))]), 1.5, 5.0)
    assert len(made.bridges) == 2
    assert all(abs(b.start[0] - b.end[0]) < 0.01 for b in made.bridges)


def test_islands_inside_islands():
    """A ring inside a ring: the inner island hangs on the outer one, and that on the board."""
    nested = join([ring(12, 10), ring(5, 4)])
    assert len(loose_islands(nested)) == 2
    made = held(nested, 1.5, 9.0)
    assert made.loose == ()
    assert drops(made.openings) == 0


def test_an_island_out_of_reach_is_named_loose():
    made = held(ring(10, 2), 1.5, 5.0)
    assert made.bridges == ()
    (island,) = made.loose
    assert area(island) == pytest.approx(12.57, rel=1e-2)


def test_nothing_to_hold():
    assert held(circle((0, 0), 3), 1.5, 5.0).openings == circle((0, 0), 3)
    assert loose_islands(Path()) == ()


@pytest.mark.parametrize("letter", ISLANDS)
@pytest.mark.parametrize("face", ["Vollkorn-wght", "RobotoFlex-13axes", "Nunito-wght"])
def test_letters(face, letter):
    """Cap height about 20 mm, webs of 1.68 mm as drawn."""
    outline = weld([glyph(FONTS / f"{face}.ttf", letter).moved(Affine.scale(0.03))])
    assert len(loose_islands(outline)) == drops(outline)
    if face != "Nunito-wght" and letter != "g":
        assert drops(outline) == ISLANDS[letter]
    made = held(outline, 1.68, 12.0)
    assert made.loose == ()
    assert drops(outline) <= len(made.bridges) <= 2 * drops(outline)
    assert drops(made.openings) == 0
    # Every bridge is there over its whole width.
    openings = to_shapely(made.openings)
    for bridge in made.bridges:
        line = shapely.LineString([bridge.start, bridge.end])
        assert line.buffer(0.83, cap_style="flat").intersection(openings).area < 0.02
