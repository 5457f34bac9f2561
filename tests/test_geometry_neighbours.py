"""Gaps in a row of outlines against shapely's distance of each pair of neighbours."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from proofgen.geometry.neighbours import Row


def ring(rng: np.random.Generator, x: float) -> np.ndarray:
    turns = np.linspace(0, 2 * np.pi, rng.integers(5, 120))
    far = 1 + 0.6 * rng.random(len(turns))
    far[-1] = far[0]
    return np.stack([x + far * np.cos(turns), far * np.sin(turns)], axis=1)


def row(rings: list[np.ndarray]) -> Row:
    edges = [np.hstack([each[:-1], each[1:]]) for each in rings]
    return Row(np.concatenate(edges), np.array([len(each) for each in edges]))


@pytest.mark.parametrize("seed", range(20))
def test_the_gap_is_that_of_the_nearest_neighbours(seed):
    rng = np.random.default_rng(seed)
    rings = [ring(rng, x) for x in np.cumsum(rng.uniform(2.6, 6, 7))]
    expected = min(a.distance(b) for a, b in pairwise(map(shapely.LineString, rings)))
    found = row(rings)
    assert found.gap == pytest.approx(expected, abs=1e-12)
    assert found.gap_at_most >= found.gap


def test_outlines_that_cross_have_no_gap_and_one_alone_has_none_to_measure():
    square = np.array([(0, 0), (4, 0), (4, 4), (0, 4), (0, 0)], dtype=float)
    across, aside = square + np.array([2, 1]), square + np.array([9, 0])
    assert row([square, across, aside]).gap == 0
    assert row([square]).gap == math.inf
