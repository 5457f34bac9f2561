"""Every remedy is applied as a maker would, and the row then passes at the size it named."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from books import lines

from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.flags.flag import Flag
from proofgen.lettering.lines import broken
from proofgen.orders.order import Line, Order
from proofgen.remedies.shorter import beginnings, longest, without
from proofgen.remedies.tries import Tries

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


def field_of(flag: Flag) -> str:
    return flag.where.split(", ")[1].split(" ")[0]


def with_text(order: Order, field: str, text: str) -> Order:
    fields = tuple(pair for pair in order.fields if pair[0] != field)
    return replace(order, fields=(*fields, (field, text)))


def changed(order: Order, kind: str, what: str, field: str = "name") -> Order:
    text = order.field(field)
    if kind == "lines":
        return with_text(order, field, "\n".join(broken(text.split(), int(what))))
    if kind in ("face", "size"):
        options = tuple(pair for pair in order.options if pair[0] != kind)
        return replace(order, options=(*options, (kind, what)))
    if kind == "without":
        kept = "".join(c for c in text if c not in what)
        return with_text(order, field, " ".join(kept.split()))
    if kind == "design":
        return replace(order, design=what)
    return with_text(order, field, what)


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


TWO = (
    {"name": "Zoë 星", "inscription": "Ahoy 星", "design": "plaque"},
    {
        "name": "Wilhelmina Bartholomew & Featherstonehaugh-Winterbourne",
        "inscription": "Gone fishing, ever jolly & quiet; he Ångled by Ýpres and further on",
        "design": "plaque",
    },
    {
        "name": "Öyvind Ægir Þjóðólfsson",
        "inscription": "Gone fishing, ever jolly & quiet; he Ångled by Ýpres",
        "design": "remembrance",
    },
)


@pytest.mark.parametrize("cells", TWO, ids=lambda cells: cells["design"] + cells["name"][:3])
def test_remedies_of_two_fields_are_true_together(cells, tmp_path, shop):
    (line,) = lines(tmp_path / "orders.xlsx", {"order": "T-1", "year": "2027", **cells})
    failed = [flag for flag in make_row(line, shop).flags if flag.remedy]
    assert [field_of(flag) for flag in failed] == ["name", "inscription"]
    order, promised = line.order, {}
    for flag in failed:
        field = field_of(flag)
        kind, what, promised[field] = advised(flag)[0]
        order = changed(order, kind, what, field)
    mended = make_row(Line(order), shop)
    assert mended.artwork is not None, [flag.text for flag in mended.flags]
    reached = {item.field: item.cap_height for item in mended.artwork.lettering}
    assert promised == {field: pytest.approx(reached[field], abs=0.0051) for field in promised}


def test_one_remedy_for_the_row_serves_two_fields(tmp_path, shop):
    cells = {"name": "Bartholomew-Maximilian Featherstonehaugh"}
    cells["inscription"] = "Für immer in unseren Herzen"
    (line,) = lines(
        tmp_path / "orders.xlsx", {"order": "T-1", "design": "medallion", "year": "2027", **cells}
    )
    failed = [flag for flag in make_row(line, shop).flags if flag.remedy]
    assert len(failed) == 2
    assert all(flag.remedy.startswith("Type large in a Size column: ") for flag in failed)


def test_nothing_of_a_text_is_dropped_unsaid(tmp_path, shop):
    text = "Gone fishing, ever jolly & quiet; he Ångled by Ýpres"
    cells = {"order": "T-1", "name": text, "design": "boat", "year": "2027"}
    (line,) = lines(tmp_path / "orders.xlsx", cells)
    (flag,) = (flag for flag in make_row(line, shop).flags if flag.remedy)
    dropped, kept = re.search(r'Drop "([^"]+)": "([^"]+)" would', flag.remedy).groups()
    assert text.startswith(kept)
    assert text.endswith(dropped)
    assert set(text[len(kept) : -len(dropped)]) <= set(" -&,;")


def test_a_character_is_left_out_where_it_stands():
    assert without("Zoë 星\n星\nby  the 星 sea", "星") == "Zoë\nby the sea"


def test_the_longest_beginning_is_found_by_halving():
    parts = beginnings("a b-c d e f g h i j k l m n o p q")
    assert parts[:4] == ["a", "a b", "a b-c", "a b-c d"]
    asked: list[str] = []

    def fits(part: str) -> bool:
        asked.append(part)
        return len(part) <= len("a b-c d e f")

    assert longest(parts, fits) == "a b-c d e f"
    assert len(asked) <= 5 < len(parts)


def test_a_beginning_that_fits_though_shorter_ones_do_not_is_found():
    assert longest(["a", "a b", "a b c", "a b c d"], lambda part: part == "a b") == "a b"
    assert longest(["a", "a b"], lambda _: False) == ""


def test_no_text_is_fitted_twice(tmp_path, shop):
    cells = {"name": "Ann", "inscription": "Ahoy", "design": "plaque", "year": "2027"}
    (line,) = lines(tmp_path / "orders.xlsx", {"order": "T-1", **cells})
    tries, template = Tries(shop.templates, shop.workshop, shop.bench), shop.templates["plaque"]
    assert tries.reached(line.order, template, "inscription") == pytest.approx(5.0)
    assert tries.fits == 3
    assert tries.reached(changed(line.order, "text", "Ho", "inscription"), template, "name") > 0
    assert tries.fits == 4


def test_a_changed_face_says_what_the_wanted_one_comes_to(tmp_path, shop):
    cells = {"order": "T-1", "name": "Wendeline Saltmarsh", "design": "boat", "year": "2027"}
    (line,) = lines(tmp_path / "orders.xlsx", cells)
    made = make_row(line, shop)
    (flag,) = (flag for flag in made.flags if flag.kind.id == "face-changed")
    form = r"set in Roboto Flex instead of Roboto Slab \(there: (.+)\)"
    there = re.fullmatch(form, flag.says)[1]
    wanted = make_row(Line(changed(line.order, "face", "Roboto Slab")), shop)
    (stop,) = (
        flag for flag in wanted.flags if flag.where.startswith("row 2, name") and flag.remedy
    )
    size, found = re.fullmatch(r"at (.+) mm it has (.+)", there).groups()
    assert stop.says.startswith(f"the text is too long: at {size} mm")
    assert stop.says.endswith(f"Roboto Slab on birch-3 has {found}")
