"""What is on the back of a layer: a file of its own, clear of the cuts as they lie from there."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from books import write_book

from proofgen.day import pipeline, rows, shop
from proofgen.resources import folder

DESIGNS = Path(__file__).parent / "designs"


@pytest.fixture
def made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> pipeline.Run:
    monkeypatch.setattr(shop, "folder", lambda n: DESIGNS if n == "templates" else folder(n))
    monkeypatch.setattr(rows, "_open", {})
    row = {"order": "T-1", "name": "Otto", "design": "turned", "year": "none"}
    book = write_book(tmp_path / "orders.xlsx", [row], (), ())
    return pipeline.make(book, pipeline.Options(out=tmp_path), lambda *_: None, everything=True)


def operations(file: Path) -> list[str]:
    groups = ElementTree.parse(file).getroot().iter("{http://www.w3.org/2000/svg}g")
    return [group.attrib["data-operation"] for group in groups]


def test_the_back_has_its_own_file(made):
    ((front, back),) = made.production.values()
    assert back.name == front.name.removesuffix(".svg") + "-back.svg"
    assert operations(front) == ["cut-inside", "cut-outside"]
    assert operations(back) == ["engrave-area"]


def test_the_hole_lies_on_the_other_side(made):
    """Ink starts at x = 10; the eye, at 12 from the left, is at 108 seen from the back.

    So the nearest cut is the left edge, 10 mm away, and not the eye.
    """
    (row,) = made.rows
    (name,) = row.artwork.lettering
    assert name.outline.bounds().left == pytest.approx(10, abs=0.1)
    assert name.clearance == pytest.approx(name.outline.bounds().left, abs=0.01)
