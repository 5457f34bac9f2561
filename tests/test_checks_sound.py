"""Rows of a design that cannot be made as it is drawn stop; judging it is done once."""

from __future__ import annotations

from pathlib import Path

import pytest
from books import write_book
from designs_folder import FRONT, HEAD, make

from proofgen.artwork.artwork import Made
from proofgen.checks import sound
from proofgen.day import design_check, pipeline, rows

NARROW = FRONT.replace("M5 15h8v8h-8z", "M18.5 15h-8v8h8z")  # 1.32 mm beside the window


@pytest.fixture(autouse=True)
def own_cache(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "cache"))
    another_day(monkeypatch)


def another_day(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is kept in this process alone is gone."""
    monkeypatch.setattr(rows, "_open", {})
    monkeypatch.setattr(sound, "_faults", {})


def judged(home: Path, *cells: dict[str, object]) -> tuple[Made, ...]:
    lines = [{"order": f"T-{i}", "name": "Ada", "design": "tag", **c} for i, c in enumerate(cells)]
    book = write_book(home / "orders.xlsx", lines)
    return pipeline.check(book, pipeline.Options(), lambda *_: None).rows


def test_a_row_says_what_stops_its_design_until_that_is_mended(tmp_path, monkeypatch) -> None:
    design = make(tmp_path / "designs" / "tag", front=HEAD + NARROW)
    (found,) = [
        flag
        for flag in design_check.check_design(design, {}, None, pipeline.Options())
        if flag.kind.severity == "stop"
    ]
    (row,) = judged(tmp_path, {})
    (flag,) = [flag for flag in row.flags if flag.kind.id == "design-unsound"]
    assert row.verdict == "stop"
    assert row.artwork is None
    assert f"{found.where}: {found.says}" in flag.text
    assert found.to_do in flag.text
    make(design)
    another_day(monkeypatch)
    assert judged(tmp_path, {})[0].verdict == "ready"


def test_limits_of_the_workshop_decide(tmp_path, monkeypatch) -> None:
    make(tmp_path / "designs" / "tag")
    assert judged(tmp_path, {})[0].verdict == "ready"
    stricter = "format = 1\n[limits]\nweb = { least = 7, wanted = 7 }\n"
    (tmp_path / "workshop.toml").write_text(stricter, encoding="utf-8")
    another_day(monkeypatch)
    assert judged(tmp_path, {})[0].verdict == "stop"


def test_a_hanger_that_is_not_asked_for_stops_nothing(tmp_path) -> None:
    """The ribbon's hole, 6 mm wide, leaves 1.3 mm to the window; a cord's has room."""
    near = FRONT.replace("M20 15h40v25h-40z", "M20 10.5h40v29.5h-40z")
    make(tmp_path / "designs" / "tag", front=HEAD + near)
    ribbon, cord = judged(tmp_path, {"hanger": "ribbon"}, {"hanger": "cord"})
    assert ribbon.verdict == "stop"
    assert [f.kind.id for f in cord.flags if f.kind.id == "design-unsound"] == []


@pytest.mark.parametrize("front", [FRONT, NARROW])
def test_a_design_is_judged_once(front, tmp_path, monkeypatch) -> None:
    make(tmp_path / "designs" / "tag", front=HEAD + front)
    judge, asked = sound.drawn, []
    monkeypatch.setattr(sound, "drawn", lambda *of: asked.append(of) or judge(*of))
    judged(tmp_path, {}, {"name": "Ida"}, {"name": "Eda", "year": 2026})
    assert len(asked) == 1
    if front == FRONT:
        another_day(monkeypatch)
        judged(tmp_path, {"name": "Uda"})
        assert len(asked) == 1


WIDE = """format = 1
title = "Wide Tag"

[[layers]]
name = "front"
drawing = "front.svg"
material = "birch-3"
finish = "natural"

[[slots]]
field = "name"
layer = "front"
faces = ["open-sans"]
"""
LONG = "Bartholomew-Maximilian Featherstonehaugh"


@pytest.mark.parametrize("window", ["", '<rect id="cut-inside" x="1" y="1" width="9" height="5"/>'])
def test_no_row_is_sent_to_a_design_that_cannot_be_made(window, tmp_path) -> None:
    make(tmp_path / "designs" / "tag")
    wide = tmp_path / "designs" / "wide"
    wide.mkdir()
    (wide / "design.toml").write_text(WIDE, encoding="utf-8")
    head = HEAD.replace('"80mm"', '"300mm"').replace("0 0 80 60", "0 0 300 60")
    drawn = '<rect id="cut-outside" width="300" height="60"/>' + window
    zone = '<rect id="zone.name" x="20" y="15" width="260" height="30"/></svg>'
    (wide / "front.svg").write_text(head + drawn + zone, encoding="utf-8")
    (row,) = judged(tmp_path, {"name": LONG, "year": "none"})
    assert row.verdict == "stop"
    assert ("Choose the design Wide Tag" in row.flags[-1].text) == (not window)
