"""Finishes: contrast by the formula of WCAG 2.2, and stains of one colour."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from proofgen.proofs.wood import grain, wood
from proofgen.workshop.contrast import GRAIN, contrast, luminance, ratio
from proofgen.workshop.read import load

WHITE = (255.0, 255.0, 255.0)


# W3C's worked values for its own formula, to four decimals.
@pytest.mark.parametrize(
    ("colour", "expected"),
    [
        ((0x76, 0x76, 0x76), 4.5422),
        ((0x77, 0x77, 0x77), 4.4781),
        ((0x59, 0x59, 0x59), 7.0047),
        ((255, 0, 0), 3.9985),
        ((0, 0, 0), 21),
    ],
)
def test_contrast_on_white(colour: tuple[int, int, int], expected: float) -> None:
    assert ratio(luminance(colour), luminance(WHITE)) == pytest.approx(expected, abs=5e-5)


def test_the_grain_is_that_of_the_pictures() -> None:
    parts = (np.arange(8) + 0.5) / 8
    boards = [np.quantile(grain(name, (700, 800)), parts) for name in ("back", "front", "boat")]
    assert np.mean(boards, axis=0) == pytest.approx(GRAIN, abs=0.03)


@pytest.mark.parametrize("finish", load(None).finishes, ids=lambda finish: finish.id)
def test_shipped_finishes_keep_three_to_one_over_any_zone(finish) -> None:
    board = wood(finish.wood, grain("front", (700, 800)))
    tone = luminance(finish.engraving)
    for top in range(0, 700, 100):  # as large as a zone of lettering
        part = board[:, top : top + 100, 100:700]
        mean = np.mean([luminance(tuple(pixel)) for pixel in part[:, ::10, ::10].reshape(3, -1).T])
        assert ratio(tone, float(mean)) == pytest.approx(contrast(finish), rel=0.15)
        assert ratio(tone, float(mean)) >= 3


def stain(folder: Path, colour: str, when: str, finish: str = "sea"):
    file = folder / "workshop.toml"
    head = f'format = 1\n[finishes.{finish}]\ntitle = "sea"\n'
    file.write_text(f'{head}when = "{when}"\nstain = "{colour}"\n', encoding="utf-8")
    return load(file).finish(finish)


def test_a_stain_needs_one_colour(tmp_path: Path) -> None:
    found = stain(tmp_path, "#5c3c26", "before")
    tones = [luminance(tone) for tone in found.wood]
    assert tones == sorted(tones)
    assert np.mean(found.wood, axis=0) == pytest.approx((0x5C, 0x3C, 0x26), abs=4)
    shipped = load(None).finish("walnut")
    assert contrast(found) == pytest.approx(contrast(shipped), rel=0.35)


@pytest.mark.parametrize(("colour", "lighter"), [("#203050", True), ("#d8d4cc", False)])
def test_engraving_through_a_stain_is_told_from_it(
    tmp_path: Path, colour: str, lighter: bool
) -> None:
    found = stain(tmp_path, colour, "before")
    assert contrast(found) >= 3
    assert (luminance(found.engraving) > luminance(found.wood[2])) == lighter


def test_under_a_stain_engraving_is_darker(tmp_path: Path) -> None:
    found = stain(tmp_path, "#8899aa", "after")
    assert luminance(found.engraving) < luminance(found.wood[0])


def test_a_stain_takes_the_place_of_shipped_tones(tmp_path: Path) -> None:
    assert stain(tmp_path, "#203050", "before", "walnut").wood[3][2] > 100
