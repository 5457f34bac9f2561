"""How far a design grows: where it helps, as little as does, and evenly."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.artwork.growing import growth_needed
from proofgen.artwork.rules import rules_for
from proofgen.day.shop import Shop, open_shop
from proofgen.designs.design import Design
from proofgen.designs.grow import grown
from proofgen.designs.read import read_template
from proofgen.designs.resolve import resolve
from proofgen.errors import UnusableError
from proofgen.lettering.choose import choose
from proofgen.orders.order import Order, Source

LONG = "Bartholomew Feather"
TOML = """format = 1
title = "Plain board"
needed = ["name"]

[[layers]]
name = "front"
drawing = "front.svg"
material = "birch-3"
finish = "natural"

[[slots]]
field = "name"
layer = "front"
faces = ["vollkorn", "roboto-flex"]
"""
FRONT = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 70">'
    '<rect id="cut-outside" x="5" y="5" width="90" height="60" rx="4"/>'
    '<rect id="zone.name" x="15" y="35" width="70" height="20"/></svg>'
)
Line = tuple[str, float, float]


@pytest.fixture(scope="module")
def shop() -> Shop:
    return open_shop()


def order(name: str) -> Order:
    return Order("1", 1, Source("", "", 1), "board", (("name", name),))


def board(place: Path, shop: Shop, *lines: Line) -> Design:
    here = place / "board"
    here.mkdir(exist_ok=True)
    tables = "".join(
        f'\n[[growth]]\naxis = "{axis}"\nat = {at}\nmost = {most}\nfield = "name"\n'
        for axis, at, most in lines
    )
    (here / "design.toml").write_text(TOML + tables, encoding="utf-8")
    (here / "front.svg").write_text(FRONT, encoding="utf-8")
    design, _ = resolve(read_template(here, shop.workshop), order("Ann"), shop.workshop)
    assert design is not None
    return design


def set_at(name: str, design: Design, by: float, shop: Shop) -> tuple[float, str, float]:
    """Cap height, face and narrowing of the name on the design grown by so much."""
    larger = grown(design, (by,))
    (slot,) = [slot for slot in larger.slots if slot.field == "name"]
    choice = choose(name, slot, rules_for(slot, larger, shop.workshop), shop.bench)
    assert choice is not None
    return choice.trial.cap_height, choice.face.id, choice.narrowed


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        ("Ann", (("x", 30, 60),)),
        # The name is as long as its zone, which no height helps.
        (LONG, (("y", 45, 60),)),
    ],
)
def test_what_helps_nothing_is_not_grown(name, lines, shop, tmp_path):
    assert growth_needed(order(name), board(tmp_path, shop, *lines), shop.workshop, shop.bench) == (
        0.0,
    )


def test_half_a_millimetre_less_would_be_worse(shop, tmp_path):
    design = board(tmp_path, shop, ("x", 30, 60))
    (by,) = growth_needed(order(LONG), design, shop.workshop, shop.bench)
    assert 0 < by < 60
    height, face, narrowed = set_at(LONG, design, by, shop)
    assert height == 10
    less, other, narrower = set_at(LONG, design, by - 0.5, shop)
    assert less < height or other != face or narrower < narrowed


def test_it_grows_to_its_most_where_that_still_helps(shop, tmp_path):
    design = board(tmp_path, shop, ("x", 30, 20))
    assert growth_needed(order(LONG), design, shop.workshop, shop.bench) == (20.0,)
    assert set_at(LONG, design, 19.5, shop)[0] < set_at(LONG, design, 20, shop)[0] < 10


def test_only_the_axis_that_helps_grows(shop, tmp_path):
    design = board(tmp_path, shop, ("y", 45, 60), ("x", 30, 20))
    assert growth_needed(order(LONG), design, shop.workshop, shop.bench) == (0.0, 20.0)


def test_lines_of_one_axis_grow_alike(shop, tmp_path):
    """Else what hangs by its middle would hang crooked."""
    design = board(tmp_path, shop, ("x", 30, 40), ("x", 70, 40))
    left, right = growth_needed(order(LONG), design, shop.workshop, shop.bench)
    assert left == right > 0


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ((("x", -10, 9),), "growth 1: the line x = -10 lies outside the drawing"),
        ((("x", 300, 9),), "growth 1: the line x = 300 lies outside the drawing"),
        ((("y", 70, 9),), "growth 1: the line y = 70 lies outside the drawing"),
        ((("x", 30, 9), ("x", 30, 9)), "growth 2: the line x = 30 is there already"),
        ((("x", 12, 9),), "growth 1: the line x = 12 does not run through the zone of 'name'"),
    ],
)
def test_lines_that_help_nothing_are_refused(lines, says, shop, tmp_path):
    with pytest.raises(UnusableError, match=r"design\.toml, ") as caught:
        board(tmp_path, shop, *lines)
    assert says in str(caught.value)
