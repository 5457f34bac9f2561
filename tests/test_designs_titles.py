"""What a row types as its design means one design, and a design is told only what it letters."""

from __future__ import annotations

from pathlib import Path

import pytest
from books import write_book
from designs_folder import TOML, make

from proofgen import pipeline
from proofgen.errors import UnusableError


def own_design(home: Path, id_: str, title: str) -> Path:
    return make(home / "designs" / id_, toml=TOML.replace("Small Tag", title))


@pytest.mark.parametrize(
    ("own", "title"),
    [("dinghy", "Regatta boat"), ("dinghy", "regatta  BOAT!"), ("dinghy", "Boat")],
)
def test_a_title_that_is_taken_is_refused(tmp_path: Path, own: str, title: str) -> None:
    place = own_design(tmp_path, own, title)
    book = write_book(tmp_path / "orders.xlsx", [{"order": "T-1", "name": "Ada", "design": "boat"}])
    sentence = f"its title '{title}' is that of the design 'boat' too"
    with pytest.raises(UnusableError) as caught:
        pipeline.check(book, pipeline.Options(), lambda *_: None)
    assert f"{own}/design.toml: {sentence}" in str(caught.value)
    (flag,) = pipeline.check_design(place, {}, None, pipeline.Options())
    assert flag.text.startswith(f"design.toml: {sentence}")


def test_an_id_that_is_a_title_is_refused(tmp_path: Path) -> None:
    own_design(tmp_path, "regatta-boat", "Dinghy")
    place = own_design(tmp_path, "skiff", "Skiff")
    (flag,) = pipeline.check_design(place, {}, None, pipeline.Options())
    assert "regatta-boat/design.toml: its id" in flag.text


def test_other_titles_are_taken_as_they_are(tmp_path: Path) -> None:
    own_design(tmp_path, "dinghy", "Regatta dinghy")
    place = own_design(tmp_path, "skiff", "Skiff")
    assert pipeline.check_design(place, {}, None, pipeline.Options()) == ()


def test_a_blank_year_is_told_only_where_a_year_is_lettered(tmp_path: Path) -> None:
    row = {"name": "Ada", "year": ""}
    book = write_book(
        tmp_path / "orders.xlsx",
        [{**row, "order": f"T-{i}", "design": d} for i, d in enumerate(("remembrance", "boat"))],
    )
    rows = pipeline.check(book, pipeline.Options(), lambda *_: None).rows
    assert [[flag.kind.id for flag in made.flags] for made in rows] == [[], ["year-blank"]]
