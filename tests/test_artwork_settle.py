"""How far a design grows, and what the pieces of one order share."""

from __future__ import annotations

from dataclasses import replace

import pytest

from proofgen.artwork.artwork import Made
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.orders.order import Line, Order, Source


@pytest.fixture(scope="module")
def shop() -> Shop:
    return open_shop()


def line(name: str, design: str, row: int = 2) -> Line:
    fields = (("name", name), ("year", "2027"))
    return Line(Order("F-1", row - 1, Source("", "", row), design, fields))


def set_as(made: Made) -> tuple[str, float]:
    assert made.artwork is not None, [flag.text for flag in made.flags]
    name = next(item for item in made.artwork.lettering if item.field == "name")
    return name.face, name.cap_height


def test_a_short_name_does_not_widen_the_plaque(shop):
    made = make_row(line("Ann", "plaque"), shop)
    assert made.artwork is not None and made.artwork.size == (140, 60)


def test_the_plaque_widens_before_lettering_shrinks(shop):
    made = make_row(line("The Oyelaran Family", "plaque"), shop)
    assert made.artwork is not None
    assert 140 < made.artwork.size[0] < 200
    (name,) = [item for item in made.artwork.lettering if item.field == "name"]
    assert (name.cap_height, name.narrowed) == (10, 1)


def test_it_widens_no_further_than_its_most(shop):
    made = make_row(line("The Oyelaran-Winterbourne Family", "plaque"), shop)
    assert made.artwork is not None and made.artwork.size[0] == 200
    assert set_as(made)[1] < 10


def test_a_family_has_one_face_and_one_cap_height(shop):
    lines = [line(n, "lantern", i) for i, n in enumerate(("Ann", "Pip", "Christopherson"), 2)]
    alone = {set_as(make_row(each, shop)) for each in lines}
    together = {
        set_as(make_row(each, shop, tuple(o for o in lines if o is not each))) for each in lines
    }
    assert len(alone) > 1
    assert len(together) == 1


@pytest.mark.parametrize("design", ["lantern", "boat"])
def test_a_face_is_not_given_up_for_a_hair_of_height(shop, design):
    """Its accents take a hair of height in the first face, and none in the narrower second."""
    accents = make_row(line("Šárka Černá", design), shop)
    assert set_as(accents)[0] == set_as(make_row(line("Ann", design), shop))[0]
    assert 9.7 <= set_as(accents)[1] < 10
    assert "face-changed" not in [flag.kind.id for flag in accents.flags]


def test_a_face_is_given_up_before_it_is_squeezed_for_its_size(shop):
    """Near the wanted size the first face would be narrowed by a fifth, the next one not at all."""
    made = make_row(line("The Oyelaran Family", "plaque"), shop)
    assert set_as(made) == ("roboto-flex", 10)


def test_a_family_keeps_its_face_for_a_hair_of_height(shop):
    lines = [line(n, "lantern", i) for i, n in enumerate(("Ann", "Šárka Černá"), 2)]
    made = [make_row(x, shop, (y,)) for x, y in zip(lines, lines[::-1], strict=True)]
    assert {set_as(each) for each in made} == {("vollkorn", 9.93)}


def test_a_family_that_is_unlike_or_waits_is_to_be_looked_at(shop):
    def found(*kin: Line) -> list[tuple[str, str]]:
        flags = make_row(line("Ann", "boat"), shop, kin).flags
        return [(f.kind.id, f.subject) for f in flags if f.kind.id.startswith("family-")]

    long = "Bartholomew-Maximilian Featherstonehaugh-Winterbourne"
    assert found() == found(line("Joe", "boat", 3)) == []
    assert found(with_face("Joe", "Pacifico", "boat", 3)) == [("family-unlike", "'Joe'")]
    assert found(with_face("Joe", "Comic", "boat", 3)) == [("family-waits", "'Joe'")]
    assert [kind for kind, _ in found(line(long, "boat", 3))] == ["family-waits"]


def test_a_text_that_is_too_long_is_told_so(shop):
    made = make_row(line("Björk Guðmundsdóttir", "lantern"), shop)
    (stop,) = [flag for flag in made.flags if flag.kind.id == "gap-too-narrow"]
    assert stop.says.startswith("the text is too long: at 7.18 mm, the largest cap height that fit")
    assert "Roboto Flex on birch-3" in stop.says


def test_the_covered_number_says_nothing_of_its_face(shop):
    """The K of Roboto Flex is too thin for its size, which nobody will see."""
    plain = line("Ann", "lantern")
    made = make_row(replace(plain, order=replace(plain.order, number="K-006")), shop)
    assert made.artwork is not None
    number = next(item for item in made.artwork.lettering if item.field == "order")
    assert number.face != "roboto-flex"
    assert not any("order" in flag.where for flag in made.flags)


def test_another_design_of_the_order_is_no_kin(shop):
    """Kin are given by the caller; a row without any is set as by itself."""
    assert set_as(make_row(line("Ann", "lantern"), shop)) == ("vollkorn", 10)


def with_face(name: str, face: str, design: str = "lantern", row: int = 2) -> Line:
    plain = line(name, design, row)
    return replace(plain, order=replace(plain.order, options=(("face", face),)))


def test_a_family_keeps_the_face_that_was_asked_for(shop):
    lines = [with_face(n, "Nunito", row=i) for i, n in enumerate(("Ann", "Pip"), 2)]
    faces = {
        set_as(make_row(each, shop, (other,)))[0]
        for each, other in zip(lines, lines[::-1], strict=True)
    }
    assert faces == {"nunito"}


def test_a_face_that_the_name_is_not_offered_stops_the_row(shop):
    """Roboto Slab letters the year there, and not the name."""
    made = make_row(with_face("Ann", "Roboto Slab", "wavename"), shop)
    assert [flag.kind.id for flag in made.flags] == ["face-unknown"]
    assert made.artwork is None


def test_the_kerf_is_in_the_code_where_it_sizes_bridges(shop):
    def codes(kerf: float) -> list[str]:
        machine = replace(shop.workshop.machine, kerf=kerf)
        other = replace(shop, workshop=replace(shop.workshop, machine=machine))
        return [make_row(line("Ann", design), other).code for design in ("wavename", "lantern")]

    (wave, lantern), (wider_wave, same_lantern) = codes(0.18), codes(0.22)
    assert wave and wave != wider_wave
    assert lantern and lantern == same_lantern


def test_a_family_shares_no_growth(shop):
    """The short name is set as large as the long one, and needs no wood for it."""
    lines = [line(n, "plaque", i) for i, n in enumerate(("Ann", "The Oyelaran Family"), 2)]
    short, long = (
        make_row(each, shop, (other,)) for each, other in zip(lines, lines[::-1], strict=True)
    )
    assert short.artwork is not None
    assert long.artwork is not None
    assert set_as(short) == set_as(long)
    assert short.artwork.size[0] == 140 < long.artwork.size[0]
