"""Production SVG, read back by svgelements and drawn by resvg, an independent renderer."""

from __future__ import annotations

import io
from dataclasses import replace
from xml.etree.ElementTree import Element

import numpy as np
import pytest
import resvg_py
import svgelements
from books import lines
from defusedxml.ElementTree import fromstring
from PIL import Image

from proofgen.artwork.artwork import Artwork, Made
from proofgen.day.shop import Shop, make_row, open_shop
from proofgen.geometry.path import Path as Outline
from proofgen.geometry.rect import Rect
from proofgen.orders.order import Line, Order, Source
from proofgen.production.svg import layer_svg, path_data
from proofgen.workshop.workshop import OPERATIONS

SVG = "{http://www.w3.org/2000/svg}"
MM_A_INCH, PX_A_INCH = 25.4, 96.0  # CSS Values 3
ROWS = (
    {"order": "T-1", "name": "Otto & Zoë", "design": "lantern", "quantity": 3},
    {"order": "T-2", "name": "Maribel", "design": "plaque", "inscription": "Lowenhithe"},
    {"order": "T-3", "name": "נועה", "design": "boat"},
)


@pytest.fixture(scope="module")
def shop() -> Shop:
    return open_shop()


@pytest.fixture(scope="module")
def made(shop, tmp_path_factory) -> tuple[Made, ...]:
    book = tmp_path_factory.mktemp("book") / "orders.xlsx"
    return tuple(make_row(line, shop) for line in lines(book, *ROWS))


def drawings(row: Made, shop: Shop) -> dict[str, str]:
    assert row.artwork is not None, [flag.text for flag in row.flags]
    return {
        layer.name: layer_svg(row.artwork, layer, row.code, shop.workshop)
        for layer in row.artwork.layers
    }


def groups(text: str) -> list[Element]:
    return list(fromstring(text).iter(f"{SVG}g"))


def close(found: Rect, wanted: Rect, by: float) -> bool:
    pairs = zip(
        (found.left, found.top, found.right, found.bottom),
        (wanted.left, wanted.top, wanted.right, wanted.bottom),
        strict=True,
    )
    return all(abs(a - b) <= by for a, b in pairs)


def ink(artwork: Artwork, field: str) -> Rect:
    return next(item.outline.bounds() for item in artwork.lettering if item.field == field)


def test_size_in_millimetres(made, shop):
    """88 x 110 mm are 332.6 x 415.7 px at 96 px an inch."""
    for row in made:
        for text in drawings(row, shop).values():
            root = fromstring(text)
            width, height = row.artwork.size
            assert float(root.get("width").removesuffix("mm")) == pytest.approx(width)
            assert float(root.get("height").removesuffix("mm")) == pytest.approx(height)
            assert [float(n) for n in root.get("viewBox").split()] == [0, 0, width, height]
    lantern = svgelements.SVG.parse(io.StringIO(drawings(made[0], shop)["back"]))
    assert (lantern.width, lantern.height) == pytest.approx((332.598, 415.748), abs=0.01)


def test_lettering_where_svgelements_reads_it(made, shop):
    """svgelements uses 3.7795296 px a mm."""
    for row, field in zip(made, ("name", "inscription", "name"), strict=True):
        item = next(item for item in row.artwork.lettering if item.field == field)
        read = svgelements.SVG.parse(io.StringIO(drawings(row, shop)[item.layer]))
        group = next(
            element
            for element in read.elements()
            if isinstance(element, svgelements.Group) and element.values.get("data-field") == field
        )
        found = Rect(*(value * MM_A_INCH / PX_A_INCH for value in group.bbox()))
        assert close(found, ink(row.artwork, field), 1e-3)


def test_lettering_where_resvg_draws_it(made, shop):
    row = made[0]
    name = row.artwork.lettering[0]
    layer = next(layer for layer in row.artwork.layers if layer.name == name.layer)
    only = replace(layer, marks=tuple(mark for mark in layer.marks if mark.field == "name"))
    text = layer_svg(row.artwork, only, row.code, shop.workshop)
    png = resvg_py.svg_to_bytes(svg_string=text, dpi=96, zoom=4)
    image = Image.open(io.BytesIO(bytes(png)))
    px_a_mm = 4 * PX_A_INCH / MM_A_INCH
    assert image.size == pytest.approx([side * px_a_mm for side in row.artwork.size], abs=4.01)
    drawn = np.asarray(image.convert("RGBA"))[..., 3] > 127
    rows, columns = np.flatnonzero(drawn.any(axis=1)), np.flatnonzero(drawn.any(axis=0))
    found = Rect(columns[0], rows[0], columns[-1] + 1, rows[-1] + 1)
    scaled = Rect(*(np.array([found.left, found.top, found.right, found.bottom]) / px_a_mm))
    assert close(scaled, ink(row.artwork, "name"), 1.5 / px_a_mm)


def test_only_paths_in_groups_in_the_order_of_work(made, shop):
    for row in made:
        for name, text in drawings(row, shop).items():
            root = fromstring(text)
            assert [child.tag for child in root] == [
                f"{SVG}title",
                *[f"{SVG}g"] * len(groups(text)),
            ]
            assert {path.tag for group in groups(text) for path in group} == {f"{SVG}path"}
            order = [OPERATIONS.index(group.get("data-operation")) for group in groups(text)]
            assert order == sorted(order)
            assert {group.get("data-layer") for group in groups(text)} == {name}
    fields = {g.get("data-field") for t in drawings(made[1], shop).values() for g in groups(t)}
    assert fields == {"name", "year", "inscription", None}


def test_groups_have_the_colours_of_the_workshop_file(made, shop):
    for group in groups(drawings(made[0], shop)["front"]):
        colour = "#{:02x}{:02x}{:02x}".format(
            *shop.workshop.group(group.get("data-operation")).colour
        )
        assert colour in (group.get("fill"), group.get("stroke"))


def test_letters_keep_their_curves(made, shop):
    for row in made:
        for text in drawings(row, shop).values():
            for group in groups(text):
                if group.get("data-field") == "name":
                    data = "".join(path.get("d") for path in group)
                    # A flattened letter has dozens of lines a curve.
                    assert data.count("Q") + data.count("C") > data.count("L") / 2 > 0


def test_path_data_is_read_back_as_it_was(made):
    for item in made[0].artwork.lettering:
        read = svgelements.Path(path_data(item.outline))
        assert close(Rect(*read.bbox()), item.outline.bounds(), 1e-3)
        assert sum(isinstance(s, svgelements.Move) for s in read) == len(item.outline.contours)
    assert path_data(Outline()) == ""


def test_two_runs_give_the_same_bytes(made, shop, tmp_path):
    fresh = open_shop()
    again = tuple(make_row(line, fresh) for line in lines(tmp_path / "again.xlsx", *ROWS))
    for one, other in zip(made, again, strict=True):
        assert drawings(one, shop) == drawings(other, fresh)


def test_title_names_order_and_code(made, shop):
    for name, text in drawings(made[0], shop).items():
        title = fromstring(text).find(f"{SVG}title").text
        assert title == f"Order T-1 line 1, {name}, {made[0].code} \u00d7 3"


@pytest.mark.parametrize("number", ["</title><script>1</script>", 'a" onload="x', "&amp; ]]>", "'"])
def test_what_was_typed_stays_text(number, made, shop):
    artwork = replace(made[0].artwork, order=replace(made[0].order, number=number))
    layer = replace(artwork.layers[0], name=f"back {number}")
    root = fromstring(layer_svg(artwork, layer, made[0].code, shop.workshop))
    assert number in root.find(f"{SVG}title").text
    assert {group.get("data-layer") for group in root.iter(f"{SVG}g")} == {f"back {number}"}
    assert not list(root.iter(f"{SVG}script")) and root.get("onload") is None


@pytest.mark.parametrize("name", ["Ann", "Josephine", "Maximiliana", "Bartholomew", "Wilhelmina"])
def test_nothing_is_cut_outside_the_drawing(name):
    """A backing grows out of lettering, and still stays on the drawing of its size."""
    order = Order("1", 1, Source("", "", 2), "wavename", (("name", name), ("year", "2027")))
    made = make_row(Line(order), open_shop())
    assert made.artwork is not None
    width, height = made.artwork.size
    for layer in made.artwork.layers:
        for mark in layer.marks:
            box = mark.path.bounds()
            assert box.left >= 0 and box.right <= width, (layer.name, box)
            assert box.top >= 0 and box.bottom <= height, (layer.name, box)
