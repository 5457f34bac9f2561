"""The strip search on published instances (packing/SOURCES.json) against their record layouts."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from nested import area, faults, placed_points

from proofgen.nesting.engine import Effort, Search, strips
from proofgen.nesting.part import Board
from proofgen.nesting.shape import Lying, Shape

FOLDER = Path(__file__).parent / "packing"
RECORDS = json.loads((FOLDER / "SOURCES.json").read_text(encoding="utf-8"))["best"]


def instance(name: str) -> tuple[tuple[Shape, ...], Board]:
    """Its shapes, and a strip longer than any layout needs."""
    said = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    shapes = tuple(
        Shape(tuple(map(tuple, item["shape"]["data"])), tuple(item["allowed_orientations"]))
        for item in said["items"]
        for _ in range(item["demand"])
    )
    return shapes, Board(10 * RECORDS[name]["record_width"], said["strip_height"], 0, 0)


def share_of_record(name: str, lying: tuple[Lying, ...], height: float) -> float:
    """The density of the layout over that of the record."""
    polygons = [placed_points(e.shape.outline, e.turn, e.x, e.y) for e in lying]
    width = max(p[:, 0].max() for p in polygons) - min(p[:, 0].min() for p in polygons)
    density = 100 * sum(map(area, polygons)) / (width * height)
    return float(density / RECORDS[name]["record_density"])


@pytest.mark.parametrize("name", ["albano", "marques"])
def test_no_layout_is_denser_than_the_record(name: str) -> None:
    shapes, board = instance(name)
    enough = RECORDS[name]["record_width"] / 0.85
    (strip,) = strips([Search(shapes, board, enough)], Effort(), None)
    assert strip is not None and strip.width <= enough
    assert len(strip.lying) == len(shapes)
    share = share_of_record(name, strip.lying, board.height)
    record = RECORDS[name]["record_density"]
    assert 0.84 < share < 1 + 1 / record
    polygons = [placed_points(e.shape.outline, e.turn, e.x, e.y) for e in strip.lying]
    size = (strip.width, board.height)
    assert faults(polygons, size, 0, 0.02, tolerance=0.015) == []
    # The same with one part moved by a twentieth of the strip's height.
    polygons[3] = polygons[3] + board.height / 20
    assert faults(polygons, size, 0, 0.02, tolerance=0.015) != []
