"""Pictures of several pieces: what one may choose from, and all of an order."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from books import write_book
from numpy.typing import NDArray
from PIL import Image
from proof_pieces import lantern, plaque

from proofgen.cli.program import main
from proofgen.day import pipeline
from proofgen.day.choices import MOST, Choices, as_text, choices
from proofgen.day.sets import write_sets
from proofgen.day.superseded import Shown
from proofgen.errors import UnusableError
from proofgen.proofs import gallery
from proofgen.proofs.gallery import Sign, gallery_png
from proofgen.proofs.grid import arranged
from proofgen.proofs.labels import Exhibit
from proofgen.proofs.scene import scene
from proofgen.proofs.stage import stage
from proofgen.told import rows as report
from proofgen.workshop.read import load

Drawn = list[tuple[Sequence[Exhibit], Sign]]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def workshop(folder: Path, text: str) -> None:
    (folder / "workshop.toml").write_text(f"format = 1\n{text}", encoding="utf-8")


def first(out: Path | None = None, file: Path | None = None, **told: str) -> Choices:
    return choices(told.items(), out, pipeline.Options(workshop=file))


def pixels(path: Path) -> NDArray[np.float64]:
    with Image.open(path) as image:
        assert image.size == (1080, 1350)
        return np.asarray(image.convert("RGB"), np.float64)


def test_designs_are_numbered_and_priced_as_the_catalogue_says(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['plaque', 'boat']\nprices = { boat = 18.5 }")
    found = first(name="Ida")
    assert [(c.number, c.made.order.design, c.price) for c in found.tried] == [
        (1, "plaque", ""),
        (2, "boat", "$18.50"),
    ]
    assert found.picture == here / "choices.png"
    assert "2  Regatta boat: $18.50" in as_text(found)
    named = pixels(found.picture)
    other = first(here / "b.png", name="Ada", year="2030")
    assert not np.array_equal(named, pixels(other.picture))
    assert found.tried[0].made.order.field("year") == "2027"
    assert other.tried[0].made.order.field("year") == "2030"


def test_a_name_that_does_not_fit_says_why_and_is_left_out(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['boat', 'plaque']")
    name = "Bartholomew-Alexander Featherstonehaugh"
    found = first(name=name)
    assert [choice.number for choice in found.tried] == [0, 1]
    assert "cap height" in as_text(found).splitlines()[0]
    alone = here / "alone.toml"
    alone.write_text("format = 1\ncatalogue.designs = ['boat']", encoding="utf-8")
    with pytest.raises(UnusableError, match="fits on no design") as said:
        first(here / "none.png", alone, name=name)
    assert str(said.value).splitlines()[1].startswith("-  Regatta boat: ")
    assert not (here / "none.png").exists()


def test_no_name_gives_the_advert_without_watermark(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['boat']")
    found = first()
    assert found.picture == here / "advert.png"
    named = first(name="Katherine")
    # Beside the piece only the word is drawn.
    beside = np.s_[300:1000, 20:60]
    assert np.ptp(pixels(found.picture)[beside], axis=(0, 1)).max() < 40
    assert np.abs(pixels(found.picture)[beside] - pixels(named.picture)[beside]).max() > 8


def test_more_than_half_a_dozen_are_not_shown(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("proofgen.day.choices.MOST", 2)
    workshop(here, "[catalogue]\ndesigns = ['boat', 'plaque', 'lantern']")
    found = first(name="Ida")
    assert found.left_out == ("lantern",)
    assert MOST == 6


def test_an_unknown_design_is_named(here: Path) -> None:
    workshop(here, "[catalogue]\ndesigns = ['yacht']")
    with pytest.raises(UnusableError, match=r"workshop\.toml, catalogue: .*'yacht'"):
        first(name="Ida")


def test_what_is_wrong_with_a_design_is_said_and_it_is_not_denied(here: Path) -> None:
    own = here / "designs" / "broken"
    own.mkdir(parents=True)
    (own / "design.toml").write_text("x=", encoding="utf-8")
    (line,) = (each for each in as_text(first(name="Ida")).splitlines() if "broken" in each)
    assert line.startswith(f"-  broken: cannot be used: {own / 'design.toml'}: ")
    workshop(here, "catalogue.designs = ['boat']")
    assert "broken" not in as_text(first(name="Ida"))
    for named in ("designs = ['boat', 'broken']", "prices.broken = 3"):
        file = here / f"{named[:3]}.toml"
        file.write_text(f"format = 1\n[catalogue]\n{named}", encoding="utf-8")
        with pytest.raises(UnusableError, match="the design 'broken' cannot be used: ") as said:
            first(name="Ida", file=file)
        assert str(said.value).endswith(line.removeprefix("-  broken: "))


@pytest.fixture
def said(monkeypatch: pytest.MonkeyPatch) -> Drawn:
    """What was asked to be drawn, since a picture tells no words."""
    seen: Drawn = []
    monkeypatch.setattr(gallery, "gallery_png", lambda e, s, *_: seen.append((e, s)) or b"png")
    return seen


@pytest.mark.parametrize(
    ("told", "right"),
    [
        ([("name", "Ida")], "Which one for 2027?"),
        ([("name", "Ida"), ("year", "2031")], "Which one for 2031?"),
        ([("name", "Ida"), ("year", "none")], "Which one?"),
        ([("year", "2031")], "2031"),
    ],
)
def test_the_headline_has_the_year_of_the_pieces(
    here: Path, said: Drawn, told: list[tuple[str, str]], right: str
) -> None:
    workshop(here, "catalogue.designs = ['boat', 'plaque']")
    found = choices(told, None, pipeline.Options())
    assert said[0][1].right == right
    assert found.tried[0].made.order.field("year") in (right[-5:-1], right, "")


@pytest.mark.parametrize(("design", "right"), [("boat", "2027"), ("remembrance", "")])
def test_one_design_asks_for_no_choice_and_has_its_own_year(
    here: Path, said: Drawn, design: str, right: str
) -> None:
    workshop(here, f"catalogue.designs = ['{design}']")
    first(name="Ida")
    assert said[0][1].right == right


def test_a_price_of_nothing_is_refused(here: Path) -> None:
    options = "[catalogue.options]\nfinish = { walnut = -18 }"
    workshop(here, f"[catalogue]\ndesigns = ['boat']\nprices = {{ boat = 18 }}\n{options}")
    assert first(name="Ida").tried[0].price == "$18.00"
    with pytest.raises(
        UnusableError, match=r"workshop\.toml, catalogue: .*boat would cost nothing"
    ):
        first(name="Ida", finish="walnut")


def test_an_advert_without_a_year_is_drawn(here: Path) -> None:
    workshop(here, "catalogue.designs = ['boat']")
    dated, bare = first(here / "a.png"), first(here / "b.png", year="none")
    right = np.s_[20:90, 900:1040]  # of the strip above
    assert np.ptp(pixels(dated.picture)[right]) > 100
    assert np.ptp(pixels(bare.picture)[right]) < 20


def test_a_name_of_two_lines_is_one_in_the_headline(here: Path, said: Drawn) -> None:
    workshop(here, "catalogue.designs = ['plaque']")
    first(name="Ann\nBob")
    assert said[0][1].left == "For Ann Bob"


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ([("finish", "wallnut")], r"'wallnut' is not offered.*Type walnut stain, if"),
        ([("finish", "xyz")], r"there is natural, .*burgundy stain\. .*or leave --finish out\.$"),
        ([("hanger", "xyz")], r"Take one of these, or leave --text hanger=… out\.$"),
        (
            [("foo", "bar")],
            r"takes 'foo'; known are born, dedication, died, finish, hanger, heading, inscription",
        ),
        ([("hanger", "chord")], r"the hanger 'chord' is not offered; there is .*Type cord"),
        ([("Inscripton", "x")], r"'Inscripton'; did you mean 'inscription'"),
        ([("Name", "Bob")], r"name is asked for twice, 'Ida' and 'Bob'"),
        ([("year", "20x8")], 'year: "20x8" is not a year'),
    ],
)
def test_what_is_not_understood_is_refused_and_nothing_drawn(
    here: Path, told: list[tuple[str, str]], says: str
) -> None:
    workshop(here, "catalogue.designs = ['boat', 'plaque', 'remembrance']")
    with pytest.raises(UnusableError, match=says):
        choices([("name", "Ida"), *told], None, pipeline.Options())
    assert not (here / "choices.png").exists()


@pytest.mark.parametrize("finish", ["walnut", "Walnut", "walnut stain", "WALNUT-STAIN"])
def test_a_finish_is_spelled_as_in_the_book(here: Path, said: Drawn, finish: str) -> None:
    workshop(
        here,
        "catalogue.designs = ['boat', 'plaque']\n[finishes.sea]\ntitle = 'sea'\n"
        "when = 'before'\nstain = '#203050'\ndesigns = ['plaque']",
    )
    found = first(name="Ida", finish=finish)
    for exhibit in said[0][0]:
        assert [each.id for each in exhibit.scene.finishes] == ["walnut"]
    assert "has no place" not in as_text(found)
    other = first(name="Ida", finish="Sea")
    assert [e.scene.finishes[0].id for e in said[1][0]] == ["natural", "sea"]
    assert [choice.without for choice in other.tried] == [("finish",), ()]
    assert as_text(other).splitlines()[1] == "   has no place for finish"


@pytest.mark.parametrize("name", [{"name": "Ida"}, {}], ids=["choices", "advert"])
@pytest.mark.parametrize(
    ("own", "expected"),
    [("", "price on request"), ("unpriced = 'ask me'\n", "ask me"), ("unpriced = ''\n", None)],
)
def test_a_design_without_a_price_says_so(
    here: Path, said: Drawn, own: str, expected: str | None, name: dict[str, str]
) -> None:
    workshop(
        here, f"[catalogue]\n{own}designs = ['boat', 'plaque']\n[catalogue.prices]\nplaque = 10\n"
    )
    found = first(**name)
    boat, plaque = said[0][0]
    assert plaque.foot[0] == "$10.00"
    assert boat.foot[0] == expected or (expected is None and len(boat.foot) == len(plaque.foot) - 1)
    assert [choice.price for choice in found.tried] == ["", "$10.00"]


def test_what_is_said_without_a_price_is_a_text(here: Path) -> None:
    workshop(here, "[catalogue]\nunpriced = 5\n")
    with pytest.raises(UnusableError, match="catalogue: 'unpriced' must be a text"):
        first(name="Ida")


def test_whatever_a_row_may_choose_can_be_asked_for_and_is_priced(here: Path, said: Drawn) -> None:
    workshop(
        here,
        "[catalogue]\ndesigns = ['medallion', 'plaque']\nprices = { medallion = 10 }\n"
        "[catalogue.options]\nsize = { large = 5 }\nhanger = { cord = 2 }",
    )
    asked = [("Size", "Large"), ("hanger", "CORD"), ("symbol", "oar")]
    found = choices([("name", "Ida"), *asked], None, pipeline.Options())
    medallion, plain = found.tried
    assert (medallion.price, medallion.without) == ("$17.00", ())
    assert "symbol" in plain.without
    assert "no price in [catalogue.prices]" in as_text(found)
    hanger = said[0][0][0].scene.hanger
    assert hanger is not None
    assert hanger.id == "cord"
    bare = choices([("name", "Ida"), ("hanger", "none")], None, pipeline.Options())
    assert [choice.without for choice in bare.tried] == [(), ()]
    assert said[1][0][0].scene.hanger is None


@pytest.mark.usefixtures("said")
def test_fields_are_spelled_as_in_the_book(here: Path) -> None:
    workshop(here, "catalogue.designs = ['plaque', 'boat']")
    found = choices([("NAME ", "Ida"), ("Inscription", "Fair winds")], None, pipeline.Options())
    assert found.tried[0].made.order.field("inscription") == "Fair winds"
    assert [choice.without for choice in found.tried] == [(), ("inscription",)]


def test_the_picture_says_under_a_piece_what_it_is_without(here: Path, said: Drawn) -> None:
    workshop(here, "catalogue.designs = ['medallion', 'plaque', 'boat']")
    first(name="Ida", inscription="Fair winds", symbol="oar")
    feet = [exhibit.foot for exhibit in said[0][0]]
    assert [len(foot) - len(feet[0]) for foot in feet] == [0, 1, 1]
    assert [foot[-1] for foot in feet[1:]] == [
        "without that symbol",
        "without inscription and that symbol",
    ]


@pytest.mark.usefixtures("said")
def test_what_a_person_should_look_at_is_said(here: Path) -> None:
    stain = "[finishes.walnut]\nengraving = '#7a5c40'"
    workshop(here, f"catalogue.designs = ['boat', 'plaque']\n{stain}")
    found = as_text(first(name="Ida Ida", finish="walnut"))
    lines = found.splitlines()
    assert lines[0].startswith("look: name: ")
    assert [line.startswith("   look: finish: the contrast of name") for line in lines] == (
        [False, False, True, False, True, False]
    )
    assert "look: " not in as_text(first(name="Ida", finish="burgundy"))


@pytest.mark.usefixtures("said")
def test_where_there_is_no_book_no_cell_or_column_is_spoken_of(here: Path) -> None:
    workshop(here, "catalogue.designs = ['medallion', 'lantern', 'plaque']")
    large = as_text(first(name="Bartholomew-Alexander Featherstonehaugh"))
    assert "Add --text size=large: it would reach 6." in large
    broken = as_text(first(name="Bartholomew\nand\nAlexander"))
    assert 'Break it over 2 lines, "Bartholomew" and "and Alexander": it would reach' in broken
    assert not re.search("cell|column", large + broken, re.IGNORECASE)


@pytest.mark.usefixtures("said")
def test_a_design_with_a_message_of_its_own_is_shown_only_where_it_is_named(here: Path) -> None:
    assert "remembrance" not in [c.made.order.design for c in first(name="Ida").tried]
    workshop(here, "catalogue.designs = ['remembrance', 'boat']")
    assert [c.number for c in first(name="Ida").tried] == [1, 2]


def test_a_picture_is_not_written_under_another_kind_of_name(here: Path) -> None:
    with pytest.raises(UnusableError, match=r"x\.jpg: the picture is a PNG"):
        first(here / "x.jpg", name="Ida")
    assert not (here / "x.jpg").exists()


def test_a_proof_picture_is_not_written_over(tmp_path: Path) -> None:
    run = pipeline.proof(family(tmp_path, ["Ada", "Bo"]), pipeline.Options(), lambda *_: None)
    for path in (*run.pictures.values(), *run.sets):
        before = path.read_bytes()
        with pytest.raises(UnusableError, match="is a proof picture, which is kept"):
            first(path, name="Eve")
        assert path.read_bytes() == before


@pytest.mark.parametrize(
    "call",
    [["--finish", "wallnut"], ["--text", "name=Bo"], ["--year", "20x8"], ["--out", "x.jpg"]],
)
def test_a_call_that_cannot_be_used_ends_in_one_sentence(
    here: Path, capsys: pytest.CaptureFixture[str], call: list[str]
) -> None:
    workshop(here, "catalogue.designs = ['boat']")
    assert main(["choices", "--name", "Ida", *call]) == 2
    said = capsys.readouterr().err
    assert said.startswith("proofgen: ")
    assert len(said.splitlines()) == 1
    assert [each.name for each in here.iterdir()] == ["workshop.toml"]


@pytest.mark.usefixtures("said")
def test_it_says_after_which_workshop_a_picture_is(here: Path) -> None:
    assert as_text(first(name="Ida")).endswith("choices.png, after the shipped defaults")
    workshop(here, "catalogue.designs = ['boat']")
    assert as_text(first(name="Ida")).endswith(f"after {here / 'workshop.toml'}")


def family(folder: Path, names: list[str]) -> Path:
    rows = [{"order": "7", "name": n, "year": 2027, "design": "boat"} for n in names]
    single = {"order": "8", "name": "Solo", "year": 2027, "design": "boat"}
    return write_book(folder / "orders.xlsx", [*rows, single])


def test_an_order_of_several_pieces_gets_one_picture_of_all(tmp_path: Path) -> None:
    run = pipeline.proof(family(tmp_path, ["Ada", "Bo"]), pipeline.Options(), lambda *_: None)
    (picture,) = run.sets
    assert picture == tmp_path / "proofs" / "order-7-set.png"
    assert "\n1 picture of whole orders in " in report.as_text(run)
    assert "\n3 proof pictures in " in report.as_text(run)
    before = picture.stat().st_mtime_ns
    again = pipeline.proof(tmp_path / "orders.xlsx", pipeline.Options(), lambda *_: None)
    assert again.sets == (picture,)
    assert picture.stat().st_mtime_ns == before
    pipeline.proof(family(tmp_path, ["Ada", "Bea"]), pipeline.Options(), lambda *_: None)
    assert picture.stat().st_mtime_ns > before
    with Image.open(picture) as image:
        assert image.info["Order"] == "7"
        assert len(image.info["Proof code"].split(", ")) == 2


def test_a_picture_of_a_whole_order_breaks_names_where_their_pieces_do(
    tmp_path: Path, said: Drawn
) -> None:
    rows = [{"order": "7", "name": "Ida\nBo", "design": each} for each in ("plaque", "boat")]
    pipeline.proof(write_book(tmp_path / "b.xlsx", rows), pipeline.Options(), lambda *_: None)
    assert [exhibit.head for exhibit in said[0][0]] == ["Ida\nBo", "Ida Bo"]


def test_a_recorded_finish_that_is_gone_is_shown_plain(tmp_path: Path) -> None:
    made = lantern()
    assert made.artwork is not None
    gone = replace(made.artwork.layers[0], finish="gone")
    art = replace(made.artwork, layers=(gone, made.artwork.layers[1]), hanger="rope")
    old = replace(made, artwork=art)
    told: list[tuple[int, int]] = []

    def progress(done: int, total: int) -> None:
        told.append((done, total))

    found = write_sets([old, made], [2], Shown(tmp_path), load(None), progress)
    assert found == {"1042": (tmp_path / "order-1042-set.png",)}
    assert told == [(2, 2)]
    picture = pixels(tmp_path / "order-1042-set.png")
    # Walnut behind the right one, grey behind the left.
    part = picture[200:1100, :1080]
    walnut = (part[..., 0] < 110) & (part[..., 0] - part[..., 2] > 25)
    assert walnut[:, 540:].sum() > 2 * walnut[:, :540].sum()


def test_many_pieces_are_shared_out_over_pictures(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("proofgen.day.sets.MOST", 2)
    run = pipeline.proof(family(tmp_path, ["Ada", "Bo", "Cy"]), pipeline.Options(), lambda *_: None)
    assert [path.name for path in run.sets] == ["order-7-set-1.png", "order-7-set-2.png"]


def test_pictures_of_one_order_say_how_many_there_are_and_have_one_scale(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("proofgen.day.sets.MOST", 2)
    seen: list[tuple[str, float]] = []

    def gallery_said(pieces: Sequence[Exhibit], sign: Sign, *how: Any) -> bytes:
        seen.append((sign.right, arranged(pieces, True, how[-1]).scales[0]))
        return b"png"

    monkeypatch.setattr(gallery, "gallery_png", gallery_said)
    rows = [{"order": "7", "name": n, "year": 2027, "design": "boat"} for n in ("Ada", "Bo", "Cy")]
    book = write_book(tmp_path / "orders.xlsx", [{**rows[0], "quantity": 4}, *rows[1:]])
    pipeline.proof(book, pipeline.Options(), lambda *_: None)
    (first_, alike), (second, scale) = seen
    assert (first_, second) == (
        "picture 1 of 2, 6 pieces",
        "picture 2 of 2, 6 pieces",
    )
    assert alike == scale


@pytest.mark.parametrize("damage", [slice(0, 9000), slice(0, 0), slice(100, None)])
def test_a_damaged_picture_of_a_whole_order_is_drawn_again(tmp_path: Path, damage: slice) -> None:
    book = family(tmp_path, ["Ada", "Bo"])
    (picture,) = pipeline.proof(book, pipeline.Options(), lambda *_: None).sets
    whole = picture.read_bytes()
    picture.write_bytes(whole[damage])
    pipeline.proof(book, pipeline.Options(), lambda *_: None)
    assert picture.read_bytes() == whole


@pytest.mark.parametrize("count", [1, 2, 3, 5, 7, 12])
def test_any_number_of_pieces_finds_its_place(count: int) -> None:
    pieces = [lantern() if number % 3 else plaque() for number in range(count)]
    shown = [scene(made.artwork, load(None)) for made in pieces if made.artwork]
    exhibits = [Exhibit(each, "A name", ("what it is",), "1") for each in shown]
    png = gallery_png(exhibits, Sign("Left", "Right", "note"), True, {})
    assert len(png) < 500_000


def test_a_piece_keeps_its_proportions_in_a_cell() -> None:
    wide, slim = stage((200, 50), False, (400, 300)), stage((50, 200), True, (400, 300))
    assert (wide.width - 48) / (wide.height - 48) == pytest.approx(4, rel=0.05)
    for place in (wide, slim):
        assert place.left >= 0
        assert place.top >= 0
        assert place.left + place.width <= 300
        assert place.top + place.height <= 400
