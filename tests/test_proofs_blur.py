"""Masks that are blurred and enlarged in whole numbers, against what that means."""

from __future__ import annotations

import numpy as np
import pytest

from proofgen.proofs.blur import gaussian, larger
from proofgen.proofs.soft import blurred


@pytest.mark.parametrize("deviation", [0.4, 0.93, 1.7, 2.3])
def test_a_square_is_blurred_by_that_deviation(deviation: float) -> None:
    """Variances add: a square's own is (12 x 12 - 1) / 12."""
    mask = np.zeros((41, 53), np.uint8)
    mask[15:27, 20:32] = 255
    found = gaussian(mask, deviation).astype(np.float64)
    for axis in (0, 1):
        weights = found.sum(axis=1 - axis)
        place = np.arange(len(weights))
        middle = (weights * place).sum() / weights.sum()
        variance = (weights * (place - middle) ** 2).sum() / weights.sum()
        assert variance == pytest.approx(143 / 12 + deviation**2, abs=0.08 + 0.06 * deviation**2)
    assert found.sum() == pytest.approx(255 * 144, rel=0.01)


def test_what_is_full_stays_full_up_to_the_border() -> None:
    assert (gaussian(np.full((9, 7), 255, np.uint8), 1.3) == 255).all()


@pytest.mark.parametrize("by", [2, 4])
def test_a_slope_stays_straight(by: int) -> None:
    rows = np.add.outer(np.arange(6), 2 * np.arange(8)).astype(np.uint16)
    found = larger(rows, by) / (2 * by) ** 2
    assert found.shape == (6 * by, 8 * by)
    inner = found[by:-by, by:-by]
    assert np.allclose(np.diff(inner, axis=0), 1 / by)
    assert np.allclose(np.diff(inner, axis=1), 2 / by)


@pytest.mark.parametrize("radius", [1.0, 3.0, 9.0])
def test_a_part_is_blurred_as_the_whole_is(radius: float) -> None:
    """Little in a large mask costs its own area, and comes out the same."""
    mask = np.zeros((240, 320), np.uint8)
    mask[96:120, 160:200] = 255
    part = blurred(mask, radius)
    full = mask.copy()
    full[0, 0] = full[-1, -1] = 1  # as large as the mask
    assert np.abs(part.astype(int) - blurred(full, radius)).max() <= 1
