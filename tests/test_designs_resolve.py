"""From a template to the design of one order."""

from pathlib import Path

import pytest
from designs_folder import TOML, make, order, shipped, workshop

from proofgen.designs.design import Design, Template
from proofgen.designs.read import read_template
from proofgen.designs.resolve import find, resolve
from proofgen.flags.flag import Flag

YEAR = str(workshop().edition_year)


@pytest.fixture
def tag(tmp_path: Path) -> Template:
    return read_template(make(tmp_path / "tag"), workshop())


def made(template: Template, fields: dict[str, str], **options: str) -> tuple[Design, list[str]]:
    design, flags = resolve(template, order(fields, **options), workshop())
    assert design is not None
    return design, [flag.kind.id for flag in flags]


def only(template: Template, fields: dict[str, str], **options: str) -> Flag:
    design, (flag,) = resolve(template, order(fields, **options), workshop())
    assert design is None
    return flag


def test_blank_cells_take_the_first_choice(tag: Template) -> None:
    design, flags = made(tag, {"name": "Ada", "year": YEAR})
    assert not flags
    assert [layer.finish for layer in design.layers] == ["natural", "natural"]
    assert design.hanger == "ribbon"


@pytest.mark.parametrize("typed", ["walnut", " WALNUT", "Walnut Stain", "walnut-stain"])
def test_a_finish_is_matched_by_id_or_title(tag: Template, typed: str) -> None:
    design, _ = made(tag, {"name": "Ada"}, finish=typed)
    assert [layer.finish for layer in design.layers] == ["natural", "walnut"]


@pytest.mark.parametrize(
    ("hanger", "diameters"), [("ribbon", [5.5, 5.0]), ("cord", [3.5, 3.0]), ("none", [])]
)
def test_the_hole_is_as_wide_as_the_hanger_asks(
    tag: Template, hanger: str, diameters: list[float]
) -> None:
    design, _ = made(tag, {"name": "Ada"}, hanger=hanger)
    holes = [m.path.bounds() for layer in design.layers for m in layer.marks if m.field == "hanger"]
    assert [hole.width for hole in holes] == pytest.approx(diameters)
    assert all(hole.centre == pytest.approx((40, 6)) for hole in holes)


@pytest.mark.parametrize(
    ("fields", "options", "shared"),
    [
        ({"year": YEAR}, {}, True),
        ({"year": "1999"}, {}, False),
        ({}, {}, False),  # without a year
        ({"year": YEAR}, {"hanger": "cord", "finish": "walnut"}, True),  # so is it for others
    ],
)
def test_a_layer_is_shared_if_nothing_on_it_is_the_rows(
    tag: Template, fields: dict[str, str], options: dict[str, str], shared: bool
) -> None:
    design, _ = made(tag, {"name": "Ada"} | fields, **options)
    assert [layer.shared for layer in design.layers] == [False, shared]


def test_stops(tag: Template) -> None:
    flag = only(tag, {"name": "Ada"}, finish="wallnut")
    assert flag.text == (
        "row 12, finish (F12): the finish 'wallnut' is not offered; there is natural, "
        "walnut stain, weathered grey. Type walnut stain, if that is meant."
    )
    # Burgundy is a finish of the workshop, but not one of this design.
    assert only(tag, {"name": "Ada"}, finish="burgundy").kind.id == "finish-unknown"
    assert only(tag, {"name": "Ada"}, hanger="chain").kind.id == "hanger-unknown"
    flag = only(tag, {"year": YEAR})
    assert (flag.kind.id, flag.where) == ("field-missing", "row 12, name")


def test_notes(tag: Template, tmp_path: Path) -> None:
    _, flags = made(tag, {"name": "Ada", "inscription": "Ahoy"}, symbol="shell")
    assert flags == ["field-unused", "symbol-unused"]
    plain = TOML.replace('hangers = ["ribbon", "cord", "none"]', "").replace("row", "natural")
    plain = plain.replace('finishes = ["natural", "walnut", "weathered"]', "")
    plain = plain[: plain.rindex("[[slots]]")]
    files = {
        name: (tmp_path / "tag" / f"{name}.svg").read_text(encoding="utf-8")
        for name in ("back", "front")
    }
    files = {name: "\n".join(_kept(text)) for name, text in files.items()}
    fixed = read_template(make(tmp_path / "fixed", toml=plain, **files), workshop())
    _, flags = made(fixed, {"name": "Ada", "year": YEAR}, finish="walnut", hanger="cord")
    assert flags == ["finish-unused", "hanger-unused"]
    # No hanger is what it has, and the edition's year is what a blank cell means.
    assert made(fixed, {"name": "Ada", "year": YEAR}, hanger="none")[1] == []
    assert made(fixed, {"name": "Ada", "year": "1999"})[1] == ["field-unused"]


def _kept(text: str) -> list[str]:
    return [line for line in text.splitlines() if "hole" not in line and "zone.year" not in line]


def test_designs_are_found_by_id_or_title() -> None:
    templates = shipped()
    assert find(templates, "harbour LANTERN")[0] is templates["lantern"]
    assert find(templates, "Boat ")[0] is templates["boat"]
    found, (flag,) = find(templates, "Harbor lantrn", "row 3, design (D3)")
    assert found is None
    assert flag.kind.id == "design-unknown"
    assert flag.text.startswith("row 3, design (D3): there is no design 'Harbor lantrn'; there is ")
    assert flag.text.endswith("Type Harbour lantern, if that is meant.")
