"""Exact-area coverage against areas known in closed form."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest
from proof_pieces import lettered

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, circle, join, polygon
from proofgen.geometry.polygons import area
from proofgen.proofs.raster import coverage

SHAPE = (90, 120)


def star(centre: tuple[float, float], outer: float, inner: float, points: int) -> Path:
    reach = [outer, inner] * points
    angles = [pi * i / points for i in range(2 * points)]
    return polygon(
        (centre[0] + r * cos(a), centre[1] + r * sin(a)) for r, a in zip(reach, angles, strict=True)
    )


def test_a_round_polygon_has_its_area() -> None:
    corners = [(60.3 + 33.3 * cos(a), 44.7 + 33.3 * sin(a)) for a in np.arange(720) * pi / 360]
    exact = 360 * 33.3**2 * sin(pi / 360)
    assert coverage(polygon(corners), SHAPE).sum(dtype=np.float64) == pytest.approx(exact, rel=1e-4)


def test_a_star_with_a_hole_has_its_area_whichever_way_the_hole_is_wound() -> None:
    # Ten triangles about the centre, less a square.
    exact = 10 * 0.5 * 40.2 * 17.9 * sin(pi / 5) - 49
    hole = polygon([(57, 40), (64, 40), (64, 47), (57, 47)])
    against = Path(tuple(contour.reversed() for contour in hole.contours))
    body = star((60.1, 43.6), 40.2, 17.9, 5)
    drawn = [coverage(join([body, h]), SHAPE) for h in (hole, against)]
    sums = sorted(float(d.sum(dtype=np.float64)) for d in drawn)
    # Nonzero rule: wound the same way, the square is no hole at all.
    assert sums == pytest.approx([exact, exact + 49], rel=1e-4)


@pytest.mark.parametrize("angle", [0.0, 0.3, pi / 4, 1.2, pi / 2])
def test_a_hairline_of_a_tenth_of_a_pixel_keeps_its_area(angle: float) -> None:
    turn = Affine(cos(angle), sin(angle), -sin(angle), cos(angle), 60.21, 45.37)
    line = polygon([(-30, -0.05), (30, -0.05), (30, 0.05), (-30, 0.05)]).moved(turn)
    assert coverage(line, SHAPE).sum(dtype=np.float64) == pytest.approx(6, rel=1e-4)


def test_each_pixel_gets_its_own_share() -> None:
    found = coverage(polygon([(1, 1), (3.5, 1), (3.5, 2.25), (1, 2.25)]), (4, 5))
    assert np.allclose(found[1], [0, 1, 1, 0.5, 0])
    assert np.allclose(found[2], [0, 0.25, 0.25, 0.125, 0])
    assert np.allclose(found[[0, 3]], 0, atol=1e-12)


@pytest.mark.parametrize("centre", [(-70, 40), (300, 40), (60, -70), (60, 300)])
def test_of_what_lies_beside_the_window_nothing_is_drawn(centre: tuple[float, float]) -> None:
    assert not coverage(circle(centre, 50), SHAPE).any()


def test_what_leaves_the_window_is_cut_at_its_borders() -> None:
    found = coverage(circle((0, 0), 50), SHAPE)
    assert found.sum(dtype=np.float64) == pytest.approx(pi * 50**2 / 4, rel=1e-3)
    assert not coverage(circle((-60, 40), 50), SHAPE).any()
    wide = polygon([(-9, -9), (200, -9), (200, 200), (-9, 200)])
    assert np.all(coverage(wide, SHAPE) == 1)


@pytest.mark.parametrize("size", [9.0, 17.0, 33.0, 55.0])
@pytest.mark.parametrize("face", ["dancing-script", "nunito", "noto-naskh-arabic"])
def test_lettering_has_its_exact_area_at_any_size(face: str, size: float) -> None:
    text = "محمد" if face.startswith("noto") else "Zoë"
    outline = lettered(text, size, (60, 60), face)
    exact = area(outline, 1e-4)
    assert coverage(outline, SHAPE).sum(dtype=np.float64) == pytest.approx(exact, rel=5e-3)
