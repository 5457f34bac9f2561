"""The contact sheet: texts of the book stay texts, and a real browser shows its cards."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
from proof_pieces import lantern

from proofgen.contact.cards import Card, cards
from proofgen.contact.page import write_page

HOSTILE = '</script><script>document.title="changed"</script><b>&amp;'
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


def written(folder: Path, *found: Card) -> Path:
    path = folder / "contact.html"
    write_page(path, "A & B <workshop>", found)
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
    (found,) = cards([made], {}, lambda pieces: f"for {len(pieces)}")
    (bare,) = cards([replace(made, artwork=None)], {}, lambda _: "never")
    assert (found.verdict, found.message, found.code) == ("ready", "for 1", made.code)
    assert bare.message == ""


@pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium on this machine")
@pytest.mark.parametrize("size", ["390,844", "1280,900"], ids=["phone", "desktop"])
def test_a_browser_draws_the_cards(tmp_path: Path, size: str) -> None:
    """3,000 rows: the count tells all of them, cards are drawn as they are needed."""
    hostile = (card(HOSTILE), *(card(f"Ida {row}", row) for row in range(3, 3002)))
    page = written(tmp_path, *hostile)
    call = [
        str(CHROMIUM),
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        f"--user-data-dir={tmp_path / 'browser'}",
        f"--window-size={size}",
        "--virtual-time-budget=3000",
        "--dump-dom",
        page.as_uri(),
    ]
    done = subprocess.run(call, capture_output=True, timeout=120, check=True)
    shown = done.stdout.decode("utf-8")
    assert "3000 of 3000 rows" in shown
    assert 60 <= shown.count("<article") < 3000
    assert "<title>A &amp; B &lt;workshop&gt;</title>" in shown
    assert "&lt;/script&gt;&lt;script&gt;document.title" in shown
