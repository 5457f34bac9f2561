"""Whole names: on the wave in smaller letters, made up where they are thin, on a piece for a board;
in a hull, where not every size that a search comes to has a place.
"""

from __future__ import annotations

from functools import cache

import pytest
import shapely
from standing_names import CHORDS, KERF, LIMIT, filled, weak

from proofgen.artwork.artwork import Artwork
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.geometry.path import join
from proofgen.orders.order import Line, Order, Source

NAMES = (
    "Katharina Wagner",
    "Julio Hernández Londoño",
    "Dr. Andreas Mac Corrghamhna",
    "Małgorzata Wojciechowska",
    "Indíana Aðaldal Snæhólmsdóttir",
    "Nguyễn Quang Đẩu",
    "Sr(a). Santino Nicolas Gonzalez",
)


@cache
def shop() -> Shop:
    return open_shop()


def artwork(name: str, design: str = "wavename") -> Artwork:
    fields = (("name", name), ("year", "2027"))
    made = make_row(Line(Order("F-1", 1, Source("", "", 2), design, fields)), shop())
    assert made.artwork is not None, [flag.text for flag in made.flags]
    return made.artwork


def wood(made: Artwork) -> shapely.Geometry:
    return filled(join(m.path for m in made.layers[-1].marks if m.operation.startswith("cut")))


def hairlines(shape: shapely.Geometry) -> list[shapely.Geometry]:
    """Pieces that no disc of the least width reaches, longer than half as much again and full."""
    width = LIMIT - 2 * CHORDS
    opened = shape.buffer(-width / 2, quad_segs=32).buffer(width / 2 * 1.002, quad_segs=32)
    return [p for p in shapely.get_parts(shape.difference(opened)) if is_stroke(p, width)]


def is_stroke(piece: shapely.Geometry, width: float) -> bool:
    length = 2 * shapely.minimum_bounding_radius(piece)
    return bool(length > 1.5 * width and piece.area > 0.75 * width * length)


@pytest.mark.parametrize("name", NAMES)
def test_a_whole_name(name: str) -> None:
    made = artwork(name)
    shape = wood(made).buffer(-KERF / 2)
    assert shape.geom_type == "Polygon"
    assert weak(shape) == []
    assert hairlines(shape) == []
    board = shop().workshop.material("birch-3").board
    assert made.extent[0] <= board.width - 2 * board.margin


def test_the_measure_sees_a_hairline() -> None:
    thin = shapely.union_all([shapely.box(0, 0, 8, 8), shapely.box(7, 3, 14, 4.6)])
    assert len(hairlines(thin)) == 1
    assert hairlines(shapely.box(0, 0, 8, 8)) == []


def test_an_eye_too_small_to_cut_is_engraved() -> None:
    """The loops of d and l in letters of 15 mm: what would be cut out of them would stay stuck."""
    made = artwork("Indíana Aðaldal Snæhólmsdóttir")
    shape = wood(made)
    engraved = [
        shapely.Polygon(line)
        for mark in made.layers[-1].marks
        if (mark.operation, mark.field) == ("engrave-area", "name")
        for line in mark.path.flatten(0.01)
    ]
    (letters,) = [each.outline for each in made.lettering if each.field == "name"]
    eyes = [shapely.Polygon(line) for line in letters.flatten(0.01)]
    spots = [eye.representative_point() for eye in eyes if 0.3 < eye.area < 5.0]
    left = [spot for spot in spots if shape.contains(spot)]
    assert left
    assert all(any(mark.contains(spot) for mark in engraved) for spot in left)


def test_a_size_for_which_there_is_no_place_gives_way_to_a_smaller_one() -> None:
    slot = next(each for each in shop().templates["boat"].slots if each.field == "name")
    wanted = slot.cap_height.wanted
    (name,) = (e for e in artwork("Karaca Sakarya", "boat").lettering if e.field == "name")
    assert 0.95 * wanted < name.cap_height < wanted
