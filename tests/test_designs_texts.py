"""What is lettered where a row leaves a text out, and where it has none of its own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.designs.texts import text_of
from proofgen.orders.order import Line, Order, Source


@pytest.fixture(scope="module")
def shop() -> Shop:
    return open_shop()


def lettered(shop: Shop, **fields: str) -> dict[str, str]:
    order = Order("T-1", 1, Source("", "", 2), "plaque", tuple(fields.items()))
    made = make_row(Line(order), shop)
    assert made.artwork is not None, [flag.text for flag in made.flags]
    return {each.field: each.text for each in made.artwork.lettering}


@pytest.mark.parametrize("typed", ["none", "None", " NONE "])
def test_an_inscription_is_left_out_by_none(shop: Shop, typed: str) -> None:
    assert set(lettered(shop, name="Ida", year="2027", inscription=typed)) == {"name", "year"}


def test_somebody_may_be_called_none(shop: Shop) -> None:
    assert lettered(shop, name="None", year="2027")["name"] == "None"


def test_a_usual_text_is_lettered_unless_it_is_left_out(shop: Shop) -> None:
    slot = replace(shop.templates["plaque"].slots[1], field="heading", usual="In loving memory")
    texts = []
    for typed in ("", "none", "For Ida"):
        order = Order("T-1", 1, Source("", "", 2), "plaque", (("heading", typed),))
        texts.append(text_of(order, slot))
    assert texts == ["In loving memory", "", "For Ida"]
