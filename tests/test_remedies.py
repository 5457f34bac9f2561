"""Every remedy is applied as a maker would, and the row then passes at the size it named."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from books import lines

from proofgen.artwork.artwork import Made
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.flags.flag import Flag, Severity
from proofgen.orders.order import Line, Order
from proofgen.remedies.lost import lost
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
    "lines": re.compile(r"Break it over [0-9] lines in the cell, (?P<what>.+?): it" + REACHES),
    "joined": re.compile(r"Leave the (?P<what>line breaks) out: it" + REACHES),
    "face": re.compile(r"Type (?P<what>[^.]+) in a Face column: it" + REACHES),
    "without": re.compile(r"Leave (?!the line)(?P<what>.+) out: it" + REACHES),
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
        return with_text(order, field, "\n".join(re.findall('"([^"]+)"', what)))
    if kind == "joined":
        return with_text(order, field, " ".join(text.split()))
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


SHORT_LINES = ("For Ann\nfrom Joe\nin May", "Für\nÅse\nMai", "Für Åse\nvon Jürgen\n& Märta im Mai")


@pytest.mark.parametrize("text", SHORT_LINES)
def test_the_back_of_the_boat_takes_three_short_lines(text, tmp_path, shop):
    made = make_row(Line(on_the_back(text, tmp_path)), shop)
    assert made.verdict == "ready", [flag.text for flag in made.flags]
    set_there = next(item for item in made.artwork.lettering if item.field == "dedication")
    assert set_there.text == text


def on_the_back(text: str, folder: Path) -> Order:
    cells = {"order": "T-1", "name": "Ann", "design": "boat", "year": "2027"}
    (line,) = lines(folder / "orders.xlsx", cells)
    return with_text(line.order, "dedication", text)


def stop_of(made: Made, field: str) -> Flag:
    (flag,) = (
        flag
        for flag in made.flags
        if flag.kind.severity is Severity.STOP and field_of(flag) == field
    )
    return flag


def test_line_breaks_are_given_up_before_words(tmp_path, shop):
    """The hull narrows to its keel, where the longest of these lines would be."""
    order = on_the_back("Ann\nfrom Joe\nand the whole of the harbour crew", tmp_path)
    advice = advised(stop_of(make_row(Line(order), shop), "dedication"))
    assert [kind for kind, _, _ in advice] == ["lines", "joined"]
    assert advice[0][1] == '"Ann from Joe and the" and "whole of the harbour crew"'
    for kind, what, reaches in advice:
        made = make_row(Line(changed(order, kind, what, "dedication")), shop)
        mended = next(item for item in made.artwork.lettering if item.field == "dedication")
        assert mended.cap_height == pytest.approx(reaches, abs=0.0051)


def test_another_design_says_what_it_has_not(tmp_path, shop):
    cells = {"name": "Ann", "symbol": "paw", "hanger": "cord", "size": "large", "year": "2027"}
    (line,) = lines(tmp_path / "orders.xlsx", {"order": "T-1", "design": "medallion", **cells})
    medallion, plaque, tablet = (
        shop.templates[each] for each in ("medallion", "plaque", "remembrance")
    )
    said = "Harbour plaque has no size, hanger or symbol."
    assert lost(line.order, medallion, plaque, shop.workshop) == said
    plain = replace(line.order, options=(("symbol", "none"), ("hanger", "none")))
    assert lost(plain, medallion, plaque, shop.workshop) == ""
    assert lost(plain, medallion, tablet, shop.workshop) == "Remembrance tablet letters no year."


def test_a_remedy_on_the_same_design_says_nothing_of_other_fields(tmp_path, shop):
    """The blank year is the edition's, which the tablet letters not, whatever is done."""
    name = "Bartholomew-Maximilian Featherstonehaugh"
    cells = {"order": "T-1", "name": name, "design": "remembrance"}
    (line,) = lines(tmp_path / "orders.xlsx", cells)
    assert line.order.field("year")
    remedy = stop_of(make_row(line, shop), "name").remedy
    assert "Drop" in remedy
    assert "year" not in remedy


def test_where_characters_are_left_out_no_more_of_the_name_is(tmp_path, shop):
    (line,) = lines(tmp_path / "orders.xlsx", {"order": "T-1", "name": "Pip 星", "design": "boat"})
    assert stop_of(make_row(line, shop), "name").remedy == "Leave 星 out: it would reach 10.00 mm."


LONG = "Gone fishing, ever jolly & quiet; " + "and all the summer long he rowed, " * 4


@pytest.mark.parametrize("design", ["plaque", "medallion", "remembrance"])
def test_a_text_too_long_to_be_tried_has_a_shortening_that_passes(design, tmp_path, shop):
    cells = {"order": "T-1", "name": "Ann", "design": design, "inscription": LONG, "year": "2027"}
    (line,) = lines(tmp_path / "orders.xlsx", cells)
    flag = stop_of(make_row(line, shop), "inscription")
    assert flag.kind.id == "text-too-long"
    ((kind, what, reaches),) = advised(flag)
    assert LONG.startswith(what)
    made = make_row(Line(changed(line.order, kind, what, "inscription")), shop)
    mended = next(item for item in made.artwork.lettering if item.field == "inscription")
    assert mended.cap_height == pytest.approx(reaches, abs=0.0051)


def test_nothing_of_a_date_is_dropped(tmp_path, shop):
    cells = {"order": "T-1", "name": "Ann", "design": "remembrance"}
    (line,) = lines(tmp_path / "orders.xlsx", cells)
    text = "the third of the month of May in the year 1941"
    for field, drops in (("born", False), ("inscription", True)):
        order = with_text(line.order, field, f"{text}, {text}"[: 120 if drops else len(text)])
        assert ("Drop" in stop_of(make_row(Line(order), shop), field).remedy) is drops
