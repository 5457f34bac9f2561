"""Finishes: contrast by the formula of WCAG 2.2, and stains of one colour."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from proofgen.proofs.engraving import engrave, relief
from proofgen.proofs.paint import lay
from proofgen.proofs.soft import amounts, soft
from proofgen.proofs.wood import grain, wood
from proofgen.workshop.contrast import GRAIN, contrast, luminance, ratio, wood_luminance
from proofgen.workshop.read import load
from proofgen.workshop.stain import BROWN, TOASTED, engraved, stained
from proofgen.workshop.workshop import Finish

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
    boards = [
        np.quantile(amounts(grain(name, (700, 800))), parts) for name in ("back", "front", "boat")
    ]
    assert np.mean(boards, axis=0) == pytest.approx(GRAIN, abs=0.03)


@pytest.mark.parametrize("finish", load(None).finishes, ids=lambda finish: finish.id)
def test_shipped_finishes_keep_three_to_one_over_any_zone(finish) -> None:
    board = wood(finish.wood, grain("front", (700, 800)))
    tone = luminance(finish.engraving)
    for top in range(0, 700, 100):  # as large as a zone of lettering
        part = board[:, top : top + 100, 100:700]
        mean = mean_luminance(part[:, ::10, ::10].reshape(3, -1))
        assert ratio(tone, mean) == pytest.approx(contrast(finish), rel=0.15)
        assert ratio(tone, mean) >= 3


def mean_luminance(pixels: NDArray[np.floating]) -> float:
    """Of pixels (3, n), by the formula of WCAG 2.2."""
    part = pixels / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return float((np.array([0.2126, 0.7152, 0.0722]) @ linear).mean())


def stain(folder: Path, colour: str, when: str, finish: str = "sea"):
    file = folder / "workshop.toml"
    head = f'format = 1\n[finishes.{finish}]\ntitle = "sea"\n'
    file.write_text(f'{head}when = "{when}"\nstain = "{colour}"\n', encoding="utf-8")
    return load(file).finish(finish)


def test_a_stain_is_the_mean_of_its_board(tmp_path: Path) -> None:
    for colour in ("#5c3c26", "#2f5d62", "#808080"):
        found = stain(tmp_path, colour, "before")
        tones = [luminance(tone) for tone in found.wood]
        assert tones == sorted(tones)
        board = wood(found.wood, grain("front", (700, 800)))
        assert board.mean(axis=(1, 2)) == pytest.approx(tuple(bytes.fromhex(colour[1:])), rel=0.02)


def test_a_stain_like_the_shipped_one_reads_like_it(tmp_path: Path) -> None:
    found = stain(tmp_path, "#5c3c26", "before")
    assert contrast(found) == pytest.approx(contrast(load(None).finish("walnut")), rel=0.35)


def drawn(finish: Finish) -> float:
    """The contrast of strokes of 6 px, a name's on a phone, as they are drawn on a board."""
    tone = grain("front", (700, 800))[300:420, 200:500]
    strokes = np.zeros((120, 300), np.float32)
    strokes[40:80] = np.arange(300) % 20 < 6
    board = wood(finish.wood, tone).copy()
    bare = mean_luminance(board.reshape(3, -1))
    cut = relief(soft(strokes), soft(np.ones_like(strokes)), 9.0)
    lay(engrave(cut, tone, finish), board)
    return ratio(mean_luminance(board[:, strokes == 1]), bare)


GRID = tuple(product(range(0, 256, 51), repeat=3))


@pytest.mark.parametrize("finish", load(None).finishes, ids=lambda finish: finish.id)
def test_strokes_in_shipped_finishes_are_drawn_at_three_to_one(finish: Finish) -> None:
    assert drawn(finish) >= 3


def test_engraving_through_any_stain_reads_at_three_to_one() -> None:
    for colour in GRID:
        tones = stained(colour)
        tone = engraved(tones, colour, "before")
        assert drawn(Finish("sea", "sea", "before", tones, tone)) >= 3, colour


def test_engraving_is_told_no_worse_than_in_either_usual_tone() -> None:
    for colour in GRID:
        tones = stained(colour)
        board = wood_luminance(tones)
        found = luminance(engraved(tones, colour, "before"))
        best = max(ratio(luminance(tone), board) for tone in (TOASTED, BROWN))
        assert ratio(found, board) >= best, colour
        assert luminance(engraved(tones, colour, "after")) <= luminance(BROWN)


@pytest.mark.parametrize(("colour", "lighter"), [("#203050", True), ("#d8d4cc", False)])
def test_through_a_dark_stain_engraving_is_lighter_through_a_pale_one_darker(
    tmp_path: Path, colour: str, lighter: bool
) -> None:
    found = stain(tmp_path, colour, "before")
    assert (luminance(found.engraving) > luminance(found.wood[2])) == lighter


def test_under_a_stain_engraving_is_darker(tmp_path: Path) -> None:
    found = stain(tmp_path, "#8899aa", "after")
    assert luminance(found.engraving) < luminance(found.wood[0])


def test_a_stain_takes_the_place_of_shipped_tones(tmp_path: Path) -> None:
    assert stain(tmp_path, "#203050", "before", "walnut").wood[3][2] > 90
