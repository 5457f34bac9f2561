"""The season's page in a real Chromium at the sizes of a phone and a desk."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import axe_core_python.base
import pytest
from browser import CHROMIUM, Tab
from season_rows import full, told

from proofgen.money.order import Piece
from proofgen.money.work import Work
from proofgen.season.figures import Season, figures
from proofgen.season.page import write_page
from proofgen.sheets.losses import Losses

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium on this machine")

SIZES = pytest.mark.parametrize("size", [(360, 740), (1280, 900)], ids=["phone", "desk"])
AXE = Path(axe_core_python.base.__file__).with_name("axe.min.js")
WORK = Work((("birch-3", Decimal(9000)),), Decimal(10))


def written(folder: Path, pieces: int) -> Path:
    season, workshop = full([Piece(WORK, Decimal("1234.50"))] * max(pieces, 1))
    if not pieces:
        season = nothing()
    write_page(folder / "orders-season.html", season, told(workshop))
    return folder / "orders-season.html"


def nothing() -> Season:
    return figures([], [], Losses(0, 0, ()))


@SIZES
@pytest.mark.parametrize("pieces", [0, 1, 3], ids=["nothing", "some", "discount"])
def test_it_fits_and_axe_finds_no_fault(
    tab: Tab, tmp_path: Path, size: tuple[int, int], pieces: int
) -> None:
    """axe-core, an independent checker of WCAG (https://github.com/dequelabs/axe-core)."""
    tab.size(*size)
    tab.open(written(tmp_path, pieces))
    wider = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert tab.run(wider) == 0
    assert tab.run("innerWidth") == size[0], "a page that does not fit is laid out wider"
    tab.run(AXE.read_text(encoding="utf-8") + ";0")
    found = tab.run("axe.run('html')")
    assert [(r["id"], n["html"]) for r in found["violations"] for n in r["nodes"]] == []
    assert [(r["id"], n["html"]) for r in found["incomplete"] for n in r["nodes"]] == []


@SIZES
def test_every_bar_has_its_words_beside_it_and_inside_its_card(
    tab: Tab, tmp_path: Path, size: tuple[int, int]
) -> None:
    tab.size(*size)
    tab.open(written(tmp_path, 1))
    outside = """[...document.querySelectorAll('section p, dd, svg')].filter((t) => {
      const a = t.getBoundingClientRect(), b = t.closest('section').getBoundingClientRect();
      return a.left < b.left || a.right > b.right || a.bottom > b.bottom || a.top < b.top;
    }).map((t) => t.textContent)"""
    assert tab.run(outside) == []
    over = """[...document.querySelectorAll('.bars p, .ticks')].flatMap((p) => {
      const all = [...p.children].map((t) => t.getBoundingClientRect());
      return all.slice(1).filter((b, i) => b.left < all[i].right).map(() => p.textContent);
    })"""
    assert tab.run(over) == []
    bars = tab.run("document.querySelectorAll('.bars svg').length")
    assert bars == tab.run("document.querySelectorAll('.bars p').length") > 20
    assert tab.run("document.querySelectorAll('.columns svg').length") == 2
