"""What is drawn only in some rows, and texts that a blank cell has."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from designs_folder import FRONT, HEAD, TOML, make, order, shipped, workshop

from proofgen.artwork.artwork import Made
from proofgen.day import design_check, pipeline
from proofgen.day.shop import make_row, open_shop
from proofgen.designs.outlines import extent
from proofgen.designs.read import read_template
from proofgen.designs.resolve import resolve
from proofgen.designs.when import as_usual, in_state, states
from proofgen.errors import UnusableError
from proofgen.orders.read import typed

SHOP = open_shop()


def row(design: str, **cells: str) -> Made:
    line = typed({"order": "T-1", "design": design, "name": "Otto", **cells}, SHOP.workshop)
    return make_row(line, SHOP)


def drawn(made: Made) -> set[str]:
    assert made.artwork is not None
    return {mark.name for layer in made.artwork.layers for mark in layer.marks}


@pytest.mark.parametrize(
    ("dates", "there"),
    [
        ({"born": "1950", "died": "2026"}, "between-dates"),
        ({"died": "2026"}, None),
        ({}, "undated"),
    ],
)
def test_a_rule_stands_between_two_dates_or_in_their_place(
    dates: dict[str, str], there: str | None
) -> None:
    made = row("remembrance", year="none", **dates)
    assert made.verdict == "ready"
    assert drawn(made) & {"between-dates", "undated"} == ({there} if there else set())


def test_what_a_row_leaves_out_changes_its_code() -> None:
    """The name stands alike on both; the rule does not."""
    plain = shipped()["remembrance"]
    given = replace(plain, when=())
    sha = {
        design.layers[1].sha256
        for template in (plain, given)
        for design, _ in [resolve(template, order({"name": "Otto"}), workshop())]
        if design
    }
    assert len(sha) == 2


@pytest.mark.parametrize(
    ("typed_", "set_"),
    [("", "In loving memory"), ("Le souvenir reste", "Le souvenir reste"), ("None", "")],
)
def test_a_blank_heading_is_the_usual_one_and_none_is_none(typed_: str, set_: str) -> None:
    made = row("remembrance", year="none", heading=typed_)
    assert made.artwork is not None
    found = {item.field: item.text for item in made.artwork.lettering}
    assert found.get("heading", "") == set_


@pytest.mark.parametrize("design", ["boat", "medallion"])
def test_a_piece_that_does_not_hang_has_no_tab(design: str) -> None:
    hung, laid = row(design), row(design, hanger="none")
    assert hung.artwork is not None
    assert laid.artwork is not None
    assert laid.verdict == "ready"
    assert laid.artwork.extent[1] < hung.artwork.extent[1] - 5
    assert extent(as_usual(shipped()[design])) == pytest.approx(hung.artwork.extent, abs=0.02)
    for made in (hung.artwork, laid.artwork):
        outlines = [m for layer in made.layers for m in layer.marks if m.operation == "cut-outside"]
        assert [len(mark.path.contours) for mark in outlines] == [1]


def test_every_state_is_looked_at() -> None:
    template = shipped()["remembrance"]
    seen = [{m.name for m in in_state(template, s).layers[1].marks} for s in states(template)]
    for name in ("between-dates", "undated"):
        assert {name in names for names in seen} == {True, False}


WHEN = '\n[[when]]\ndrawn = ["{}"]\nwith = ["{}"]\n'


def test_a_fault_in_one_state_is_found(tmp_path: Path) -> None:
    """The ring is only there without a hanger, and too near the window then."""
    ring = '<rect id="cut-inside.ring" x="61" y="20" width="6" height="6"/></svg>'
    place = make(
        tmp_path / "tag",
        toml=TOML + '\n[[when]]\ndrawn = ["ring"]\nwithout = ["hanger"]\n',
        front=HEAD + FRONT.replace("</svg>", ring),
    )
    flags = design_check.check_design(place, {}, None, pipeline.Options())
    assert [flag.kind.id for flag in flags if "ring" in flag.where] == ["web-too-narrow"]


@pytest.mark.parametrize(
    ("table", "says"),
    [
        (WHEN.format("waves", "year"), "when 1: there is no 'waves'; did you mean 'wave'"),
        (WHEN.format("wave", "yaer"), "when 1: there is no 'yaer'; did you mean 'year'"),
        ('\n[[when]]\ndrawn = ["wave"]\n', "when 1: name the elements that are 'drawn', and"),
    ],
)
def test_a_table_that_helps_nothing_is_refused(tmp_path: Path, table: str, says: str) -> None:
    place = make(tmp_path / "tag", toml=TOML + table)
    with pytest.raises(UnusableError, match=says):
        read_template(place, workshop())
