"""What pictures share is drawn once; lettering on it is what drawing everything anew would give."""

from __future__ import annotations

import io
import zlib
from pathlib import Path
from shutil import copytree, ignore_patterns

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from numpy.typing import NDArray
from PIL import Image
from proof_pieces import lantern, plaque

from proofgen.artwork.artwork import Made
from proofgen.proofs import drawn_by, shelf, wood
from proofgen.proofs.picture import proof_png
from proofgen.proofs.png import band, png
from proofgen.proofs.scene import parted, scene
from proofgen.proofs.stage import SCENE, stage
from proofgen.proofs.still import still
from proofgen.proofs.view import view
from proofgen.workshop.read import load

WORKSHOP = load(None)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path))
    shelf.shelved.cache_clear()
    return tmp_path / "stills"


def pixels(data: bytes) -> NDArray[np.float64]:
    with Image.open(io.BytesIO(data)) as image:
        return np.asarray(image.convert("RGB"), np.float64)


@pytest.mark.parametrize("made", [lantern(), plaque()], ids=["two layers", "one layer"])
def test_lettering_on_a_still_is_what_drawing_it_all_gives(made: Made) -> None:
    assert made.artwork is not None
    whole = scene(made.artwork, WORKSHOP)
    base = still(view(whole, stage(whole.size, whole.hanger is not None)), ())
    anew = base.palette[base.index].astype(np.float64)
    shown = pixels(proof_png(made, WORKSHOP))[:SCENE]
    # Each is within some steps of its own 256 colours; a lost coat would be 30 and more.
    assert np.abs(shown - anew).mean() < 2
    assert np.quantile(np.abs(shown - anew).max(axis=2), 0.999) < 24


def test_a_still_is_kept_and_used_by_another_name(folder: Path) -> None:
    proof_png(lantern("Ada"), WORKSHOP)
    kept = {file: file.stat().st_mtime_ns for file in folder.iterdir() if file.suffix == ".planes"}
    shelf.shelved.cache_clear()
    warm = proof_png(lantern("Brendan"), WORKSHOP)
    assert {f: f.stat().st_mtime_ns for f in folder.iterdir() if f.suffix == ".planes"} == kept
    for file in folder.iterdir():
        file.unlink()
    shelf.shelved.cache_clear()
    assert proof_png(lantern("Brendan"), WORKSHOP) == warm
    proof_png(lantern("Ada", finishes=("natural", "natural")), WORKSHOP)
    assert len(list(folder.glob("*.still"))) == 2


@pytest.mark.parametrize("end", [".still", ".planes"])
def test_a_still_cut_short_is_drawn_again(folder: Path, end: str) -> None:
    first = proof_png(lantern(), WORKSHOP)
    shelf.shelved.cache_clear()
    for file in folder.glob(f"*{end}"):
        file.write_bytes(file.read_bytes()[:1000])
    assert proof_png(lantern(), WORKSHOP) == first
    shelf.shelved.cache_clear()
    assert proof_png(lantern(), WORKSHOP) == first


def test_a_sheet_is_grown_once_and_again_where_its_file_is_cut_short(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    grown: list[str] = []
    grow = wood.grown
    monkeypatch.setattr(wood, "grown", lambda name: grown.append(name) or grow(name))
    sheets = []
    for _ in range(2):
        wood.sheet.cache_clear()
        sheets.append(np.asarray(wood.sheet("front")))
    (file,) = folder.with_name("boards").iterdir()
    file.write_bytes(file.read_bytes()[:5000])
    wood.sheet.cache_clear()
    sheets.append(np.asarray(wood.sheet("front")))
    assert grown == ["front", "front"]
    assert np.array_equal(sheets[0], sheets[1])
    assert np.array_equal(sheets[0], sheets[2])


def test_a_cache_that_cannot_be_written_is_done_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = proof_png(lantern(), WORKSHOP)
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    monkeypatch.setenv("PROOFGEN_CACHE", str(blocked))
    shelf.shelved.cache_clear()
    assert proof_png(lantern(), WORKSHOP) == first


def test_the_oldest_stills_go_first(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    proof_png(lantern(), WORKSHOP)
    (first,) = folder.glob("*.still")
    size = sum(file.stat().st_size for file in folder.iterdir())
    monkeypatch.setattr(shelf, "MOST", int(size * 1.5))
    proof_png(lantern(finishes=("natural", "natural")), WORKSHOP)
    (second,) = folder.glob("*.still")
    assert second != first
    assert len(list(folder.iterdir())) == 2


def test_a_still_is_drawn_anew_when_what_draws_it_has_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn_by.drawn_by.cache_clear()
    found = [drawn_by.drawn_by()]
    for room in drawn_by.ROOMS:
        copytree(drawn_by.PACKAGE / room, tmp_path / room, ignore=ignore_patterns("__pycache__"))
    monkeypatch.setattr(drawn_by, "PACKAGE", tmp_path)
    for file in ("workshop/contrast.py", "geometry/weld.py", "faces/face.py", "proofs/wood.py"):
        (tmp_path / file).write_text("changed")
        drawn_by.drawn_by.cache_clear()
        found.append(drawn_by.drawn_by())
    monkeypatch.setattr(drawn_by, "version", lambda name: f"{name} 99")
    drawn_by.drawn_by.cache_clear()
    found.append(drawn_by.drawn_by())
    drawn_by.drawn_by.cache_clear()
    assert len(set(found)) == 6


def test_what_is_alike_for_all_stays() -> None:
    made = plaque()
    assert made.artwork is not None
    found = parted(made.artwork, WORKSHOP)
    assert [mark.field for mark in found.own[0]] == ["name"]
    assert [mark.field for mark in found.scene.layers[0].marks] == ["year", ""]


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(1, 40), min_size=1, max_size=5), st.integers(1, 70), st.integers(0, 2**32)
)
def test_joined_bands_are_one_stream(heights: list[int], width: int, seed: int) -> None:
    rows = np.random.default_rng(seed).integers(0, 256, (sum(heights), width)).astype(np.uint8)
    parts = np.split(rows, np.cumsum(heights)[:-1])
    palette = np.repeat(np.arange(256, dtype=np.uint8)[:, None], 3, axis=1)
    data = png((width, len(rows)), palette, map(band, parts), {})
    start = data.index(b"IDAT") + 4
    length = int.from_bytes(data[start - 8 : start - 4], "big")
    # zlib checks the Adler-32 itself.
    assert zlib.decompress(data[start : start + length]) == np.pad(rows, ((0, 0), (1, 0))).tobytes()
    with Image.open(io.BytesIO(data)) as image:
        assert np.array_equal(np.asarray(image), rows)
