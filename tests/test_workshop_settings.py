"""Settings of the machine by operation, and the minutes of work by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.errors import UnusableError
from proofgen.workshop.read import load
from proofgen.workshop.settings import Setting


def written(folder: Path, text: str) -> Path:
    path = folder / "workshop.toml"
    path.write_text(f"format = 1\n{text}", encoding="utf-8")
    return path


def test_nothing_is_set_that_the_maker_has_not_filled_in() -> None:
    for material in load(None).materials:
        assert material.setting("cut-outside") == Setting()


def test_settings_are_words_or_numbers(tmp_path: Path) -> None:
    text = """
    [materials.birch-3.settings.cut-outside]
    speed = 4
    power = "85 %"
    passes = 2
    air = true
    focus = "1 mm  into the wood"
    """
    shop = load(written(tmp_path, text))
    own = shop.material("birch-3")
    assert own.setting("cut-outside") == Setting("4", "85 %", "2", "on", "1 mm into the wood")
    assert own.setting("engrave-area") == Setting()
    assert shop.material("maple-3").setting("cut-outside") == Setting()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[materials.birch-3.settings.cut]\nspeed = 4", "unknown key 'cut'"),
        ("[materials.birch-3.settings.cut-outside]\nspped = 4", "did you mean 'speed'"),
        ("[materials.birch-3.settings.cut-outside]\nspeed = [4]", "words or a number"),
        ("[steps]\nglue_inset = -1", "'glue_inset' must be between 0 and 50"),
        ("[steps]\nlacquer_dries = 1e9", "'lacquer_dries' must be between"),
        ("[steps.finishes]\nwalnutt = 60", "did you mean 'walnut'"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_its_place(
    tmp_path: Path, text: str, says: str
) -> None:
    with pytest.raises(UnusableError, match=says):
        load(written(tmp_path, text))


def test_a_finish_may_take_longer_than_others(tmp_path: Path) -> None:
    steps = load(written(tmp_path, "[steps]\nstain_dries = 90\nfinishes = {walnut = 720}")).steps
    assert (steps.dries("walnut"), steps.dries("burgundy")) == (720, 90)
    assert steps.glue_sets == load(None).steps.glue_sets > 0
