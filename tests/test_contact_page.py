"""What the contact sheet is written from, and its file as text."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from books import write_book
from PIL import Image
from proof_pieces import lantern

from proofgen.artwork.artwork import Made
from proofgen.cli.program import main
from proofgen.contact.cards import Card, cards
from proofgen.contact.page import orders_on, write_page
from proofgen.day import pipeline
from proofgen.day.daybook import messages
from proofgen.day.rows import Options
from proofgen.orders.order import Order
from proofgen.results.thumbnail import Thumbnails

HOSTILE = '</script><script>document.title="changed"</script><b>&amp;'


def written(folder: Path, *found: Card) -> Path:
    path = folder / "contact.html"
    write_page(path, "A & B <workshop>", found, Thumbnails(folder), lambda *_: None)
    return path


def card(name: str = "Ida", row: int = 2) -> Card:
    texts, flags = (("name", name),), (("look", "row 2: odd.", "Look at it."),)
    return Card("T-1", row, "Bo", "Regatta boat", "look", "K7", texts, flags, "Hello", None)


def data_of(page: str) -> list[dict[str, Any]]:
    data = re.search(r'<script type="application/json" id="rows">(.*?)</script>', page, re.S)
    assert data
    found: list[dict[str, Any]] = json.loads(data[1])
    return found


def quiet(*_: int) -> None:
    """Tests show no progress."""


def test_texts_of_the_book_never_become_markup(tmp_path: Path) -> None:
    text = written(tmp_path, card(HOSTILE)).read_text(encoding="utf-8")
    assert text.count("</script>") == 2
    (row,) = data_of(text)
    assert row["texts"] == [["name", HOSTILE]]
    assert "<h1>A &amp; B &lt;workshop&gt;</h1>" in text


def test_a_row_that_stops_has_no_message() -> None:
    made = lantern()
    (found,) = cards([made], {}, {}, {}, (), lambda pieces, _: f"for {len(pieces)}")
    (bare,) = cards([replace(made, artwork=None)], {}, {}, {}, (), lambda *_: "never")
    assert (found.verdict, found.message, found.code) == ("ready", "for 1", made.code)
    assert bare.message == ""


def test_a_card_says_which_rows_of_its_order_are_not_in_its_message() -> None:
    made = lantern()
    stopped = [replace(made, artwork=None, order=moved(made, row)) for row in (7, 9, 11)]
    other = replace(made, order=replace(moved(made, 8), number="K-2"))
    found = cards([made, stopped[0], other], {}, {}, {}, (), lambda *_: "Hello")
    assert [each.apart for each in found] == [
        *("Row 7 of this order stops: the message is without it.", "", "")
    ]
    (first, *_) = cards([made, *stopped], {}, {}, {}, (), lambda *_: "Hello")
    assert first.apart == "Rows 7, 9 and 11 of this order stop: the message is without them."


def test_a_code_that_was_given_is_not_asked_for_again(tmp_path: Path) -> None:
    """A page says what `message` says, also of one that changed since it was approved."""
    names = {"T-1": ("Ada", "Bo"), "T-2": ("Cleo",), "T-3": ("Dot",), "T-4": ("Eve",)}
    rows = [
        {"order": order, "name": name, "design": "boat", "year": 2027}
        for order, each in names.items()
        for name in each
    ]
    proofed = pipeline.proof(write_book(tmp_path / "a.xlsx", rows), Options(jobs=1), quiet)
    codes = dict(zip((2, 4, 5), (proofed.rows[i].code for i in (0, 2, 3)), strict=True))
    rows = [{**row, "approved": codes.get(at, "")} for at, row in enumerate(rows, 2)]
    book = write_book(tmp_path / "a.xlsx", [*rows[:3], {**rows[3], "name": "Dora"}, rows[4]])
    run = pipeline.proof(book, Options(jobs=1), quiet)
    found = data_of((tmp_path / "proofs" / "a-contact.html").read_text(encoding="utf-8"))
    texts = {each.number: each.text for each in messages(book, Options(jobs=1), quiet)}
    assert [row["message"] for row in found] == ["", texts["T-1"], "", texts["T-3"], texts["T-4"]]
    assert run.rows[0].code not in texts["T-1"] and run.rows[3].verdict == "stop"
    said = "Approved: there is nothing to ask."
    assert [row["apart"] for row in found] == [said, "", said, "", ""]


def moved(made: Made, row: int) -> Order:
    return replace(made.order, source=replace(made.order.source, row=row))


def test_the_orders_of_a_page_are_read_back(tmp_path: Path) -> None:
    picture = tmp_path / "a.png"
    Image.new("RGB", (40, 50)).save(picture)
    found = [replace(card(HOSTILE), picture=picture, order=each) for each in ("T-1", HOSTILE)]
    path = written(tmp_path, *found, replace(card(), order="T-3"))
    assert orders_on(path) == {"T-1": {picture}, HOSTILE: {picture}}
    assert orders_on(tmp_path / "none.html") == {}
    for foreign in ('[{"a"', "[1,2]", '{"a":1}', '[{"order":1}]', "3", "[" * 99_999):
        page = f'<script type="application/json" id="rows">{foreign}</script>'
        path.write_text(page, encoding="utf-8")
        assert orders_on(path) == {}


def test_a_page_that_cannot_be_written_is_said_before_anything_is_drawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    row = {"order": "T-1", "name": "Ada", "design": "boat", "year": 2027}
    book = write_book(tmp_path / "a.xlsx", [row])
    page = tmp_path / "proofs" / "a-contact.html"
    page.mkdir(parents=True)
    for asked in ([], ["--skip-hidden"]):
        assert main(["proof", str(book), *asked]) == 2
        said = capsys.readouterr().err
        assert str(page) in said and "move it away" in said
    assert sorted(path.name for path in tmp_path.rglob("*.*") if "records" not in path.name) == [
        *("a-contact.html", "a.xlsx")
    ]
    assert main(["proof", str(book), "--order", "T-1"]) == 2


def test_a_file_in_place_of_the_folder_of_pictures_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = write_book(tmp_path / "a.xlsx", [{"order": "T-1", "name": "Ada", "design": "boat"}])
    proofs = tmp_path / "proofs"
    proofs.write_text("mine", encoding="utf-8")
    for asked in ([], ["--out", str(proofs / "new")]):
        assert main(["proof", str(book), *asked]) == 2
        assert f"{proofs} is a file" in capsys.readouterr().err
    assert proofs.read_text(encoding="utf-8") == "mine"


def test_rows_that_stop_stand_under_the_title_of_their_design() -> None:
    made = lantern()
    stopped = replace(made, artwork=None, order=replace(made.order, design="LANTERN"))
    unknown = replace(made, artwork=None, order=replace(made.order, design="lamp"))
    found = cards([stopped, made, unknown], {}, {}, {}, (), lambda *_: "")
    assert [each.title for each in found] == ["Lantern", "Lantern", "lamp"]
