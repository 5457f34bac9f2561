"""The money of the workshop file: as typed, mistakes told, prices with their options."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.errors import UnusableError
from proofgen.money.price import price
from proofgen.workshop.read import load


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("[money]\nwaste = 1", ("money", "'waste'", "between 0 and 0.9")),
        ("[money]\nwages = 1", ("money", "'wages'", "did you mean")),
        ("[money]\ndecimals = 4", ("money", "'decimals'")),
        ("[money.hand_minutes]\nglueing = 2", ("hand_minutes", "did you mean 'gluing'?")),
        ("[money.family_discount]\n1 = 0.1", ("family_discount", "'1'", "between 2")),
        ("[money.family_discount]\n2 = 0.2\n3 = 0.1", ("family_discount", "3", "more off than 2")),
        ("[money.delivery.post]\nasked = 2", ("delivery.post", "'costs' is missing")),
        ("[materials.birch-3.price]\nwidth = 0", ("birch-3, price", "'width'")),
        ("[catalogue.options]\nfinish = { wallnut = 1 }", ("finish", "did you mean 'walnut'?")),
        ("[catalogue.options]\nname = { Ada = 1 }", ("options", "'name'")),
    ],
)
def test_a_mistake_in_money_is_one_sentence(
    tmp_path: Path, text: str, parts: tuple[str, ...]
) -> None:
    file = tmp_path / "workshop.toml"
    file.write_text(f"format = 1\n{text}\n", encoding="utf-8")
    with pytest.raises(UnusableError) as raised:
        load(file)
    assert str(raised.value).startswith(str(file))
    assert [part for part in parts if part not in str(raised.value)] == []


def test_what_is_typed_is_kept_to_the_last_digit(tmp_path: Path) -> None:
    file = tmp_path / "workshop.toml"
    file.write_text(
        "format = 1\n[money]\nhourly_wage = 22.35\nmachine_minute = 0.1\n"
        "family_discount = { 10 = 0.2, 3 = 0.1 }\n",
        encoding="utf-8",
    )
    money = load(file).money
    assert (str(money.wage), str(money.machine_minute)) == ("22.35", "0.1")
    assert [str(money.discount(n)) for n in (2, 3, 9, 10, 11)] == ["0", "0.1", "0.1", "0.2", "0.2"]


def test_prices_with_options(tmp_path: Path) -> None:
    file = tmp_path / "workshop.toml"
    file.write_text(
        "format = 1\n[catalogue.prices]\nlantern = 26\nboat = 18.5\n"
        "[catalogue.options]\nfinish = { walnut = 2.25 }\nsize = { small = -30, large = 4 }\n",
        encoding="utf-8",
    )
    catalogue = load(file).catalogue
    found = price("lantern", {"finish": "walnut", "size": "large", "hanger": "cord"}, catalogue)
    assert str(found) == "32.25"
    assert str(price("boat", {}, catalogue)) == "18.50"
    assert str(price("boat", {"size": "small"}, catalogue)) == "0.00"
    assert price("plaque", {}, catalogue) is None
