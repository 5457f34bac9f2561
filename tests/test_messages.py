"""What the message to a buyer says of an order of which some pieces are settled or stop."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from books import write_book

from proofgen.day.daybook import messages
from proofgen.day.pipeline import proof
from proofgen.day.rows import Options

WORKSHOP = """
format = 1
[catalogue.prices]
boat = 18
[money.family_discount]
3 = 0.1
[money.delivery]
post = { asked = 6.5, costs = 5.2 }
"""
TOO_LONG = "Bartholomew Maximilian Featherstonehaugh the Elder of Upper Winterbourne"


def quiet(*_: int) -> None:
    """Tests show no progress."""


def family(*first: dict[str, Any]) -> list[dict[str, Any]]:
    """Three boats an order, `first` being what their first rows say beside."""
    return [
        {"order": f"P-{number}", "name": name, "design": "boat", **(said if not line else {})}
        for number, said in enumerate(first, 1)
        for line, name in enumerate(("Ida", "Bo", "Cleo"))
    ]


def sent(folder: Path, rows: list[dict[str, Any]]) -> tuple[dict[str, str], list[str]]:
    """The messages by order, once all is proofed, and the codes; each stands on the page."""
    (folder / "workshop.toml").write_text(WORKSHOP, encoding="utf-8")
    book = write_book(folder / "orders.xlsx", rows)
    run = proof(book, Options(jobs=1), quiet)
    found = {each.number: each.text for each in messages(book, Options(jobs=1), quiet)}
    assert {row["message"] for row in cards_of(folder)} - {""} == set(found.values())
    return found, [made.code for made in run.rows]


def cards_of(folder: Path) -> list[dict[str, Any]]:
    """The rows on the page of the last run."""
    page = (folder / "proofs" / "orders-contact.html").read_text(encoding="utf-8")
    data = re.search(r'id="rows">(.*?)</script>', page, re.S)
    assert data
    found: list[dict[str, Any]] = json.loads(data[1])
    return found


def prices(found: dict[str, str]) -> list[str]:
    """What each message says of the price, empty where it says nothing."""
    said = (re.search(r"The price.*", text) for text in found.values())
    return [match[0] if match else "" for match in said]


def test_the_price_is_the_whole_orders_when_a_piece_of_it_is_approved(tmp_path: Path) -> None:
    rows = family({"quoted": 45, "paid": 10}, {"delivery": "post", "paid": 20})
    found, codes = sent(tmp_path, rows)
    assert prices(found) == [
        "The price is $45.00, of which $10.00 is paid.",
        "The price is $55.10, of which $20.00 is paid.",
    ]
    for at in (0, 3):
        rows[at]["approved"] = codes[at]
    found, _ = sent(tmp_path, rows)
    assert codes[0] not in found["P-1"] and codes[1] in found["P-1"]
    assert prices(found) == [
        "The price of the whole order is $45.00, of which $10.00 is paid.",
        "The price of the whole order is $55.10, of which $20.00 is paid.",
    ]


def test_a_row_that_stops_leaves_open_only_what_is_not_quoted(tmp_path: Path) -> None:
    rows = family({"quoted": 45, "paid": 10}, {"delivery": "post", "paid": 20})
    for at in (0, 3):
        rows[at]["name"] = TOO_LONG
    found, codes = sent(tmp_path, rows)
    assert codes[0] == codes[3] == ""
    assert prices(found) == ["The price of the whole order is $45.00, of which $10.00 is paid.", ""]


@pytest.mark.parametrize("unread", [{"quoted": "1.234,56"}, {"paid": "some"}])
def test_a_sum_that_cannot_be_read_is_not_made_up_for(
    tmp_path: Path, unread: dict[str, Any]
) -> None:
    found, _ = sent(tmp_path, family(unread))
    assert "Ida" in found["P-1"]
    assert prices(found) == [""]


@pytest.mark.parametrize(
    ("then", "now", "said", "price"),
    [(3, 4, "4 pieces", "71.30"), (2, 1, "1 piece", "24.50")],
    ids=["more", "fewer"],
)
def test_another_number_than_was_approved_is_told(
    tmp_path: Path, then: int, now: int, said: str, price: str
) -> None:
    row = {"order": "A-2", "name": "Ida", "design": "boat", "quantity": then, "delivery": "post"}
    _, (code,) = sent(tmp_path, [row])
    assert sent(tmp_path, [{**row, "approved": code}])[0] == {}
    found, _ = sent(tmp_path, [{**row, "approved": code, "quantity": now}])
    assert f"{code} ({said}):" in found["A-2"]
    assert prices(found) == [f"The price is ${price}."]
    assert [card["apart"] for card in cards_of(tmp_path)] == [""]


def test_what_the_design_has_no_place_for_is_said_to_be_not_on_the_piece(tmp_path: Path) -> None:
    row = {"order": "N-1", "name": "Ida", "design": "boat", "dedication": "Calm sea"}
    asked = {"inscription": "Our first home", "size": "large", "symbol": "oar"}
    found, (code,) = sent(tmp_path, [{**row, **asked}])
    lines = found["N-1"].splitlines()
    at = lines.index("  dedication: Calm sea")
    assert lines[at + 1] == "  without inscription, that size and that symbol"
    for approved in ("", code):
        sent(tmp_path, [{**row, **asked, "approved": approved}])
        (card,) = cards_of(tmp_path)
        texts = dict(card["texts"])
        assert texts.keys() >= {"name", "dedication"} and "inscription" not in texts
        assert dict(card["chosen"]) == {
            "finish": "natural",
            "hanger": "ribbon, 6 mm",
            **{f"{column}, not on the piece": text for column, text in asked.items()},
        }


def test_nothing_is_missed_that_was_not_asked_for(tmp_path: Path) -> None:
    row = {"order": "N-1", "name": "Ida", "design": "boat", "symbol": "none", "hanger": "cord"}
    assert "without" not in sent(tmp_path, [row])[0]["N-1"]


def test_a_message_reads_well_without_a_buyer_and_with_many_designs(tmp_path: Path) -> None:
    designs = ("plaque", "boat", "medallion")
    rows = [{"order": "W-1", "name": "Ida", "design": each} for each in designs]
    dates = {"born": "1 May 1941", "died": "2 June 2026"}
    found, _ = sent(
        tmp_path, [*rows, {**rows[0], "order": "W-2", "design": "remembrance", **dates}]
    )
    titles = "Harbour plaque, Regatta boat and Regatta medallion"
    assert f"the picture of your {titles}, order W-1" in found["W-1"]
    assert found["W-2"].startswith("Good day, here is the picture of the ")
