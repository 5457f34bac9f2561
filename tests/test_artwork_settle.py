"""How far a design grows, and what the pieces of one order share."""

from __future__ import annotations

import pytest

from proofgen.artwork.artwork import Made
from proofgen.orders.order import Line, Order, Source
from proofgen.shop import Shop, make_row, open_shop


@pytest.fixture(scope="module")
def shop() -> Shop:
    return open_shop(None)


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


def test_another_design_of_the_order_is_no_kin(shop):
    """Kin are given by the caller; a row without any is set as by itself."""
    assert set_as(make_row(line("Ann", "lantern"), shop)) == ("vollkorn", 10)
