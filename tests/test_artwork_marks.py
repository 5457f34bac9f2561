"""Names with dots and accents that stand: each mark hangs on its own letter and on no other."""

from __future__ import annotations

from functools import cache

import pytest
import shapely
from standing_names import KERF, filled, weak

from proofgen.artwork.artwork import Made
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.faces.face import Face
from proofgen.geometry.path import Path, join
from proofgen.lettering.lettering import Lettering
from proofgen.lettering.naming import letters
from proofgen.orders.order import Line, Order, Source

NAMES = (
    *("Bjørg", "Anaïs", "Loïc", "José Martí", "Noé", "Elisa", "Lilja", "Žofie", "Jiří", "Čeněk"),
    *("Tomáš", "Ondřej", "Růžena", "Małgorzata", "Żaneta", "Győző", "Tünde", "Tóth", "Mihăiță"),
    *("Mădălina", "Çağlar", "İbrahim", "Hélène", "Adèle", "Benoît", "Núñez", "Conceição", "Åse"),
    *("Sigríður", "Ėglė", "Kārlis", "Līna", "Nguyễn", "Hải", "Iñaki", "Ljubljana", "Đurđica"),
)
# Dots and accents are less than this share of the name; letters that join are more.
SMALL = 0.15


@cache
def shop() -> Shop:
    return open_shop()


def made(name: str) -> Made:
    fields = (("name", name), ("year", "2027"))
    return make_row(Line(Order("F-1", 1, Source("", "", 2), "wavename", fields)), shop())


def named(row: Made) -> tuple[Lettering, Face]:
    assert row.artwork is not None, [flag.text for flag in row.flags]
    (own,) = (each for each in row.artwork.lettering if each.field == "name")
    return own, shop().bench.faces[own.face]


def wood(row: Made) -> shapely.Geometry:
    assert row.artwork is not None
    front = row.artwork.layers[-1]
    return filled(join(m.path for m in front.marks if m.operation.startswith("cut")))


def as_typed(lettering: Lettering, face: Face) -> list[shapely.Geometry]:
    """The letters as the face draws them, before any mark is moved."""
    cap = face.cap_height(face.normal)
    assert cap is not None
    found = letters(lettering, face, lettering.cap_height / cap)
    return [
        shapely.union_all([filled(Path((c,))) for c in each.outline.contours]) for each in found
    ]


def strangers(wood: shapely.Geometry, lettering: Lettering, face: Face) -> list[str]:
    """The letters whose marks hang on others: looked at in the wood without the letter itself."""
    drawn = as_typed(lettering, face)
    bodies = [max(shapely.get_parts(each), key=lambda part: part.area) for each in drawn]
    ink = filled(lettering.outline)
    line = max(body.bounds[3] for body in bodies)
    found = []
    for mark in shapely.get_parts(ink):
        if mark.area > SMALL * ink.area or mark.bounds[3] > line - 5:
            continue
        own = min(range(len(drawn)), key=lambda i: to_its_mark(mark, drawn[i]))
        others = shapely.union_all([body for i, body in enumerate(bodies) if i != own])
        rest = shapely.get_parts(wood.difference(bodies[own].buffer(0.5)))
        hung = max(rest, key=lambda part: part.intersection(mark).area)
        if hung.intersection(others).area > 0.05:
            found.append(lettering.text[own])
    return found


def to_its_mark(mark: shapely.Geometry, letter: shapely.Geometry) -> float:
    """How far a mark lies from where the letter has one, far for a letter without."""
    marks = sorted(shapely.get_parts(letter), key=lambda part: part.area)[:-1]
    return min((mark.centroid.distance(each.centroid) for each in marks), default=99.0)


@pytest.mark.parametrize("name", NAMES)
def test_every_mark_hangs_on_its_own_letter(name: str) -> None:
    row = made(name)
    assert strangers(wood(row), *named(row)) == []
    assert "marks-run-together" not in {flag.kind.id for flag in row.flags}
    assert weak(wood(row).buffer(-KERF / 2)) == []


def test_the_measure_sees_a_mark_on_a_neighbour() -> None:
    """A bar from the dot of the j of "Bjørg" to the B beside it."""
    row = made("Bjørg")
    lettering, face = named(row)
    dot = min(shapely.get_parts(filled(lettering.outline)), key=lambda part: part.area).centroid
    bar = shapely.box(dot.x - 9, dot.y - 1, dot.x, dot.y + 1)
    assert strangers(wood(row).union(bar), lettering, face) == ["j"]
