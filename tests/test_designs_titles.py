"""What a row types as its design means one design, and a design is told only what it letters."""

from __future__ import annotations

from pathlib import Path

import pytest
from books import write_book
from designs_folder import TOML, make

from proofgen.day import design_check, pipeline


def own_design(home: Path, id_: str, title: str) -> Path:
    return make(home / "designs" / id_, toml=TOML.replace("Small Tag", title))


@pytest.mark.parametrize(
    ("own", "title"),
    [("dinghy", "Regatta boat"), ("dinghy", "regatta  BOAT!"), ("dinghy", "Boat")],
)
def test_a_title_that_is_taken_is_refused(tmp_path: Path, own: str, title: str) -> None:
    place = own_design(tmp_path, own, title)
    book = write_book(tmp_path / "orders.xlsx", [{"order": "T-1", "name": "Ada", "design": "boat"}])
    sentence = "the design 'boat' has that name or title already"
    (made,) = pipeline.check(book, pipeline.Options(), lambda *_: None).rows
    assert made.verdict == "ready"
    (flag,) = design_check.check_design(place, {}, None, pipeline.Options())
    assert sentence in flag.text
    write_book(book, [{"order": "T-1", "name": "Ada", "design": own}])
    (made,) = pipeline.check(book, pipeline.Options(), lambda *_: None).rows
    assert [flag.kind.id for flag in made.flags if flag.kind.severity == "stop"] == [
        "design-broken"
    ]


def test_an_id_that_is_a_title_is_refused(tmp_path: Path) -> None:
    own_design(tmp_path, "regatta-boat", "Dinghy")
    (flag,) = design_check.check_design(
        tmp_path / "designs" / "regatta-boat", {}, None, pipeline.Options()
    )
    assert "the design 'boat' has that name or title already" in flag.text


def test_other_titles_are_taken_as_they_are(tmp_path: Path) -> None:
    own_design(tmp_path, "dinghy", "Regatta dinghy")
    place = own_design(tmp_path, "skiff", "Skiff")
    assert design_check.check_design(place, {}, None, pipeline.Options()) == ()


def test_a_blank_year_is_told_only_where_a_year_is_lettered(tmp_path: Path) -> None:
    row = {"name": "Ada", "year": ""}
    book = write_book(
        tmp_path / "orders.xlsx",
        [{**row, "order": f"T-{i}", "design": d} for i, d in enumerate(("remembrance", "boat"))],
    )
    rows = pipeline.check(book, pipeline.Options(), lambda *_: None).rows
    assert [[flag.kind.id for flag in made.flags] for made in rows] == [[], ["year-blank"]]
