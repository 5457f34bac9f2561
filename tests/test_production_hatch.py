"""Areas as lines: nothing is left out but corners, and nothing lies outside."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings, strategies as st
from outlines import FONTS, glyph
from sheets import square

from proofgen.geometry.affine import Affine
from proofgen.geometry.along import length
from proofgen.geometry.hatching import contour_lines, scan_lines, uncovered
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import area, to_shapely

BOTH = pytest.mark.parametrize("lines", [scan_lines, contour_lines])

DISC = st.tuples(st.floats(0, 4), st.floats(0, 4), st.floats(0.05, 1))


def farthest(path: Path, lines: Path, count: int = 4000) -> np.ndarray:
    """How far random points of an area lie from the nearest line (by shapely, not by buffers)."""
    body = to_shapely(path, 0.002)
    left, top, right, bottom = body.bounds
    random = np.random.default_rng(7)
    spots = shapely.points(random.uniform((left, top), (right, bottom), (count * 20, 2)))
    spots = spots[shapely.contains(body, spots)][:count]
    runs = shapely.multilinestrings([shapely.linestrings(run) for run in lines.flatten(0.002)])
    return np.asarray(shapely.distance(spots, runs))


@BOTH
@pytest.mark.parametrize("width", [0.03, 0.08, 0.15, 0.22, 0.29, 0.41])
@pytest.mark.parametrize("turn", [0.0, 0.3, 1.57])
def test_strokes_of_any_width_are_covered(lines, width, turn):
    """Bars thinner and wider than the pitch of 0.1 mm, in three directions."""
    c, s = np.cos(turn), np.sin(turn)
    bar = polygon([(0.0, 0.0), (3.0, 0.0), (3.0, width), (0.0, width)]).moved(Affine(c, s, -s, c))
    found = lines(bar, 0.1)
    assert np.quantile(farthest(bar, found), 0.98) <= 0.055 + 0.002
    assert not uncovered(bar, found, 0.1)


@BOTH
@pytest.mark.parametrize("letter", ["M", "8", "s", "&"])
def test_letters_are_covered_to_the_last_stroke(lines, letter):
    font = next(FONTS.glob("*.ttf"))
    path = glyph(font, letter).moved(Affine.scale(0.008))
    found = lines(path, 0.1)
    away = farthest(path, found)
    assert np.mean(away > 0.055 + 0.003) < 0.01
    assert away.max() < 0.2, "only in corners"
    body = to_shapely(path, 0.002).buffer(0.01)
    runs = shapely.multilinestrings([shapely.linestrings(run) for run in found.flatten(0.005)])
    assert body.covers(runs)
    assert area(path) / 0.1 * 0.95 < length(found) < area(path) / 0.1 * 1.3


def test_what_is_missing_is_found():
    """Every third scan line taken out."""
    found = scan_lines(square(0, 0, 5), 0.1)
    kept = Path(tuple(c for i, c in enumerate(found.contours) if i % 3))
    assert not uncovered(square(0, 0, 5), found, 0.1)
    missing = uncovered(square(0, 0, 5), kept, 0.1)
    assert area(missing) == pytest.approx(25 / 3 * 0.9, rel=0.15)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(0, 4), st.floats(0, 4), st.floats(0.05, 1)), min_size=1, max_size=5
    )
)
def test_discs_that_overlap_are_covered(discs):
    path = join(circle((x, y), r) for x, y, r in discs)
    for lines in (scan_lines, contour_lines):
        assert not uncovered(path, lines(path, 0.2), 0.2)


@BOTH
def test_nothing_gives_nothing(lines):
    assert not lines(Path(), 0.1)
