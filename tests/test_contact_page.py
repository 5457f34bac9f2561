"""What the contact sheet is written from, and its file as text."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

from proof_pieces import lantern

from proofgen.contact.cards import Card, cards
from proofgen.contact.page import write_page
from proofgen.results.thumbnail import Thumbnails

HOSTILE = '</script><script>document.title="changed"</script><b>&amp;'


def written(folder: Path, *found: Card) -> Path:
    path = folder / "contact.html"
    write_page(path, "A & B <workshop>", found, Thumbnails(folder), lambda *_: None)
    return path


def card(name: str = "Ida", row: int = 2) -> Card:
    texts, flags = (("name", name),), (("look", "row 2: odd.", "Look at it."),)
    return Card("T-1", row, "Bo", "Regatta boat", "look", "K7", texts, flags, "Hello", None)


def test_texts_of_the_book_never_become_markup(tmp_path: Path) -> None:
    text = written(tmp_path, card(HOSTILE)).read_text(encoding="utf-8")
    assert text.count("</script>") == 2
    data = re.search(r'<script type="application/json" id="rows">(.*?)</script>', text, re.S)
    assert data
    (row,) = json.loads(data[1])
    assert row["texts"] == [["name", HOSTILE]]
    assert "<h1>A &amp; B &lt;workshop&gt;</h1>" in text


def test_a_row_that_stops_has_no_message() -> None:
    made = lantern()
    (found,) = cards([made], {}, {}, {}, lambda pieces: f"for {len(pieces)}")
    (bare,) = cards([replace(made, artwork=None)], {}, {}, {}, lambda _: "never")
    assert (found.verdict, found.message, found.code) == ("ready", "for 1", made.code)
    assert bare.message == ""


def test_rows_that_stop_stand_under_the_title_of_their_design() -> None:
    made = lantern()
    stopped = replace(made, artwork=None, order=replace(made.order, design="LANTERN"))
    unknown = replace(made, artwork=None, order=replace(made.order, design="lamp"))
    found = cards([stopped, made, unknown], {}, {}, {}, lambda _: "")
    assert [each.title for each in found] == ["Lantern", "Lantern", "lamp"]
