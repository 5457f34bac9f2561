"""Letters that stand in a window of their layer: the window less the letters is what is cut."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely
from designs_folder import HEAD, make, workshop
from standing_names import KERF, filled, weak

from proofgen.artwork.artwork import Made
from proofgen.checks.sample import sample
from proofgen.day.shop import open_shop
from proofgen.designs.read import read_template
from proofgen.flags import kinds
from proofgen.geometry.path import Path as Outline, join

TOML = """format = 1
title = "Framed name"
hangers = ["ribbon"]
[[layers]]
name = "frame"
drawing = "front.svg"
material = "birch-3"
finish = "natural"
[[slots]]
field = "name"
layer = "frame"
faces = ["rubik"]
made = "stand"
bolder = 0.6
baseline = 37
cap_height = { least = 12, wanted = 20 }
"""
PLATE, WINDOW = "M2 2h76v56h-76z", "M6 14h68v22h-68z"
ZONE = '<rect id="zone.name" x="8" y="15" width="64" height="28"/></svg>'
HOLE = '<circle id="hole" cx="40" cy="8" r="1"/>'
RING = f'<path id="cut-outside" d="{PLATE}{WINDOW}"/>'
APART = f'<path id="cut-outside" d="{PLATE}"/><path id="cut-inside.w" d="{WINDOW}"/>'


def made(place: Path, drawn: str, name: str, hole: str = HOLE) -> Made:
    folder = make(place / "framed", toml=TOML, front=HEAD + drawn + hole + ZONE)
    return sample(read_template(folder, workshop()), {"name": name}, workshop(), open_shop().bench)


def of(whole: Made, operation: str) -> Outline:
    assert whole.artwork, [flag.text for flag in whole.flags]
    return join(m.path for m in whole.artwork.layers[0].marks if m.operation == operation)


def wood(whole: Made) -> shapely.Geometry:
    return filled(join([of(whole, "cut-outside"), of(whole, "cut-inside")]))


@pytest.mark.parametrize("drawn", [RING, APART])
@pytest.mark.parametrize("name", ["Boa", "Jiřína", "Ög"])
def test_letters_in_a_window_are_wood_of_the_frame(tmp_path: Path, drawn: str, name: str) -> None:
    """Every letter whole, all of it one part with the frame, nothing but bridges added."""
    whole = made(tmp_path, drawn, name)
    shape = wood(whole)
    assert whole.artwork
    letters = filled(whole.artwork.lettering[0].outline)
    assert letters.difference(shape).area < 0.02
    window = shapely.box(6, 14, 74, 36)
    assert letters.intersection(window).area > 100
    assert shape.geom_type == "Polygon"
    assert weak(shape.buffer(-KERF / 2)) == []
    added = shape.intersection(window).difference(letters.buffer(0.02)).area
    assert added < 60, "bars from marks and letters, each 2.2 mm wide"


def test_counters_in_a_window_stay_open(tmp_path: Path) -> None:
    whole = made(tmp_path, APART, "Bo")
    shape = wood(whole)
    assert whole.artwork
    (letters,) = (filled(each.outline) for each in whole.artwork.lettering)
    rings = [ring for part in shapely.get_parts(letters) for ring in part.interiors]
    assert len(rings) == 3
    for ring in rings:
        assert shape.intersection(shapely.Polygon(ring)).area < 0.02


def test_a_window_without_letters_is_cut_as_drawn(tmp_path: Path) -> None:
    """And one with letters leaves an island within it as it was."""
    pane = '<rect id="cut-inside.pane" x="10" y="48" width="20" height="6"/>'
    island = "M66 17h5v4h-5z"
    whole = made(tmp_path, f'<path id="cut-outside" d="{PLATE}{WINDOW}{island}"/>{pane}', "Bo")
    shape = wood(whole)
    assert shape.intersection(shapely.box(10, 48, 30, 54)).area == pytest.approx(0, abs=0.01)
    assert shape.intersection(shapely.box(66, 17, 71, 21)).area == pytest.approx(20, abs=0.01)


def test_a_hole_through_a_letter_is_told(tmp_path: Path) -> None:
    """The hole of a hanger stays one, whatever stands there."""
    through = made(tmp_path, APART, "HHHH", '<circle id="hole" cx="40" cy="38" r="1"/>')
    beside = made(tmp_path, APART, "HHHH")
    assert kinds.LETTERS_CROSSED in [flag.kind for flag in through.flags]
    assert kinds.LETTERS_CROSSED not in [flag.kind for flag in beside.flags]
