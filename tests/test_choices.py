"""Pictures of several pieces: what one may choose from, and all of an order."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from books import write_book
from numpy.typing import NDArray
from PIL import Image
from proof_pieces import lantern, plaque

from proofgen import pipeline
from proofgen.choices import MOST, as_text, choices
from proofgen.errors import UnusableError
from proofgen.proofs.gallery import Exhibit, Sign, gallery_png
from proofgen.proofs.scene import scene
from proofgen.proofs.stage import stage
from proofgen.sets import write_sets
from proofgen.workshop.read import load


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def workshop(folder: Path, text: str) -> None:
    (folder / "workshop.toml").write_text(f"format = 1\n{text}", encoding="utf-8")


def pixels(path: Path) -> NDArray[np.float64]:
    with Image.open(path) as image:
        assert image.size == (1080, 1350)
        return np.asarray(image.convert("RGB"), np.float64)


def test_designs_are_numbered_and_priced_as_the_catalogue_says(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['plaque', 'boat']\nprices = { boat = 18.5 }")
    found = choices({"name": "Ida"}, None, pipeline.Options())
    assert [(c.number, c.made.order.design, c.price) for c in found.tried] == [
        (1, "plaque", ""),
        (2, "boat", "$18.50"),
    ]
    assert found.picture == here / "choices.png"
    assert "2  Regatta boat: $18.50" in as_text(found)
    named = pixels(found.picture)
    other = choices({"name": "Ada", "year": "2030"}, here / "b.png", pipeline.Options())
    assert not np.array_equal(named, pixels(other.picture))
    assert found.tried[0].made.order.field("year") == "2027"
    assert other.tried[0].made.order.field("year") == "2030"


def test_a_name_that_does_not_fit_says_why_and_is_left_out(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['boat', 'plaque']")
    name = "Bartholomew-Alexander Featherstonehaugh"
    found = choices({"name": name}, None, pipeline.Options())
    assert [choice.number for choice in found.tried] == [0, 1]
    assert "cap height" in as_text(found).splitlines()[0]
    alone = here / "alone.toml"
    alone.write_text("format = 1\ncatalogue.designs = ['boat']", encoding="utf-8")
    with pytest.raises(UnusableError, match="fits on no design"):
        choices({"name": name}, here / "none.png", pipeline.Options(workshop=alone))
    assert not (here / "none.png").exists()


def test_no_name_gives_the_advert_without_watermark(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['boat']")
    found = choices({}, None, pipeline.Options())
    assert found.picture == here / "advert.png"
    named = choices({"name": "Katherine"}, None, pipeline.Options())
    # Beside the piece only the word is drawn.
    beside = np.s_[300:1000, 20:60]
    assert np.ptp(pixels(found.picture)[beside], axis=(0, 1)).max() < 40
    assert np.abs(pixels(found.picture)[beside] - pixels(named.picture)[beside]).max() > 8


def test_more_than_half_a_dozen_are_not_shown(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("proofgen.choices.MOST", 2)
    workshop(here, "[catalogue]\ndesigns = ['boat', 'plaque', 'lantern']")
    found = choices({"name": "Ida"}, None, pipeline.Options())
    assert found.left_out == ("lantern",)
    assert MOST == 6


def test_an_unknown_design_is_named(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['yacht']")
    with pytest.raises(UnusableError, match=r"workshop\.toml, catalogue: .*'yacht'"):
        choices({"name": "Ida"}, None, pipeline.Options())


def family(folder: Path, names: list[str]) -> Path:
    rows = [{"order": "7", "name": n, "year": 2027, "design": "boat"} for n in names]
    single = {"order": "8", "name": "Solo", "year": 2027, "design": "boat"}
    return write_book(folder / "orders.xlsx", [*rows, single])


def test_an_order_of_several_pieces_gets_one_picture_of_all(tmp_path: Path) -> None:
    run = pipeline.proof(family(tmp_path, ["Ada", "Bo"]), pipeline.Options(), lambda *_: None)
    (picture,) = run.sets
    assert picture == tmp_path / "proofs" / "order-7-set.png"
    before = picture.stat().st_mtime_ns
    again = pipeline.proof(tmp_path / "orders.xlsx", pipeline.Options(), lambda *_: None)
    assert again.sets == (picture,)
    assert picture.stat().st_mtime_ns == before
    pipeline.proof(family(tmp_path, ["Ada", "Bea"]), pipeline.Options(), lambda *_: None)
    assert picture.stat().st_mtime_ns > before
    with Image.open(picture) as image:
        assert image.info["Order"] == "7"
        assert len(image.info["Proof code"].split(", ")) == 2


def test_a_recorded_finish_that_is_gone_leaves_the_order_without_one_picture(
    tmp_path: Path,
) -> None:
    made = lantern()
    assert made.artwork is not None
    gone = replace(made.artwork.layers[0], finish="gone")
    old = replace(made, artwork=replace(made.artwork, layers=(gone, made.artwork.layers[1])))
    assert write_sets([made, made], [2], tmp_path, load(None)) != ()
    assert write_sets([old, made], [2], tmp_path / "other", load(None)) == ()


def test_many_pieces_are_shared_out_over_pictures(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("proofgen.sets.MOST", 2)
    run = pipeline.proof(family(tmp_path, ["Ada", "Bo", "Cy"]), pipeline.Options(), lambda *_: None)
    assert [path.name for path in run.sets] == ["order-7-set-1.png", "order-7-set-2.png"]


@pytest.mark.parametrize("count", [1, 2, 3, 5, 7, 12])
def test_any_number_of_pieces_finds_its_place(count: int) -> None:
    pieces = [lantern() if number % 3 else plaque() for number in range(count)]
    shown = [scene(made.artwork, load(None)) for made in pieces if made.artwork]
    exhibits = [Exhibit(each, "A name", "what it is", "1") for each in shown]
    png = gallery_png(exhibits, Sign("Left", "Right", "note"), True, {})
    assert len(png) < 500_000


def test_a_piece_keeps_its_proportions_in_a_cell() -> None:
    wide, slim = stage((200, 50), False, (400, 300)), stage((50, 200), True, (400, 300))
    assert (wide.width - 48) / (wide.height - 48) == pytest.approx(4, rel=0.05)
    for place in (wide, slim):
        assert place.left >= 0
        assert place.top >= 0
        assert place.left + place.width <= 300
        assert place.top + place.height <= 400
