"""How a finished piece hangs: grown or not, with the letters that stand on it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from designs_folder import order

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.checks.hanging import hung, tilted
from proofgen.day import design_check, pipeline
from proofgen.designs.design import Mark
from proofgen.flags.flag import Flag
from proofgen.geometry.path import Path as Outline, circle, polygon
from proofgen.workshop.read import load

TOML = """format = 1
title = "Board"
needed = ["name"]
hangers = ["cord"]

[[layers]]
name = "front"
drawing = "front.svg"
material = "birch-3"
finish = "natural"

[[slots]]
field = "name"
layer = "front"
"""
ENGRAVED = TOML + 'faces = ["vollkorn"]\n'
STANDING = (
    TOML + 'faces = ["pacifico"]\ncap_height = { least = 20, wanted = 30 }\n'
    'baseline = 36\nmade = "stand"\nbolder = 0.5\nalign = "left"\nanchor = 20\n'
)
GROWTH = '\n[[growth]]\naxis = "x"\nat = {}\nmost = {}\nfield = "name"\n'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 70">'
BOARD = '<rect id="cut-outside" x="5" y="5" width="90" height="60" rx="4"/>'
ZONE = '<rect id="zone.name" x="15" y="35" width="70" height="20"/>'
BAR = (
    '<rect id="cut-outside" x="5" y="35" width="90" height="20"/>'
    '<rect id="zone.name" x="8" y="2" width="90" height="66"/>'
)


def hole(x: float, y: float) -> str:
    return f'<circle id="hole" cx="{x}" cy="{y}" r="1"/>'


def found(place: Path, toml: str, drawn: str) -> list[Flag]:
    place.mkdir()
    (place / "design.toml").write_text(toml, encoding="utf-8")
    (place / "front.svg").write_text(SVG + drawn + "</svg>", encoding="utf-8")
    flags = design_check.check_design(place, {"name": "Ida"}, None, pipeline.Options())
    return [flag for flag in flags if flag.kind.id.startswith("hangs")]


def test_growth_on_one_side_of_the_hole_is_told_with_what_cures_it(tmp_path: Path) -> None:
    drawn = BOARD + ZONE + hole(50, 11)
    (flag,) = found(tmp_path / "one", ENGRAVED + GROWTH.format(30, 60), drawn)
    assert flag.kind.id == "hangs-tilted-grown"
    # The hole moves by 60 mm and the middle of the board by 30, 24 mm below it.
    assert float(str(flag.measured)) == pytest.approx(51.3, abs=0.1)
    lines = re.findall(r"at x = ([\d.]+) by ([\d.]+)", flag.text)
    assert len(lines) == 2
    cured = ENGRAVED + "".join(GROWTH.format(at, most) for at, most in lines)
    assert found(tmp_path / "two", cured, drawn) == []


def test_no_cure_is_told_that_is_none(tmp_path: Path) -> None:
    """On the other side of the hole the line would run through a round window."""
    window = '<circle id="cut-inside.moon" cx="70" cy="20" r="6"/>'
    moon = window + window.replace('cx="70"', 'cx="22"').replace("moon", "sun")
    drawn = BOARD + ZONE + moon + hole(50, 11)
    told = found(tmp_path / "one", ENGRAVED + GROWTH.format(30, 60), drawn)
    tilts = [flag for flag in told if flag.kind.id == "hangs-tilted-grown"]
    assert tilts
    assert "Let it grow" not in tilts[0].text


@pytest.mark.parametrize("dx", [0.0, 1e-9, -1e-9, 1e-4])
@pytest.mark.parametrize("dy", [0.0, 1e-9, -1e-9])
def test_a_hole_in_the_middle_hangs_undecided_and_no_angle_is_told(
    dx: float, dy: float, tmp_path: Path
) -> None:
    drawn = BOARD + '<rect id="zone.name" x="15" y="45" width="70" height="14"/>'
    (flag,) = found(tmp_path / "mid", ENGRAVED, drawn + hole(50 + dx, 35 + dy))
    assert flag.kind.id == "hangs-undecided"
    assert " x = " not in flag.text


def test_letters_that_stand_weigh_too(tmp_path: Path) -> None:
    """The bar alone would hang upright from its middle; the name stands on its left end."""
    (flag,) = found(tmp_path / "bar", STANDING, BAR + hole(50, 40))
    bar_alone = 5.0  # mm from the hole down to the middle of the bar
    lies, way = re.findall(r"lies ([\d.]+) mm (above|below)", flag.text)[0]
    assert way == "above" or float(lies) < bar_alone - 2
    assert flag.kind.id == "hangs-undecided"


def test_the_middle_is_that_of_all_layers_with_their_openings() -> None:
    """By hand: two boards 40 mm square of one thickness, 10 mm apart, one with a window."""
    hanger = Mark("cut-inside", circle((30, 5), 2), "hanger")
    window = polygon(((10, 10), (20, 10), (20, 30), (10, 30)))
    front = polygon(((0, 0), (40, 0), (40, 40), (0, 40)))
    back = polygon(((10, 0), (50, 0), (50, 40), (10, 40)))
    layers = [
        Layer("back", "birch-3", "natural", 0, False, (0,), (Mark("cut-outside", back),)),
        Layer(
            "front",
            "birch-3",
            "natural",
            1,
            False,
            (0,),
            (hanger, Mark("cut-inside", window), Mark("cut-outside", front)),
        ),
    ]
    hangs = hung(layers, load(None))
    assert hangs is not None
    disc = 3.141592653589793 * 4
    whole = 1600 * 2 - 200 - disc
    x = (1600 * 30 + 1600 * 20 - 200 * 15 - disc * 30) / whole
    y = (1600 * 20 * 2 - 200 * 20 - disc * 5) / whole
    assert hangs.hole == pytest.approx((30, 5))
    assert hangs.middle == pytest.approx((x, y), abs=0.001)


@pytest.mark.parametrize(("x", "y"), [(10, 35), (50, 35), (10, 60)])
def test_the_hole_that_is_named_makes_it_hang_upright(x: float, y: float, tmp_path: Path) -> None:
    """Hung by an end, by its middle and by its foot: one change cures x and y."""
    drawn = BOARD + '<rect id="zone.name" x="25" y="45" width="50" height="14"/>'
    (flag,) = found(tmp_path / "one", ENGRAVED, drawn + hole(x, y))
    assert flag.kind.id == "hangs-undecided"
    told = dict(re.findall(r"([xy]) = ([\d.]+)", flag.text))
    cured = hole(float(told.get("x", x)), float(told["y"]))
    assert found(tmp_path / "two", ENGRAVED, drawn + cured) == []


def test_a_row_that_no_text_makes_hang_upright_is_not_told_to_shorten() -> None:
    """A board hung beside its middle; one whose letters alone tilt it is told to."""
    hanger = Mark("cut-inside", circle((5, 20), 2), "hanger")
    board = polygon(((0, 0), (60, 0), (60, 40), (0, 40)))
    high = polygon(((0, 0), (60, 0), (60, 90), (0, 90)))

    def layers(outline: Outline) -> tuple[Layer, ...]:
        marks = (hanger, Mark("cut-outside", outline))
        return (Layer("front", "birch-3", "natural", 0, False, (0,), marks),)

    artwork = Artwork(order({}), "tag", "Tag", (60, 90), layers(board), (), "ribbon")
    said = [
        flag.text for bare in (board, high) for flag in tilted(artwork, layers(bare), load(None))
    ]
    assert ["horten" in text for text in said] == [False, True]
