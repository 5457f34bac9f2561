"""Paths, flattening, areas and distances against closed forms."""

import itertools
import math
import pickle

import numpy as np
import pytest
from hypothesis import given, strategies as st

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Contour, Path, circle, join, placed, polygon
from proofgen.geometry.polygons import area, clearance, distance, from_shapely, to_shapely

number = st.integers(-100_000, 100_000).map(lambda thousandths: thousandths / 1000)
point = st.tuples(number, number)
segment = st.one_of(st.tuples(point), st.tuples(point, point), st.tuples(point, point, point))
contours = st.builds(Contour, point, st.lists(segment, min_size=1, max_size=5).map(tuple))


def square(x: float, y: float, side: float) -> Path:
    return polygon([(x, y), (x + side, y), (x + side, y + side), (x, y + side)])


def hole(path: Path) -> Path:
    return Path(tuple(contour.reversed() for contour in path.contours))


def exact(start, segment, t):
    """de Casteljau's construction (1959), which the code does not use."""
    points = [np.array(start), *map(np.array, segment)]
    while len(points) > 1:
        points = [(1 - t) * a + t * b for a, b in itertools.pairwise(points)]
    return points[0]


@given(contours, st.sampled_from((0.01, 0.3, 5.0)))
def test_flattening_stays_within_its_tolerance(contour, tolerance):
    from shapely import LineString, Point

    line = LineString(contour.flatten(tolerance))
    here = contour.start
    for piece in contour.segments:
        for t in (0.1, 0.37, 0.5, 0.81):
            assert line.distance(Point(exact(here, piece, t))) <= tolerance + 1e-9
        here = piece[-1]


@given(contours)
def test_bounds_are_those_of_the_curve(contour):
    box = Path((contour,)).bounds()
    points = contour.flatten(1e-3)
    (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
    assert (box.left, box.top) == pytest.approx((left, top), abs=2e-3)
    assert (box.right, box.bottom) == pytest.approx((right, bottom), abs=2e-3)


@given(contours)
def test_twice_reversed_is_the_same(contour):
    assert contour.reversed().reversed() == contour


@given(st.lists(number, min_size=12, max_size=12), point)
def test_then_does_the_first_map_first(numbers, where):
    first, second = Affine(*numbers[:6]), Affine(*numbers[6:])
    assert first.then(second)(where) == pytest.approx(second(first(where)), abs=1e-6)


def test_length_of_a_parabola():
    """y = x^2 on [0, 1]: (2 sqrt 5 + asinh 2) / 4."""
    line = Contour((0, 0), (((0.5, 0), (1, 1)),), closed=False).flatten(1e-7)
    length = np.hypot(*np.diff(line, axis=0).T).sum()
    assert length == pytest.approx(1.4789428575, abs=1e-6)


def test_perimeter_of_an_ellipse():
    """Semi-axes 2 and 1: 8 E(3/4) = 9.6884482; four cubics are within 3e-4 of it."""
    line = circle((0, 0), 1).moved(Affine.scale(2, 1)).flatten(1e-6)[0]
    assert np.hypot(*np.diff(line, axis=0).T).sum() == pytest.approx(9.6884482, rel=3e-4)


def test_error_of_the_cubic_circle():
    """With kappa 0.5522847 the radius errs by at most 2.725e-4; the area is 3.142472."""
    round_ = circle((0, 0), 1)
    radii = np.hypot(*round_.flatten(1e-7)[0].T)
    assert radii.max() - 1 == pytest.approx(2.725e-4, abs=1e-6)
    assert radii.min() > 1 - 1e-6
    assert area(round_, 1e-7) == pytest.approx(3.142472, abs=2e-6)


def test_pentagram_is_filled_by_the_nonzero_rule():
    """R = 1: nonzero 1.122570; the even-odd rule would give 0.775677."""
    turns = [4 * math.pi * k / 5 for k in range(5)]
    assert area(polygon([(math.sin(a), math.cos(a)) for a in turns])) == pytest.approx(
        1.122570, abs=1e-6
    )


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        (join([square(0, 0, 10), square(5, 5, 10)]), 175),
        (join([square(0, 0, 10), square(2, 2, 3)]), 100),
        (join([square(0, 0, 10), hole(square(2, 2, 3))]), 91),
        (join([square(0, 0, 10), hole(square(2, 2, 6)), square(3, 3, 2)]), 68),
        (join([square(0, 0, 10), hole(square(5, 5, 10))]), 150),
        (join([square(0, 0, 10), square(0, 10, 10)]), 200),
        (polygon([(0, 0), (1, 1), (0, 1), (1, 0)]), 0.5),
        (Path((Contour((0, 0), (((1, 0),), ((1, 1),)), closed=False),)), 0),
        (polygon([(0, 0), (1, 1), (2, 2)]), 0),
        (Path(), 0),
    ],
    ids=[
        "overlap",
        "nested",
        "hole",
        "island",
        "clash",
        "touching",
        "bow",
        "open",
        "flat",
        "empty",
    ],
)
def test_area_by_winding(path, expected):
    assert area(path) == pytest.approx(expected)
    assert area(from_shapely(to_shapely(path))) == pytest.approx(expected)


def test_steiner_and_opening():
    """Square of 10: offset by 1 has 140 + pi; opening by r loses (4 - pi) r^2."""
    shape = to_shapely(square(0, 0, 10))
    assert shape.buffer(1, quad_segs=256).area == pytest.approx(140 + math.pi, abs=1e-4)
    opened = shape.buffer(-1).buffer(1, quad_segs=256)
    assert shape.area - opened.area == pytest.approx(0.858407, abs=1e-4)


def test_distances():
    line = Path((Contour((0, 20), (((10, 20),),), closed=False),))
    assert distance(square(0, 0, 10), square(13, 14, 1)) == pytest.approx(5)
    assert distance(square(0, 0, 10), square(2, 2, 1)) == 0
    assert distance(square(0, 0, 10), line) == pytest.approx(10)
    assert distance(square(0, 0, 10), Path()) == math.inf


def line(*points: tuple[float, float]) -> Path:
    first, *rest = points
    return Path((Contour(first, tuple((each,) for each in rest), closed=False),))


def test_clearance_of_lines_within_a_hole_and_where_contours_overlap():
    letter = join([square(0, 0, 10), square(5, 0, 10), hole(square(2, 2, 2))])
    assert clearance(letter, line((3, 2.5), (3, 3))) == pytest.approx(0.5)
    assert clearance(letter, line((7, 3), (8, 3))) == 0  # where both are
    assert clearance(letter, line((-5, 5), (-2, 5))) == pytest.approx(2)
    assert clearance(letter, line((-5, 5), (20, 5))) == 0
    assert clearance(letter, join([line((18, 14), (30, 14)), line((1, 1), (1, 1.5))])) == 0
    assert clearance(letter, Path()) == clearance(Path(), line((0, 0), (1, 1))) == math.inf


squares = st.builds(square, number, number, st.integers(1, 90_000).map(lambda n: n / 1000))


@given(st.lists(squares, min_size=1, max_size=4), st.lists(contours, min_size=1, max_size=3))
def test_clearance_is_the_distance_to_lines(filled, drawn):
    lines = Path(tuple(Contour(each.start, each.segments, closed=False) for each in drawn))
    expected = distance(join(filled), lines)
    assert clearance(join(filled), lines) == pytest.approx(expected, abs=1e-6)


@given(st.lists(contours, max_size=4), st.lists(number, min_size=6, max_size=6))
def test_a_path_moves_each_of_its_points(drawn, numbers):
    at, path = Affine(*numbers), Path(drawn)
    moved = [Contour(at(c.start), [tuple(map(at, s)) for s in c.segments]) for c in drawn]
    assert path.moved(at) == Path(moved)
    assert path.moved(at).contours == tuple(moved)
    assert placed([(path, at), (Path(), at), (path, Affine())]) == Path((*moved, *drawn))


@given(st.lists(contours, max_size=4))
def test_paths_are_told_apart_by_their_values(drawn):
    path, again = Path(drawn), Path(Contour(c.start, c.segments, c.closed) for c in drawn)
    copy = pickle.loads(pickle.dumps(path))
    assert path == again == copy
    assert len({path, again, copy}) == 1
    assert path != Path([*drawn, Contour((0, 0), (((1, 1),),), closed=False)])
    assert path.contours == copy.contours
    assert repr(path) == repr(copy)


def test_nought_has_no_sign():
    first, second = polygon([(0.0, 0.0), (1.0, -0.0)]), polygon([(-0.0, 0.0), (1.0, 0.0)])
    assert len({first, second}) == 1


def test_what_is_drawn_is_never_changed():
    path = square(0, 0, 10)
    for held in (path, path.contours[0], path.moved(Affine.scale(2))):
        with pytest.raises(ValueError, match="read-only"):
            held.points[0] = 1.0
        with pytest.raises(AttributeError):
            held.points = np.zeros((2, 2))


@given(st.lists(contours, min_size=2, max_size=4), st.sampled_from((0.1, 5.0)))
def test_contours_are_flattened_together_as_each_alone(drawn, tolerance):
    lines = Path(drawn).flatten(tolerance)
    alone = [contour.flatten(tolerance) for contour in drawn]
    assert all(map(np.array_equal, lines, alone))
    assert all((line[0] == line[-1]).all() for line in lines)
