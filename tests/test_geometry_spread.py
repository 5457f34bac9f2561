"""Accents moved off, in letters drawn by hand."""

from __future__ import annotations

import pytest

from proofgen.geometry.parts import parts
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import area, distance
from proofgen.geometry.spread import spread

GAP = 0.08
STEM = polygon(((0.1, 0.0), (0.3, 0.0), (0.3, 0.5), (0.1, 0.5)))


def dot(x: float, y: float) -> Path:
    return circle((x, y), 0.05)


def gaps(letter: Path) -> list[float]:
    """Between all parts that are there."""
    found = parts(letter, 1e-4)
    return [distance(a, b, 1e-4) for i, a in enumerate(found) for b in found[:i]]


@pytest.mark.parametrize(
    "marks",
    [
        (dot(0.2, -0.07),),
        (dot(0.2, 0.57),),
        (dot(0.13, -0.2), dot(0.27, -0.2)),
        (dot(0.13, -0.08), dot(0.27, -0.08)),
        (dot(0.2, -0.07), dot(0.2, -0.2)),
    ],
    ids=["above", "below", "abreast", "abreast and low", "stacked"],
)
def test_marks_keep_the_gap(marks: tuple[Path, ...]) -> None:
    drawn = join([STEM, *marks])
    assert min(gaps(drawn)) < GAP - 0.01
    made = spread(drawn, GAP)
    assert len(parts(made, 1e-4)) == len(marks) + 1
    assert GAP - 0.001 <= min(gaps(made)) < GAP + 0.01
    stem = max(parts(made, 1e-4), key=area).bounds()
    assert (stem.left, stem.top, stem.bottom) == pytest.approx((0.1, 0.0, 0.5), abs=1e-6)


@pytest.mark.parametrize("marks", [(), (dot(0.2, -0.2),)])
def test_what_has_room_stays(marks: tuple[Path, ...]) -> None:
    drawn = join([STEM, *marks])
    assert spread(drawn, GAP) is drawn
