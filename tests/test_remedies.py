"""Every remedy is applied as a maker would, and the row then passes at the size it named."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from books import lines

from proofgen.flags.flag import Flag
from proofgen.lettering.lines import broken
from proofgen.orders.order import Line, Order
from proofgen.shop import Shop, make_row, open_shop

ROWS = (
    {"name": "Bartholomew-Maximilian Featherstonehaugh-Winterbourne", "design": "boat"},
    {"name": "Grandma Wilhelmina & Grandpa Bartholomew", "design": "boat", "hanger": "cord"},
    {"name": "Xavier", "design": "lantern", "face": "Dancing Script", "finish": "walnut"},
    {"name": "Zoë 星", "design": "plaque"},
    {"name": "Ms Clementine Featherstonehaugh", "design": "lantern"},
)
REACHES = r" would reach (?P<mm>[0-9.]+) mm\."
KINDS = {
    "lines": re.compile(r"Break it over (?P<what>[0-9]) lines in the cell: it" + REACHES),
    "face": re.compile(r"Type (?P<what>[^.]+) in a Face column: it" + REACHES),
    "without": re.compile(r"Leave (?P<what>.+) out: it" + REACHES),
    "size": re.compile(r"Type (?P<what>[^.]+) in a Size column: it" + REACHES),
    "design": re.compile(r"Choose the design (?P<what>[^.]+): it" + REACHES),
    "text": re.compile(r'"(?P<what>[^"]+)"' + REACHES),
}


@pytest.fixture(scope="module")
def shop() -> Shop:
    return open_shop()


def named(order: Order, name: str) -> Order:
    fields = tuple(pair for pair in order.fields if pair[0] != "name")
    return replace(order, fields=(*fields, ("name", name)))


def changed(order: Order, kind: str, what: str) -> Order:
    name = order.field("name")
    if kind == "lines":
        return named(order, "\n".join(broken(name.split(), int(what))))
    if kind in ("face", "size"):
        options = tuple(pair for pair in order.options if pair[0] != kind)
        return replace(order, options=(*options, (kind, what)))
    if kind == "without":
        return named(order, " ".join("".join(c for c in name if c not in what).split()))
    if kind == "design":
        return replace(order, design=what)
    return named(order, what)


def advised(flag: Flag) -> list[tuple[str, str, float]]:
    return [
        (kind, found["what"], float(found["mm"]))
        for kind, pattern in KINDS.items()
        for found in pattern.finditer(flag.remedy)
    ]


@pytest.mark.parametrize("cells", ROWS, ids=lambda cells: cells["name"])
def test_remedies_pass_when_they_are_applied(cells, tmp_path, shop):
    (line,) = lines(tmp_path / "orders.xlsx", {"order": "T-1", "year": "2027", **cells})
    made = make_row(line, shop)
    assert made.verdict == "stop"
    (flag,) = (flag for flag in made.flags if flag.where.startswith("row 2, name") and flag.remedy)
    advice = advised(flag)
    assert len(advice) == flag.remedy.count(" would reach ") > 0, flag.remedy
    for kind, what, reaches in advice:
        mended = make_row(Line(changed(line.order, kind, what)), shop)
        assert mended.verdict != "stop", (kind, what, [f.text for f in mended.flags])
        name = next(item for item in mended.artwork.lettering if item.field == "name")
        assert name.cap_height == pytest.approx(reaches, abs=0.0051)


def test_a_larger_size_helps_where_gaps_are_too_narrow(tmp_path, shop):
    cells = {"name": "Ann", "inscription": "Für immer in unseren Herzen", "year": "2027"}
    (line,) = lines(tmp_path / "orders.xlsx", {"order": "T-1", "design": "medallion", **cells})
    (flag,) = (flag for flag in make_row(line, shop).flags if flag.remedy)
    ((size, reaches),) = (found[1:] for found in advised(flag) if found[0] == "size")
    made = make_row(Line(changed(line.order, "size", size)), shop)
    assert made.artwork is not None, [flag.text for flag in made.flags]
    wished = next(item for item in made.artwork.lettering if item.field == "inscription")
    assert wished.cap_height == pytest.approx(reaches, abs=0.0051)


def test_two_fields_that_fail_have_a_remedy_each(tmp_path, shop):
    cells = {"name": "Zoë 星", "inscription": "Ahoy 星", "design": "plaque", "year": "2027"}
    (line,) = lines(tmp_path / "orders.xlsx", {"order": "T-1", **cells})
    failed = [flag for flag in make_row(line, shop).flags if flag.kind.id == "glyph-missing"]
    assert ["Leave 星 out" in flag.remedy for flag in failed] == [True, True]
