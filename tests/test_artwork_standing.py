"""Names that stand on the bar of the design that ships: one part, and every letter to be read."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import shapely
from standing_names import KERF, LIMIT, filled, sampled, weak

from proofgen.artwork.artwork import Layer, Made
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.geometry.path import Path, join
from proofgen.orders.order import Line, Order, Source
from proofgen.proofs.caption import FOOT, rows
from proofgen.proofs.type import words

# Letters that hang below the line, with marks below and dots.
TAILS = ("Peggy", "Gregory", "Joseph", "Çağlar", "Nguyễn Thị", "Jacqueline Yang")


@cache
def shop() -> Shop:
    return open_shop()


@cache
def made(name: str) -> Made:
    fields = (("name", name), ("year", "2027"))
    return make_row(Line(Order("F-1", 1, Source("", "", 2), "wavename", fields)), shop())


def front(name: str) -> Layer:
    artwork = made(name).artwork
    assert artwork is not None, (name, [flag.text for flag in made(name).flags])
    return artwork.layers[-1]


def letters(name: str) -> shapely.Geometry:
    artwork = made(name).artwork
    assert artwork is not None
    (own,) = [item.outline for item in artwork.lettering if item.field == "name"]
    return filled(own)


def paths(layer: Layer, operation: str, field: str) -> Path:
    found = [m.path for m in layer.marks if (m.operation, m.field) == (operation, field)]
    return join(found)


def wood(layer: Layer) -> shapely.Geometry:
    cuts = [m.path for m in layer.marks if m.operation.startswith("cut")]
    return filled(join(cuts))


@pytest.mark.parametrize("name", [*sampled(25), *TAILS])
def test_a_name_is_one_part_and_nowhere_thin(name: str) -> None:
    """Width after the kerf; curves and bars as they are written for the machine."""
    shape = wood(front(name))
    assert shape.geom_type == "Polygon"
    assert weak(shape.buffer(-KERF / 2)) == []


@pytest.mark.parametrize("name", TAILS)
def test_the_edge_of_every_letter_shows(name: str) -> None:
    """Half a millimetre beside a letter there is no wood, or a groove: never bare wood."""
    layer = front(name)
    own = letters(name)
    beside = own.buffer(0.5).boundary
    groove = filled(paths(layer, "engrave-area", "name"))
    bare = wood(layer).buffer(-LIMIT / 2).buffer(LIMIT / 2).difference(groove.buffer(0.01))
    assert beside.intersection(wood(layer)).length > 50
    lost = beside.intersection(bare)
    bridges = 2 * 3 * LIMIT  # the name stands on no more than three bars, each crossed twice
    assert lost.length < bridges
    for piece in shapely.get_parts(lost):
        assert piece.length < 2 * LIMIT


@pytest.mark.parametrize("name", TAILS)
def test_nothing_is_engraved_on_a_letter(name: str) -> None:
    own = letters(name).buffer(-0.02)
    for mark in front(name).marks:
        if mark.operation == "engrave-line":
            for line in mark.path.flatten(0.01):
                assert not shapely.LineString(line).intersects(own)
        if mark.operation == "engrave-area":
            assert filled(mark.path).intersection(own).area < 0.01


@pytest.mark.parametrize("name", ["i", "Peggy", "Katherine"])
def test_the_size_told_is_that_of_the_wood(name: str) -> None:
    """Not of the page that it is drawn on: a short name leaves much of that free."""
    artwork = made(name).artwork
    assert artwork is not None
    left, top, right, bottom = shapely.union_all([wood(each) for each in artwork.layers]).bounds
    assert artwork.extent == pytest.approx((right - left, bottom - top), abs=0.02)
    assert artwork.extent[1] < artwork.size[1] - 5
    told = rows(made(name), artwork, inches=False)[-1].left[0].words
    wanted = words(f"{right - left:.0f} \u00d7 {bottom - top:.0f} mm", FOOT)
    assert len(told.polygons) == len(wanted.polygons)
    assert all(map(np.array_equal, told.polygons, wanted.polygons))
