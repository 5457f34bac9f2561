"""What several rows have alike is fitted once, and told of each where it stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from proofgen.artwork import compose
from proofgen.day.shop import make_row, open_shop
from proofgen.orders.order import Line
from proofgen.orders.read import typed


def test_a_text_that_was_fitted_is_not_fitted_again_and_its_flags_name_each_row(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    shop = open_shop()
    fitted: list[str] = []
    fit = compose.fit
    monkeypatch.setattr(compose, "fit", lambda text, *a: fitted.append(text) or fit(text, *a))

    def row(number: int, name: str) -> Line:
        order = {"order": str(number), "name": name, "year": "2027", "design": "boat"}
        line = typed(order, shop.workshop)
        source = replace(line.order.source, row=number)
        return replace(line, order=replace(line.order, source=source))

    long = "Bartholomew-Maximilian"
    first, second, third = (make_row(row(n, x), shop) for n, x in enumerate((long, long, "Ida"), 2))
    assert fitted == [long, "2027", "Ida"]
    assert [flag.kind for flag in first.flags] == [flag.kind for flag in second.flags]
    about = {flag.where: flag for flag in (*first.flags, *second.flags) if "name" in flag.where}
    assert {where.partition(",")[0] for where in about} == {"row 2", "row 3"}
    assert third.artwork is not None
    assert third.artwork.lettering[0].text == "Ida"


def test_another_workshop_has_its_own() -> None:
    shop = open_shop()
    line = typed({"order": "1", "name": "Ida", "year": "2027", "design": "boat"}, shop.workshop)
    kept = make_row(line, shop)
    machine = replace(shop.workshop.machine, kerf=shop.workshop.machine.kerf + 0.2, dot=0.5)
    other = make_row(line, replace(shop, workshop=replace(shop.workshop, machine=machine)))
    assert kept.artwork is not None
    assert other.artwork is None or other.artwork.lettering != kept.artwork.lettering
