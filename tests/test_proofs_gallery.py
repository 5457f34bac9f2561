"""Pictures of several pieces: as legible as one alone, on a phone too."""

from __future__ import annotations

import io
from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, strategies as st
from numpy.typing import NDArray
from PIL import Image
from proof_pieces import lantern, plaque, shipped

from proofgen.artwork.artwork import Made
from proofgen.proofs.backdrop import backdrop
from proofgen.proofs.breaking import broken
from proofgen.proofs.caption import RULE
from proofgen.proofs.engraving import engraved
from proofgen.proofs.gallery import Sign, gallery_png
from proofgen.proofs.grid import FOOT, TITLE, arranged
from proofgen.proofs.labels import EDGE, HEAD, LEAST, Exhibit, labels
from proofgen.proofs.paint import lay
from proofgen.proofs.scene import Scene, scene
from proofgen.proofs.spelled import spelled
from proofgen.proofs.stage import HEIGHT, MARGIN, SCENE, WIDTH, stage
from proofgen.proofs.type import BOLD, words
from proofgen.proofs.view import behind, over, view
from proofgen.workshop.contrast import LEAST as CONTRAST, ratio
from proofgen.workshop.read import load

WORKSHOP = load(None)
SIGN = Sign("Left", "Right", "note")
INCHES = ("$18.50", "308 \u00d7 120 mm", "(12.1 \u00d7 4.7 in)")


def shown(made: Made) -> Scene:
    assert made.artwork is not None
    return scene(made.artwork, WORKSHOP)


def pixels(exhibits: list[Exhibit]) -> NDArray[np.float64]:
    with Image.open(io.BytesIO(gallery_png(exhibits, SIGN, False, {}))) as image:
        return np.asarray(image.convert("RGB"), np.float64)


def bright(rgb: NDArray[np.float64]) -> NDArray[np.float64]:
    """Relative luminance by the formula of WCAG 2.2."""
    part = rgb / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return np.asarray(linear @ np.array([0.2126, 0.7152, 0.0722]))


@pytest.mark.parametrize("design", ["boat", "plaque", "medallion"])
def test_a_sixth_of_a_picture_still_has_its_lettering_at_three_to_one(design: str) -> None:
    piece = shown(shipped(design, "walnut"))
    exhibits = [Exhibit(piece, "Title", INCHES, str(n + 1)) for n in range(6)]
    picture = bright(pixels(exhibits))
    names = [mark for mark in piece.layers[-1].marks if mark.field == "name"]
    grid = arranged(exhibits, False)
    place = grid.place(0, exhibits[0])
    part = picture[grid.cell(0)][place.rows, place.columns]
    mask = engraved(names, place)
    rows, columns = np.nonzero(mask)
    box = np.s_[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    body = view(piece, place).masks[-1][box] == 255
    wood = part[box][body & (engraved(piece.layers[-1].marks, place)[box] == 0)]
    core = part[mask > 229]
    assert len(core) > 50
    assert ratio(float(core.mean()), float(wood.mean())) >= CONTRAST


def catalogue(*designs: str) -> list[Exhibit]:
    scenes = [shown(shipped(design, "walnut")) for design in designs]
    return [Exhibit(each, "Title", INCHES, str(n + 1)) for n, each in enumerate(scenes)]


@pytest.mark.parametrize("alike", [False, True])
@pytest.mark.parametrize("count", [1, 2, 5, 6, 12])
def test_pieces_and_labels_keep_to_themselves(count: int, alike: bool) -> None:
    designs = ("boat", "lantern", "medallion", "plaque", "wavename", "remembrance")
    exhibits = catalogue(*(designs * 2)[:count])
    grid = arranged(exhibits, alike)
    taken = np.zeros((HEIGHT, WIDTH), int)
    taken[:TITLE] = taken[-FOOT:] = 1
    for number, exhibit in enumerate(exhibits):
        (rows, columns), place = grid.cell(number), grid.place(number, exhibit)
        width, height = exhibit.scene.size
        top, left = rows.start + place.top + MARGIN, columns.start + place.left + MARGIN
        deep, wide = int(height * place.scale), int(width * place.scale)
        assert columns.start + MARGIN <= left
        assert left + wide <= columns.stop - MARGIN
        taken[top : top + deep, left : left + wide] += 1
        taken[grid.label(number)] += 1
    assert taken.max() == 1


def test_unlike_pieces_are_as_large_as_each_other_to_the_eye() -> None:
    """Five of one catalogue, which stood in three rows of up to 104 px once."""
    exhibits = catalogue("boat", "lantern", "medallion", "plaque", "wavename")
    grid = arranged(exhibits, False)
    sides = [
        scale * sqrt(each.scene.size[0] * each.scene.size[1])
        for each, scale in zip(exhibits, grid.scales, strict=True)
    ]
    assert sides == pytest.approx([sides[0]] * 5)
    assert sides[0] > 250
    assert grid.rows == (3, 2)


def test_pieces_of_one_order_have_one_scale() -> None:
    grid = arranged(catalogue("boat", "wavename", "medallion"), True)
    assert len(set(grid.scales)) == 1


def test_what_hangs_in_a_lower_row_hangs_from_a_rail() -> None:
    exhibits = catalogue(*["medallion"] * 6)
    picture = pixels(exhibits)
    rows = arranged(exhibits, False).rows
    top = TITLE + arranged(exhibits, False).heights[0]
    assert len(rows) > 1
    assert np.abs(picture[top + 1] - RULE).max() < 12
    assert np.abs(picture[top + 12] - RULE).max() > 30


def test_a_piece_in_half_the_room_looks_as_it_does_in_all_of_it() -> None:
    piece = replace(shown(lantern()), watermark=False)
    large, small = (
        stage(piece.size, True, (SCENE // part, WIDTH // part), 8.0 / part) for part in (1, 2)
    )
    drawn = []
    for place in (large, small):
        seen = view(piece, place)
        canvas = backdrop(place.canvas)
        lay((*behind(seen), *over(seen, -1)), canvas)
        middle = place.top + place.height // 2, place.left + place.width // 2
        reach = round(50 * place.scale), round(37.5 * place.scale)
        box = tuple(slice(m - r, m + r) for m, r in zip(middle, reach, strict=True))
        drawn.append(canvas[:, *box])
    # Blocks of 2.5 mm, so that lines of the grain do not count.
    large_blocks = drawn[0].reshape(3, 40, 20, -1, 20)[:, :, :, :30].mean(axis=(2, 4))
    small_blocks = drawn[1].reshape(3, 40, 10, -1, 10)[:, :, :, :30].mean(axis=(2, 4))
    # As many pixels of scorch, shadow and wall in both would make it 4.8.
    assert np.abs(large_blocks - small_blocks).mean() < 3


def test_labels_have_one_size_that_a_phone_shows() -> None:
    piece = shown(plaque())
    titles = ("Boat", "Remembrance tablet of the harbour", "Plaque")
    exhibits = [Exhibit(piece, title, INCHES, "1") for title in titles]
    for width in (540, 360, 270):
        found = labels(exhibits, width)
        assert len({label.size for label in found}) == 1
        assert found[0].size >= LEAST
        lines = [line for label in found for line in (*label.title, *label.foot)]
        assert max(line.width for line in lines) <= width - 2 * EDGE
    assert [len(label.title) for label in labels(exhibits, 360)] == [1, 2, 1]
    assert labels(exhibits[:1], 360)[0].size > LEAST


def test_a_long_spelled_name_takes_lines_and_gets_no_smaller() -> None:
    exhibit = Exhibit(shown(plaque()), "Featherstonehaugh-Wolverton", ("K7MQ-42TX",), spell=True)
    (label,) = labels([exhibit], 270)
    assert len(label.title) >= 2
    assert max(line.width for line in label.title) <= 270 - 2 * EDGE


def test_a_name_of_two_lines_is_two_and_marked() -> None:
    piece = shown(plaque())
    heads = ("Mary\nAnn", "Mary / Ann", "Anna-\nLena", "Anna-Lena")
    found = [labels([Exhibit(piece, head, (), spell=True)], 400)[0].title for head in heads]
    assert [len(lines) for lines in found] == [2, 1, 2, 1]
    assert [len(line.polygons) for line in found[0]] == [
        len(spelled("Mary", HEAD).polygons) + 1,
        len(spelled("Ann", HEAD).polygons),
    ]


def test_a_space_at_which_a_spelled_name_is_broken_is_seen() -> None:
    piece = shown(plaque())
    exhibit = Exhibit(piece, "Grandma Josephine", ("K7MQ-42TX",), spell=True)
    (label,) = labels([exhibit], 270)
    assert [len(line.polygons) for line in label.title] == [
        len(spelled("Grandma", HEAD).polygons) + 1,
        len(spelled("Josephine", HEAD).polygons),
    ]
    assert max(line.width for line in label.title) <= 270 - 2 * EDGE
    (plain,) = labels([replace(exhibit, spell=False)], 140)
    assert plain.title[0] == words("Grandma", plain.size, BOLD)


@given(st.text("ab c-\né\u0301", max_size=40), st.integers(1, 12))
def test_broken_text_is_all_there_and_fits(text: str, room: int) -> None:
    lines = broken(text, room, len, anywhere=True)
    assert "".join(lines) == text
    # A letter with its marks is never broken.
    longest = max(room, 1 + text.count("\u0301"))
    assert all(len(line.rstrip(" \n")) <= longest for line in lines)


def test_each_hanger_keeps_its_own_colour() -> None:
    mixed = pixels([Exhibit(shown(lantern(hanger=h)), "A", ("b",)) for h in ("ribbon", "cord")])
    alone = pixels([Exhibit(shown(lantern(hanger="cord")), "A", ("b",))] * 2)
    top = np.s_[TITLE : TITLE + 60, 560:1060]
    cord = np.abs(alone[top] - np.median(alone[top], axis=(0, 1))).max(axis=2) > 40
    assert cord.sum() > 200
    redness = mixed[top][cord][:, 0] - mixed[top][cord][:, 1]
    assert redness.max() <= (alone[top][cord][:, 0] - alone[top][cord][:, 1]).max() + 8


def test_the_watermark_goes_over_cells_and_never_over_lettering() -> None:
    marked = [Exhibit(shown(lantern()), "A", ("b",))] * 4
    bare = [replace(each, scene=replace(each.scene, watermark=False)) for each in marked]
    change = np.abs(pixels(marked) - pixels(bare)).max(axis=2)
    grid = arranged(marked, False)
    place = grid.place(0, marked[0])
    piece = marked[0].scene.layers[1]
    lettered = engraved([m for m in piece.marks if m.field in ("name", "year")], place) > 0
    cell = change[grid.cell(0)][place.rows, place.columns]
    # Steps of the two palettes are smaller than what the words do.
    assert np.median(cell[lettered]) <= 3
    words = change[TITLE:-FOOT] > 6
    assert words.sum() > 3000
    assert words[:, 535:540].any()
    assert words[:, 540:545].any()
