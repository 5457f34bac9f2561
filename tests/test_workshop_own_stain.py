"""A stain of the maker's own, from the workshop file to the picture."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest
from books import write_book

from proofgen.day import pipeline
from proofgen.day.shop import Home, open_shop
from proofgen.designs.read import read_template
from proofgen.errors import UnusableError
from proofgen.resources import folder
from proofgen.workshop.read import load

README = Path(__file__).parents[1] / "README.md"
DESIGNS = ("boat", "lantern", "medallion", "plaque", "remembrance", "wavename")
SEA = """
[finishes.sea]
title = "sea"
when = "before"
stain = "#203050"
"""


def printed() -> str:
    """The workshop file that the README prints for a stain of one's own."""
    blocks = README.read_text(encoding="utf-8").split("\n\n")
    lines = [b for b in blocks if b.startswith(("    [proofs]", "    [finishes."))]
    return "format = 1\n" + dedent("\n\n".join(lines))


def workshop(place: Path, text: str) -> Path:
    file = place / "workshop.toml"
    file.write_text(f"format = 1\n{text}", encoding="utf-8")
    return file


def test_the_stain_of_the_readme_is_ordered_on_every_design(tmp_path: Path) -> None:
    (tmp_path / "workshop.toml").write_text(printed(), encoding="utf-8")
    typed = ("seaglass", "Sea glass stain", "sea-glass stain")
    orders = [
        {"order": n, "name": "Ida", "year": 2027, "design": d, "finish": typed[n % 3]}
        for n, d in enumerate(DESIGNS, 1)
    ]
    run = pipeline.proof(
        write_book(tmp_path / "orders.xlsx", orders), pipeline.Options(), lambda *_: None
    )
    for made in run.rows:
        assert made.verdict == "ready", (made.order.design, [flag.text for flag in made.flags])
        assert made.artwork is not None
        assert "seaglass" in {layer.finish for layer in made.artwork.layers}
    assert len({path for path in run.pictures.values() if path.stat().st_size}) == len(DESIGNS)


@pytest.mark.parametrize(
    ("said", "boat", "plaque"),
    [("", True, True), ("designs = ['boat']", True, False), ("designs = []", False, False)],
)
def test_a_finish_says_on_which_designs_it_is_offered(
    tmp_path: Path, said: str, boat: bool, plaque: bool
) -> None:
    shop = open_shop(Home(workshop(tmp_path, SEA + said)))
    for design, offered in (("boat", boat), ("plaque", plaque)):
        finishes = shop.templates[design].finishes
        assert ("sea" in finishes) == offered
        assert finishes[0] == "natural"  # a blank cell means what it did


def test_a_finish_on_a_design_that_there_is_not_is_named(tmp_path: Path) -> None:
    file = workshop(tmp_path, SEA + "designs = ['baot']")
    with pytest.raises(UnusableError, match=r"finishes\.sea: .*'baot'.*mean 'boat'"):
        open_shop(Home(file))


def test_a_design_without_a_choice_of_finish_gets_none(tmp_path: Path) -> None:
    own = tmp_path / "boat"
    own.mkdir()
    for file in (folder("templates") / "boat").iterdir():
        text = file.read_text(encoding="utf-8")
        text = text.replace('finish = "row"', 'finish = "natural"')
        kept = [line for line in text.splitlines() if not line.startswith("finishes =")]
        (own / file.name).write_text("\n".join(kept), encoding="utf-8")
    assert read_template(own, load(workshop(tmp_path, SEA))).finishes == ()
