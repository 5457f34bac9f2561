"""Marks of letters drawn by hand: where they go, and what they hang on."""

from __future__ import annotations

import pytest

from proofgen.geometry.marks import Marked, cleared, taken_apart
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import distance
from proofgen.geometry.weld import weld

WANTED, LEAST, REACH = 1.0, 0.6, 5.0


def box(left: float, top: float, right: float, bottom: float) -> Path:
    return polygon(((left, top), (right, top), (right, bottom), (left, bottom)))


def dotted(left: float, top: float = 0.0) -> Path:
    """A letter 6 mm wide with a dot of 4 mm over its middle."""
    return weld([join([box(left, 6, left + 6, 16), circle((left + 3, top + 3), 2)])])


def tall(left: float) -> Path:
    return weld([box(left, -6, left + 4, 16)])


def marked(*letters: Path, reach: float = REACH) -> Marked:
    return cleared([taken_apart(letter) for letter in letters], WANTED, LEAST, reach)


def centre(path: Path) -> tuple[float, float]:
    return path.bounds().centre


def test_a_mark_that_has_room_stays():
    letters = (tall(0), dotted(5))
    made = marked(*letters)
    assert [centre(tie.mark) for tie in made.ties] == [pytest.approx((8, 3), abs=1e-3)]
    assert [centre(tie.body) for tie in made.ties] == [pytest.approx((8, 11), abs=1e-3)]
    assert made.close == ()
    assert [each.bounds() for each in made.letters] == [each.bounds() for each in letters]


@pytest.mark.parametrize(("left", "by"), [(3.5, 0.5), (3, 1.0), (2, 2.0)])
def test_a_dot_beside_a_tall_letter_moves_aside_just_far_enough(left, by):
    """The stem ends at x = 4; the dot begins 1 mm right of its letter, in steps of 0.25 mm."""
    made = marked(tall(0), dotted(left))
    (tie,) = made.ties
    x, y = centre(tie.mark)
    assert distance(tie.mark, tall(0)) >= WANTED - 0.01
    assert (x - (left + 3), y) == (pytest.approx(by, abs=0.01), pytest.approx(3, abs=0.01))
    assert made.close == ()


def test_a_mark_without_room_is_told_with_its_neighbour():
    """A wide bar over a letter between two tall ones, too near for it wherever it goes."""
    barred = weld([join([box(5, 6, 11, 16), box(3, 1, 13, 4)])])
    made = marked(tall(0), barred, tall(12), reach=2.0)
    assert len(made.close) == 1
    assert made.close[0] in {(1, 0), (1, 2)}


def test_what_stands_beside_a_letter_is_no_mark():
    """As the second stroke of a Cyrillic yery: it stays, however near the next letter comes."""
    yery = weld([join([box(0, 6, 5, 16), box(6, 6, 8, 16)])])
    made = marked(yery, dotted(8.5))
    assert [centre(tie.body)[0] for tie in made.ties] == [pytest.approx(11.5)]
    assert made.letters[0].bounds() == yery.bounds()


def test_marks_one_above_the_other_hang_on_one_another():
    """And marks side by side each hang on their letter."""
    stacked = weld([join([box(0, 10, 8, 20), box(1, 6, 7, 8.5), box(3, 0, 5, 4.5)])])
    abreast = weld([join([box(20, 10, 28, 20), circle((22, 7), 1.5), circle((26, 7), 1.5)])])
    made = marked(stacked, abreast)
    hung = {centre(tie.mark): centre(tie.body) for tie in made.ties}
    assert {tuple(map(round, mark)): tuple(map(round, body)) for mark, body in hung.items()} == {
        (4, 7): (4, 15),
        (4, 2): (4, 7),
        (22, 7): (24, 15),
        (26, 7): (24, 15),
    }
