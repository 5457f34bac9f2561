"""The workshop file: what ships, how a person's file overrides it, and how mistakes are told."""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path

import pytest

from proofgen.errors import UnusableError
from proofgen.workshop.read import load
from proofgen.workshop.workshop import OPERATIONS, Bound, Colour


def written(folder: Path, text: str, head: str = "format = 1\n") -> Path:
    path = folder / "workshop.toml"
    path.write_text(head + text, encoding="utf-8")
    return path


def test_the_shipped_defaults() -> None:
    workshop = load(None)
    birch = workshop.material("birch-3")
    assert (workshop.edition_year, workshop.machine.kerf, workshop.machine.dot) == (2027, 0.18, 0.1)
    assert birch.thickness == 3
    assert birch.limits.engraved_stroke == Bound(0.35, 0.5)
    assert birch.limits.hole_to_edge == Bound(2.5, 3)
    assert workshop.cap_height("name") == Bound(6, 10)
    assert workshop.cap_height("motto") == workshop.cap_height("inscription") == Bound(3, 5)
    assert workshop.script_x_height == Bound(2.5, 4)
    assert (workshop.narrowing.plain, workshop.narrowing.script) == (0.85, 0.95)
    assert tuple(group.operation for group in workshop.groups) == OPERATIONS
    assert (workshop.hanger("ribbon").hole, workshop.hanger("none").hole) == (5, 0)
    assert "shipped" in workshop.source


def test_a_file_overrides_key_by_key(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        """
        edition_year = 2031
        [machine]
        kerf = 0.2
        [limits]
        web = { least = 1.8 }
        [materials.oak-4]
        title = "4 mm oak"
        thickness = 4
        limits = { engraved_gap = { wanted = 0.9 } }
        [finishes.walnut]
        engraving = "#FFffFf"
        [groups.cut-inside]
        name = "holes"
        masking = "take the tape off first"
        [motion]
        cut_speed = 5.5
        [cutting]
        tabs = 2
        """,
    )
    workshop, shipped = load(path), load(None)
    assert workshop.edition_year == 2031
    assert (workshop.machine.kerf, workshop.machine.dot) == (0.2, 0.1)
    assert workshop.material("birch-3").limits.web == Bound(1.8, 2)
    oak = workshop.material("oak-4").limits
    assert (oak.web, oak.engraved_gap) == (Bound(1.8, 2), Bound(0.4, 0.9))
    assert workshop.finish("walnut").engraving == (255, 255, 255)
    assert workshop.finish("walnut").wood == shipped.finish("walnut").wood
    holes = workshop.group("cut-inside")
    assert (holes.name, holes.depth, holes.masking) == ("holes", "", "take the tape off first")
    assert (workshop.motion.cut_speed, workshop.motion.passes) == (5.5, 1)
    assert (workshop.cutting.tabs, workshop.cutting.overcut) == (2, 0.3)
    assert workshop.source == str(path)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        (
            "[machine]\nkerf = 1\n[cutting]\ncompensate = true\n[board]\ngap = 0.9",
            ("board of birch-3, gap: 0.9 mm", "kerf of 1 mm", "more than 1"),
        ),
        (
            "[machine]\nkerf = 0.3\n[cutting]\ncompensate = true\n[board]\nmargin = 0.1",
            ("margin: 0.1 mm", "give 0.15 or more"),
        ),
        ("[machine]\nkrf = 0.2", ("machine", "'krf'", "did you mean 'kerf'?")),
        ("[machin]\nkerf = 0.2", ("'machin'", "did you mean 'machine'?")),
        ("[machine]\nkerf = '0.2'", ("machine", "'kerf' must be a number")),
        ("[machine]\nkerf = nan", ("machine", "'kerf' must be a number")),
        ("[motion]\ncut_speed = 0", ("motion", "'cut_speed' must be")),
        ("[motion]\npasses = 1.5", ("motion", "'passes' must be a whole number")),
        ("[motion]\nengraving_factor = 50", ("motion", "'engraving_factor'")),
        ("[cutting]\novercutt = 1", ("cutting", "did you mean 'overcut'?")),
        ("[cutting]\ncompensate = 'yes'", ("cutting", "'compensate' must be true or false")),
        ("[groups.cut-inside]\ndepth = 3", ("groups, cut-inside", "'depth' must be a text")),
        ("machine = 3", ("'machine' must be a table",)),
        ("[limits]\nweb = 2", ("limits", "'web' must be a table")),
        ("[limits.web]\nleast = 3", ("limits, web", "'least' (3)", "'wanted' (2)")),
        ("[materials.birch-3.limits.web]\nleast = 3", ("materials.birch-3.limits, web", "(3)")),
        ("[materials.oak]\ntitle = 'oak'", ("materials.oak", "'thickness' is missing")),
        ("[materials.'Oak 4']\nthickness = 4", ("materials", "'Oak 4' cannot be an id")),
        ("[cap_heights.nmae]\nleast = 3", ("cap_heights", "did you mean 'name'?")),
        ("[finishes.walnut]\nengraving = 'brown'", ("finishes.walnut", "'engraving'", "#rrggbb")),
        ("[finishes.walnut]\nwood = ['#000000']", ("finishes.walnut", "'wood'", "four")),
        ("[finishes.walnut]\nwood = [1, 2, 3, 4]", ("finishes.walnut", "'wood'", "#rrggbb")),
        ("[finishes.walnut]\nwhen = 'later'", ("finishes.walnut", "'when'", "none, before, after")),
        ("[hangers.chain]\ntitle = 'chain'\nhole = 4", ("hangers.chain", "'width' is missing")),
        ("[groups.cut-insid]\nname = 'a'", ("groups", "did you mean 'cut-inside'?")),
        ("[groups.cut-inside]\ncolour = '#7d5a8c'", ("groups, cut-", "'colour'", "its own")),
        ("edition_year = 31", ("'edition_year'", "1000")),
        ("narrowing.plain = 8.5", ("narrowing", "'plain'")),
        ("proofs.watermark = 1", ("proofs", "'watermark'")),
        ("catalogue.prices.boat = -1", ("catalogue, prices", "'boat'")),
        ("[finishes.sea]\ntitle = 'sea'\nwhen = 'none'\nstain = '#204060'", ("finishes.sea",)),
        ("[finishes.sea]\ntitle = 'sea'\nwhen = 'after'\nstain = 'blue'", ("'stain'", "'blue'")),
    ],
)
def test_a_mistake_is_one_sentence_naming_file_and_key(
    tmp_path: Path, text: str, parts: tuple[str, ...]
) -> None:
    path = written(tmp_path, text)
    with pytest.raises(UnusableError) as raised:
        load(path)
    sentence = str(raised.value)
    assert sentence.startswith(str(path))
    assert "\n" not in sentence
    assert [part for part in parts if part not in sentence] == []


@pytest.mark.parametrize("head", ["", "format = 2\n", "format = '1'\n", "format = true\n", "[[["])
def test_another_format_is_refused(tmp_path: Path, head: str) -> None:
    path = written(tmp_path, "", head)
    with pytest.raises(UnusableError, match=r"workshop\.toml.*(format|TOML)"):
        load(path)


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(UnusableError, match=r"mine\.toml"):
        load(tmp_path / "mine.toml")


def test_operation_colours_are_muted_and_told_apart() -> None:
    colours = [group.colour for group in load(None).groups]
    pure = [(255, 0, 0), (0, 255, 0), (0, 0, 255), (0, 0, 0)]
    assert min(_distance(one, other) for one in colours for other in pure) > 100
    assert min(_distance(one, other) for one, other in combinations(colours, 2)) > 50


def _distance(one: Colour, other: Colour) -> float:
    return math.dist(one, other)


SEA = '[finishes.sea]\ntitle = "%s"\nwhen = "before"\nstain = "#2f5d62"\n'
CHAIN = '[hangers.%s]\ntitle = "%s"\nhole = 5\nwidth = 2\ncolour = "#333333"\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (SEA % "Walnut Stain", "finishes.sea: a cell with 'Walnut Stain' could also mean "),
        (SEA % "walnut", "finishes.sea: a cell with 'walnut' could also mean finishes.walnut; "),
        ('[finishes.walnut]\ntitle = "Natural"\n', "finishes.walnut: a cell with 'Natural' could "),
        (CHAIN % ("chain", "Cord"), "hangers.chain: a cell with 'Cord' could also mean hangers.c"),
        (CHAIN % ("no-hanger", "chain"), "hangers.no-hanger: a cell with 'no-hanger' could also "),
        (CHAIN % ("ring", "\u2013") + CHAIN % ("chain", "?"), "hangers.chain: a cell with '?' "),
    ],
)
def test_a_cell_may_not_mean_two_things(tmp_path: Path, text: str, said: str) -> None:
    path = written(tmp_path, text)
    with pytest.raises(UnusableError) as refused:
        load(path)
    sentence = str(refused.value)
    assert sentence.startswith(f"{path}, {said}")
    assert sentence.endswith("; give one of the two another title or id.")
    assert len(sentence.splitlines()) == 1


def test_a_finish_may_be_called_as_a_hanger_is_and_have_its_id_for_a_title(tmp_path: Path) -> None:
    path = written(tmp_path, (SEA % "cord") + CHAIN % ("steel-chain", "Steel chain"))
    assert load(path).finish("sea").title == "cord"
    assert load(path).hanger("steel-chain").title == "Steel chain"
