"""How far letters keep from the cuts of their layer, the side that closes an outline included."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.day import shop
from proofgen.orders.order import Line, Order, Source
from proofgen.resources import folder

DESIGN = """format = 1
title = "Tag"
needed = ["name"]

[[layers]]
name = "tag"
drawing = "tag.svg"
material = "birch-3"
finish = "natural"

[[slots]]
field = "name"
layer = "tag"
faces = ["vollkorn"]
align = "left"
anchor = 10
"""
DRAWING = """
<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="40mm" viewBox="0 0 120 40">
  <path id="cut-outside" d="M{corners}Z"/>
  <rect id="zone.name" x="8" y="6" width="90" height="28"/>
</svg>
"""
CORNERS = ("0 0", "120 0", "120 40", "0 40")


@pytest.mark.parametrize("first", range(4))
def test_whichever_side_closes_the_outline_is_kept_clear_of(
    first: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    corners = CORNERS[first:] + CORNERS[:first]
    (tmp_path / "tag").mkdir()
    (tmp_path / "tag" / "design.toml").write_text(DESIGN, encoding="utf-8")
    drawing = DRAWING.strip().format(corners=" L".join(corners))
    (tmp_path / "tag" / "tag.svg").write_text(drawing, encoding="utf-8")
    monkeypatch.setattr(shop, "folder", lambda n: tmp_path if n == "templates" else folder(n))
    order = Order("T-1", 1, Source("", "", 2), "tag", (("name", "Otto"),))
    made = shop.make_row(Line(order), shop.open_shop())
    assert made.artwork is not None, [flag.text for flag in made.flags]
    (name,) = made.artwork.lettering
    inked = name.outline.bounds()
    nearest = min(inked.left, inked.top, 120 - inked.right, 40 - inked.bottom)
    assert name.clearance == pytest.approx(nearest, abs=0.01)
