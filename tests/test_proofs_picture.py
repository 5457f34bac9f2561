"""The proof picture: its file, its honesty, and that it shows what is made."""

from __future__ import annotations

import base64
import io
import struct
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import png
import pytest
import resvg_py
from numpy.typing import NDArray
from PIL import Image
from proof_pieces import lantern, plaque

from proofgen.artwork.artwork import Artwork, Made
from proofgen.geometry.polygons import area
from proofgen.proofs.caption import WIDE, laid, rows
from proofgen.proofs.engraving import engraved
from proofgen.proofs.picture import proof_png
from proofgen.proofs.shelf import shelved
from proofgen.proofs.soft import amounts
from proofgen.proofs.stage import SCENE, Stage, stage
from proofgen.proofs.wood import sheet
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Workshop

WORKSHOP = load(None)


def drawn(made: Made, workshop: Workshop = WORKSHOP) -> NDArray[np.float64]:
    with Image.open(io.BytesIO(proof_png(made, workshop))) as image:
        return np.asarray(image.convert("RGB"), np.float64)


def piece(made: Made) -> Artwork:
    assert made.artwork is not None
    return made.artwork


def place(made: Made) -> Stage:
    return stage(piece(made).size, piece(made).hanger != "none")


def without(made: Made, field: str) -> Made:
    layers = tuple(
        replace(layer, marks=tuple(mark for mark in layer.marks if mark.field != field))
        for layer in piece(made).layers
    )
    return replace(made, artwork=replace(piece(made), layers=layers))


def test_inches_and_watermark_are_as_the_workshop_says() -> None:
    told = replace(WORKSHOP, proofs=replace(WORKSHOP.proofs, inches=True))
    clear = replace(WORKSHOP, proofs=replace(WORKSHOP.proofs, watermark=False))
    plain, inches, bare = (drawn(lantern(), shop) for shop in (WORKSHOP, told, clear))
    assert np.array_equal(plain[:SCENE], inches[:SCENE])
    assert not np.array_equal(plain[SCENE:], inches[SCENE:])
    assert np.array_equal(plain[SCENE:], bare[SCENE:])
    # The wall beside the piece is smooth without the word.
    assert np.abs(np.diff(bare[200:900, 40])).max() < np.abs(np.diff(plain[200:900, 40])).max()


def chunks(png: bytes) -> Iterator[tuple[str, bytes]]:
    at = 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        yield png[at + 4 : at + 8].decode(), png[at + 8 : at + 8 + length]
        at += length + 12


def test_the_file_is_small_and_says_only_order_and_code() -> None:
    png = proof_png(lantern(), WORKSHOP)
    found = [(kind, data) for kind, data in chunks(png) if kind != "IDAT"]
    assert len(png) < 500_000
    assert [kind for kind, _ in found] == ["IHDR", "sRGB", "PLTE", "pHYs", "iTXt", "iTXt", "IEND"]
    header, phys = dict(found)["IHDR"], dict(found)["pHYs"]
    assert struct.unpack(">IIBB", header[:10]) == (1080, 1350, 8, 3)
    assert struct.unpack(">IIB", phys) == (11811, 11811, 1)
    with Image.open(io.BytesIO(png)) as image:
        image.load()
        texts = {key: value for key, value in image.info.items() if isinstance(value, str)}
    assert texts == {"Order": "1042", "Proof code": "K7MQ-42TX"}


def test_the_same_piece_drawn_anew_gives_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = []
    for folder in (tmp_path / "one", tmp_path / "other"):
        monkeypatch.setenv("PROOFGEN_CACHE", str(folder))
        sheet.cache_clear()
        shelved.cache_clear()
        found.append(proof_png(lantern(), WORKSHOP))
        assert len(list(folder.glob("stills/*.still"))) == 1
    assert found[0] == found[1]


def test_only_the_artwork_is_drawn() -> None:
    made = lantern()
    order = replace(
        made.order, fields=(("name", "Somebody else"),), design="boat", due="2027-06-01"
    )
    other = replace(made, order=order)
    assert proof_png(other, WORKSHOP) == proof_png(made, WORKSHOP)
    with pytest.raises(ValueError, match="without artwork"):
        proof_png(replace(made, artwork=None), WORKSHOP)


@pytest.mark.parametrize("made", [lantern(), plaque()], ids=["lantern", "plaque"])
def test_lettering_has_its_exact_area(made: Made) -> None:
    marks = [m for layer in piece(made).layers for m in layer.marks if m.field == "name"]
    exact = area(marks[0].path, 1e-4) * place(made).scale ** 2
    mask = amounts(engraved(marks, place(made)))
    assert mask.sum(dtype=np.float64) == pytest.approx(exact, rel=5e-3)


@pytest.mark.parametrize("made", [lantern(), plaque()], ids=["lantern", "plaque"])
def test_shading_makes_no_stroke_look_thicker(made: Made) -> None:
    marks = [m for layer in piece(made).layers for m in layer.marks if m.field == "name"]
    at = place(made)
    mask = amounts(engraved(marks, at))
    shown, bare = (drawn(m)[at.rows, at.columns] for m in (made, without(made, "name")))
    # Counted as engraved: what is nearer the middle tone of wide strokes than the wood.
    change = np.median(shown[mask > 0.999], axis=0) - bare
    share = ((shown - bare) * change).sum(axis=2) / ((change**2).sum(axis=2) + 1e-9)
    assert ((share > 0.5) & (mask > 0)).sum() == pytest.approx(mask.sum(), rel=0.02)


def test_a_line_is_as_thin_as_the_beam_draws_it() -> None:
    made = lantern()
    lines = [m for m in piece(made).layers[1].marks if m.operation == "engrave-line"]
    mask = amounts(engraved(lines[1:], place(made)))  # four sides of 52 mm, drawn to and fro
    assert mask.sum() == pytest.approx(52 * 0.3 * place(made).scale ** 2, rel=0.01)


def test_letters_cut_through_show_the_wall_behind() -> None:
    made = plaque()
    at = place(made)
    picture = drawn(made)[at.rows, at.columns]
    solid = drawn(without(made, "year"))[at.rows, at.columns]
    year = [m for m in piece(made).layers[0].marks if m.field == "year"]
    inside = engraved([replace(m, operation="engrave-area") for m in year], at) > 0.999
    saturation = np.ptp(picture, axis=2)[inside], np.ptp(solid, axis=2)[inside]
    assert np.median(saturation[0]) < 25 < 50 < np.median(saturation[1])


def test_the_ribbon_leaves_the_top_of_the_picture_and_no_hanger_draws_none() -> None:
    red, green, blue = WORKSHOP.hanger("ribbon").colour
    hung, loose = drawn(lantern())[0], drawn(lantern(hanger="none"))[0]
    near = np.abs(hung - np.array([red, green, blue])).max(axis=1) < 25
    strands = np.flatnonzero(near)
    assert strands.min() < 540 < strands.max()
    assert np.ptp(loose, axis=1).max() < 15


@pytest.mark.parametrize("name", ["W" * 90, "Bartholomew " * 8, "Ж" * 40, "אבגדה " * 12])
def test_the_caption_never_leaves_the_strip(name: str) -> None:
    made = lantern("A")
    said = piece(made).lettering[0]
    line = replace(said.lines[0], text=name.strip())
    texts = tuple(replace(said, field=field, lines=(line,)) for field in ("name", "inscription"))
    picture = drawn(replace(made, artwork=replace(piece(made), lettering=texts)))[SCENE + 4 :]
    assert np.ptp(picture[:, :42], axis=(0, 1)).max() <= 2
    assert np.ptp(picture[:, -42:], axis=(0, 1)).max() <= 2
    assert np.ptp(picture[-4:], axis=(0, 1)).max() <= 2


@pytest.mark.parametrize("number", ["W" * 60, "1042-" * 12, "7"])
def test_a_long_order_number_is_broken_and_hardly_smaller(number: str) -> None:
    made = lantern()
    told = rows(replace(made, order=replace(made.order, number=number)), piece(made), False)
    usual = len(rows(made, piece(made), False))
    assert (len(told) > usual) == (len(number) > 1)
    for row in told:
        assert min(scale for _, _, scale in laid(row, WIDE, 1.0)) >= 0.85


def test_two_other_readers_see_the_same_pixels() -> None:
    data = proof_png(lantern(), WORKSHOP)
    pillow = drawn(lantern())
    width, height, rows, _ = png.Reader(bytes=data).asRGB8()
    assert np.array_equal(np.vstack([list(row) for row in rows]).reshape(pillow.shape), pillow)
    href = f"data:image/png;base64,{base64.b64encode(data).decode()}"
    page = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}">'
        f'<image width="{width}" height="{height}" image-rendering="optimizeSpeed" href="{href}"/>'
        "</svg>"
    )
    with Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=page)))) as image:
        assert np.array_equal(np.asarray(image.convert("RGB")), pillow)
