"""The symbols that ship, and how one is put in its place."""

from pathlib import Path

import pytest
from designs_folder import HEAD, TOML, make, order, shipped, workshop
from shapely import Polygon

from proofgen.designs.design import Mark, SymbolDrawing, Template
from proofgen.designs.read import read_template
from proofgen.designs.read_symbols import read_symbols
from proofgen.designs.resolve import resolve
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Affine
from proofgen.geometry.strokes import narrowest_gap, thinnest_stroke
from proofgen.resources import folder

SHIPPED = read_symbols([folder("templates") / "symbols"])
PLAIN = (
    '<rect id="cut-outside" width="80" height="60"/>\n<circle id="hole" cx="40" cy="6" r="1"/>\n'
)
ZONES = (
    '<polygon id="zone.{}" points="10,44 70,44 70,56 10,56"/>\n'
    '<polygon id="zone.symbol" points="20,12 60,12 52,40 28,40"/>\n</svg>'
)
PLACES = '\n[[symbols]]\nlayer = "front"\ndefault = "star"\n'


def made(folder_: Path, more: str = PLACES) -> Template:
    back = HEAD + PLAIN + '<polygon id="zone.name" points="10,44 70,44 70,56 10,56"/>\n</svg>'
    front = HEAD + PLAIN + ZONES.format("year")
    place = make(folder_, toml=TOML + more, back=back, front=front)
    return read_template(place, workshop(), [place.parent / "symbols"])


def symbol(template: Template, **options: str) -> Mark:
    design, flags = resolve(template, order({"name": "Ada"}, **options), workshop())
    assert design is not None
    assert not flags
    (mark,) = (m for layer in design.layers for m in layer.marks if m.field == "symbol")
    return mark


@pytest.mark.parametrize("drawing", SHIPPED, ids=lambda drawing: drawing.id)
def test_a_symbol_of_12_mm_can_be_engraved(drawing: SymbolDrawing) -> None:
    box = drawing.path.bounds()
    path = drawing.path.moved(Affine.scale(12 / max(box.width, box.height)))
    assert thinnest_stroke(path, 12) >= 0.5
    assert narrowest_gap(path, 12) >= 0.5


def test_six_symbols_ship() -> None:
    ids = [drawing.id for drawing in SHIPPED]
    assert ids == ["anchor", "oar", "paw", "shell", "sprig", "star"]
    assert "symbols" not in shipped()


@pytest.mark.parametrize("name", ["anchor", "oar", "paw", "shell", "sprig", "star"])
def test_a_symbol_fills_its_zone_and_keeps_within_it(tmp_path: Path, name: str) -> None:
    template = made(tmp_path / "tag")
    mark = symbol(template, symbol=name)
    zone = Polygon(template.symbol_slots[0].zone)
    points = [Polygon(outline) for outline in mark.path.flatten(0.01)]
    assert all(zone.buffer(0.02).contains(part) for part in points)
    assert min(part.distance(zone.exterior) for part in points) < 0.02
    assert mark.path.bounds().centre == pytest.approx((zone.centroid.x, zone.centroid.y), abs=1e-3)


def test_a_blank_cell_takes_the_usual_symbol(tmp_path: Path) -> None:
    template = made(tmp_path / "tag")
    assert symbol(template) == symbol(template, symbol="Star")
    fields = {"name": "Ada", "year": str(workshop().edition_year)}
    usual, _ = resolve(template, order(fields), workshop())
    other, _ = resolve(template, order(fields, symbol="paw"), workshop())
    assert usual is not None
    assert other is not None
    # The layer with the usual symbol is cut ahead; another symbol makes another piece.
    assert [layer.shared for layer in usual.layers] == [False, True]
    assert [layer.shared for layer in other.layers] == [False, False]
    assert usual.layers[1].sha256 != other.layers[1].sha256
    assert usual.layers[0].sha256 == other.layers[0].sha256


def test_without_a_usual_symbol_a_blank_cell_leaves_the_place_empty(tmp_path: Path) -> None:
    template = made(tmp_path / "tag", PLACES.replace('default = "star"', ""))
    design, flags = resolve(template, order({"name": "Ada"}), workshop())
    assert design is not None
    assert not flags
    assert not any(mark.field == "symbol" for layer in design.layers for mark in layer.marks)


def test_an_unknown_symbol_stops_and_names_the_nearest(tmp_path: Path) -> None:
    design, (flag,) = resolve(
        made(tmp_path / "tag"), order({"name": "Ada"}, symbol="ancor"), workshop()
    )
    assert design is None
    assert flag.text == (
        "row 12, symbol (S12): there is no symbol 'ancor'; there is anchor, oar, paw, shell, "
        "sprig, star. Type anchor, if that is meant."
    )


def svg(element: str) -> str:
    return HEAD + element + "</svg>"


def own(designs: Path, name: str, text: str) -> Path:
    """A folder that may hold designs, with a symbol of its own."""
    symbols = designs / "symbols"
    symbols.mkdir(parents=True)
    (symbols / f"{name}.svg").write_text(text, encoding="utf-8")
    return designs


def test_a_symbol_that_comes_out_too_fine_stops(tmp_path: Path) -> None:
    bars = svg('<path id="engrave-area" d="M0 0h60v2h-60z M0 {0}h60V{1}h-60z M0 18h60v2h-60z"/>')
    bold = made(own(tmp_path / "a", "bars", bars.format(9, 11)) / "tag")
    scale = symbol(bold, symbol="bars").path.bounds().width / 60
    fine = made(own(tmp_path / "b", "bars", bars.format(9.8, 10.2)) / "tag")
    design, (flag,) = resolve(fine, order({"name": "Ada"}, symbol="bars"), workshop())
    assert design is None
    assert flag.kind.id == "symbol-too-fine"
    assert flag.measured == pytest.approx(0.4 * scale + workshop().machine.dot, abs=0.01)
    assert "stroke of the bars" in flag.text


def test_wood_inside_a_cut_symbol_would_fall_out(tmp_path: Path) -> None:
    template = made(tmp_path / "tag", PLACES + 'made = "cut"\n')
    assert symbol(template, symbol="paw").operation == "cut-inside"
    _, (flag,) = resolve(template, order({"name": "Ada"}, symbol="anchor"), workshop())
    assert flag.kind.id == "symbol-falls-out"


@pytest.mark.parametrize(
    ("name", "element", "sentence"),
    [
        ("bare", "", "nothing is drawn in it"),
        ("line", '<path id="engrave-line" d="M0 0h9"/>', "a symbol is one or more elements"),
        ("open", '<path id="engrave-area" d="M0 0h9v9"/>', "its outline is not closed"),
        ("none", '<path id="engrave-area" d="M0 0h9v9z"/>', "'none' leaves the symbol out"),
        ("Big Fish", '<path id="engrave-area" d="M0 0h9v9z"/>', "is named in a-z"),
    ],
)
def test_a_broken_symbol_is_told(tmp_path: Path, name: str, element: str, sentence: str) -> None:
    with pytest.raises(UnusableError, match=sentence):
        read_symbols([own(tmp_path, name, svg(element)) / "symbols"])


def test_a_usual_symbol_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(UnusableError, match="unknown symbol 'stra'; did you mean 'star'"):
        made(tmp_path / "tag", PLACES.replace('"star"', '"stra"'))


def test_no_symbol_where_none_is_asked_for(tmp_path: Path) -> None:
    asked = order({"name": "Ada"}, symbol="None")
    design, flags = resolve(made(tmp_path / "tag"), asked, workshop())
    assert design is not None and flags == ()
    front = design.layers[1]
    assert not [mark for mark in front.marks if mark.field == "symbol"]
    assert not front.shared
