"""A design as ordinary drawing programs save it, through untouched code to the machine's files.

The front is drawn in points on a page of 800 by 1200 units of 0.1 mm, with groups, transforms,
styles, classes, hidden layers and foreign namespaces; the back in pixels. Expected millimetres are
worked out by hand from the drawing.
"""

from __future__ import annotations

import math
import re
import shutil
from pathlib import Path

import pytest
from books import write_book

from proofgen.day import design_check, pipeline
from proofgen.designs.design import Mark, Template
from proofgen.designs.read import read_template
from proofgen.geometry.polygons import area
from proofgen.workshop.read import load

BEACON = Path(__file__).parents[1] / "demo" / "own-design" / "beacon"
# 302.3622 px and 226.7717 pt stand for 80 mm, rounded by the programs to 4 decimals.
NEAR = 1e-4


def quiet(*_: int) -> None:
    pass


@pytest.fixture(scope="module")
def beacon() -> Template:
    return read_template(BEACON, load(None))


def marks(beacon: Template, layer: str) -> dict[str, Mark]:
    found = next(each for each in beacon.layers if each.name == layer)
    return {mark.element: mark for mark in found.marks}


def box(mark: Mark) -> tuple[float, ...]:
    found = mark.path.bounds()
    return found.left, found.top, found.right, found.bottom


def test_true_millimetres(beacon: Template) -> None:
    assert beacon.size == pytest.approx((80, 120), abs=NEAR)
    front, back = marks(beacon, "front"), marks(beacon, "back")
    # A half disc of 20 mm radius on a trapezium 40 to 60 mm wide and 98 mm high.
    outline = front["cut-outside"]
    assert box(outline) == pytest.approx((10, 0, 70, 118), abs=1e-3)
    assert area(outline.path, 1e-4) == pytest.approx(98 * 50 + math.pi * 200, abs=0.05)
    # A square of 8 mm on its corner; a disc of 3 mm radius 90 sqrt(2) units below its middle.
    half = 8 / math.sqrt(2)
    assert box(front["rect12"]) == pytest.approx(
        (40 - half, 42 - half, 40 + half, 42 + half), abs=1e-3
    )
    below = 42 + 9 * math.sqrt(2)
    assert box(front["ellipse7"]) == pytest.approx((37, below - 3, 43, below + 3), abs=1e-3)
    assert box(front["path31"]) == pytest.approx((22, 80, 58, 84), abs=1e-3)
    # The rounded rectangle lacks its corners: (4 - pi) r².
    assert area(back["cut-outside"].path, 1e-4) == pytest.approx(
        9600 - (4 - math.pi) * 100, abs=0.05
    )
    assert [layer.hole for layer in beacon.layers] == [
        pytest.approx((40, 8), abs=1e-3),
        pytest.approx((40, 8), abs=1e-3),
    ]


def test_what_is_hidden_or_only_defined_is_not_made(beacon: Template) -> None:
    front = marks(beacon, "front")
    assert set(front) == {"cut-outside", "rect12", "ellipse7", "path31"}
    assert {slot.field for slot in beacon.slots} == {"name", "year", "order"}


def test_the_check_says_only_how_it_was_drawn() -> None:
    flags = design_check.check_design(BEACON, {}, None, pipeline.Options())
    assert [flag.text for flag in flags] == [
        'back.svg: is drawn in the unit "px" and was read as 80.00 by 120.00 mm. '
        "Compare that with the size you meant.",
        'front.svg: is drawn in the unit "pt" and was read as 80.00 by 120.00 mm. '
        "Compare that with the size you meant.",
    ]


def test_from_the_row_to_the_machine(tmp_path: Path) -> None:
    shutil.copytree(BEACON, tmp_path / "designs" / "beacon")
    row = {"order": "T-1", "name": "Wendeline", "design": "Harbour beacon", "year": 2027}
    book = write_book(tmp_path / "orders.xlsx", [row])
    (shown,) = pipeline.proof(book, pipeline.Options(), quiet).rows
    write_book(book, [{**row, "approved": shown.code}])
    made = pipeline.make(book, pipeline.Options(), quiet, everything=False)
    front, back = sorted(made.production[2], key=lambda path: "back" in path.name)
    drawing = front.read_text(encoding="utf-8")
    width, height = re.findall(r'(?:width|height)="([\d.]+)mm"', drawing)[:2]
    assert (float(width), float(height)) == pytest.approx((80, 120), abs=0.001)
    assert drawing.count("<path") >= 6
    assert "T-1" not in drawing.split("<g", 1)[1], "the number is on the layer behind"
    assert "engrave lines" in back.read_text(encoding="utf-8")
