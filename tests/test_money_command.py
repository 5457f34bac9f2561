"""The money of a book: what is quoted or asked, what is left out, and what is told of it."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from books import lines, write_book
from hypothesis import given, settings, strategies as st
from money_numbers import SHIPPED, moneys, orders, shop as shop_with
from sheets import layer, square, tile

from proofgen.artwork.artwork import Artwork
from proofgen.books.accounts import Accounts, book_accounts
from proofgen.books.piece_work import work_of
from proofgen.books.reckoning import Reckoned
from proofgen.day.choices import choices
from proofgen.day.daybook import messages
from proofgen.day.pipeline import proof
from proofgen.day.rows import Options
from proofgen.designs.design import Mark
from proofgen.money.account import total
from proofgen.money.cost import HAND
from proofgen.money.order import accounts
from proofgen.orders.order import Order, Source
from proofgen.orders.read import typed
from proofgen.records.archive import archive
from proofgen.records.record import Entry
from proofgen.sheets.layers_cut import MADE, SPOILED, layer_subject
from proofgen.sheets.losses import Losses, losses
from proofgen.told import money as money_report

CATALOGUE = """
format = 1
[catalogue.prices]
boat = 18
plaque = 22.5
[catalogue.options]
finish = { walnut = 2 }
hanger = { none = -0.5 }
[money.family_discount]
3 = 0.1
[money.delivery]
post = { asked = 6.5, costs = 5.2 }
"""
ROW = {"order": "A-1", "name": "Ida", "design": "boat"}


def quiet(*_: int) -> None:
    pass


def book_of(folder: Path, *rows: dict[str, Any], workshop: str = CATALOGUE) -> Path:
    (folder / "workshop.toml").write_text(workshop, encoding="utf-8")
    return write_book(folder / "orders.xlsx", [ROW | row for row in rows])


def reckon(book: Path, **asked: bool) -> Accounts:
    return book_accounts(book, Options(jobs=1), quiet, **asked)


def incomes(found: Accounts) -> list[str]:
    return [str(row.account.income) for row in found.rows]


def test_the_catalogue_asks_with_options_discount_and_delivery(tmp_path: Path) -> None:
    book = book_of(
        tmp_path,
        {"finish": "walnut stain", "hanger": "none", "quantity": 2, "delivery": "Post"},
        {"name": "Bo", "design": "plaque", "hanger": "none"},
    )
    found = reckon(book)
    whole = total(row.account for row in found.rows)
    # By hand: 2 boats at 18 + 2 - 0.5, a plaque at 22.50 which has no hanger; a tenth off 61.50.
    assert (whole.listed, whole.discount) == (Decimal("61.50"), Decimal("6.15"))
    assert whole.income == Decimal("61.85")
    assert [row.quoted for row in found.rows] == [False, False]
    proof(book, Options(jobs=1), quiet)
    (sent,) = messages(book, Options(jobs=1), quiet)
    assert "The price is $61.85." in sent.text


def test_what_is_quoted_is_all_that_the_buyer_pays(tmp_path: Path) -> None:
    found = reckon(
        book_of(
            tmp_path,
            {"quoted": 50, "delivery": "post"},
            {"name": "Bo", "quantity": 2},
            {"order": "A-2", "quoted": 10, "quantity": 3},
            {"order": "A-2", "name": "Bo", "quoted": 7},
            {"order": "A-3"},
        )
    )
    # One sum for an order is shared by the catalogue; a sum a row stays the row's.
    assert incomes(found) == ["16.67", "33.33", "10.00", "7.00", "18.00"]
    assert all(row.account.discount == 0 for row in found.rows)
    paid = [e.amount for row in found.rows[:2] for e in row.account.lines if e.what == "delivery"]
    assert sum(paid) == Decimal("5.20")


def test_an_order_is_reckoned_as_a_whole_or_not_and_says_why(tmp_path: Path) -> None:
    found = reckon(
        book_of(
            tmp_path,
            {"quoted": 20},
            {"name": ""},
            {"order": "A-2", "design": "lantern"},
            {"order": "A-3", "quoted": "about twenty"},
            {"order": "A-4", "delivery": "pigeon", "quoted": 9},
            {"order": "A-5"},
        )
    )
    assert [row.order.number for row in found.rows] == ["A-5"]
    assert [(left.order.number, left.why) for left in found.left] == [
        ("A-1", "row 3 stops"),
        ("A-1", "row 3 stops"),
        ("A-2", "row 4 has no price: fill in Quoted, or [catalogue.prices]"),
        ("A-3", "row 5, quoted (D5) is no sum of money"),
        ("A-4", "there is no way of delivery 'pigeon'; there is post ([money.delivery])"),
    ]
    told = money_report.as_text(found)
    assert told.count("A-1: row 3 stops") == 1
    assert money_report.CAUTION in told


def test_a_piece_takes_the_boards_and_both_sides_of_its_layers() -> None:
    workshop, one = SHIPPED, tile()
    back = Mark("engrave-area", square(5, 5, 6), side="back")
    other = replace(layer(*one.marks, back), material="maple-3", finish="walnut")
    order = Order("1", 1, Source("", "", 2), "boat")

    def work(*layers: Any) -> Any:
        return work_of(Artwork(order, "boat", "", (20, 20), layers, (), "cord"), workshop)

    both = work(one, other)
    assert both.layers == (("birch-3", Decimal("400.00")), ("maple-3", Decimal("400.00")))
    assert (both.stained, both.hanger) == (1, "cord")
    alone = work(one), work(replace(one, material="maple-3")), work(other)
    # Each is rounded to a thousandth of a minute.
    assert abs(both.machine - alone[0].machine - alone[2].machine) <= Decimal("0.001")
    assert alone[0].machine == alone[1].machine < alone[2].machine
    # By hand: 80 mm of outline, 6.28 of hole at 4 mm/s, two times 0.3 s to pierce; and more.
    assert alone[0].machine * 60 > Decimal("22.1")


def entry(kind: str, amount: int = 1, why: str = "", number: str = "A-1") -> Entry:
    subject = layer_subject(number, "CODE", "boat")
    return Entry("2027-05-01T08:00:00+00:00", kind, subject, amount, why)


def test_losses_are_spoiled_layers_for_each_good_one() -> None:
    entries = [
        *(entry(MADE, 8), entry(SPOILED, 1, "burnt  through"), entry(MADE)),
        *(entry(SPOILED, 1), entry(SPOILED, 1, "burnt through"), entry(MADE, 2)),
        *(entry(MADE, 5, number="last-year"), entry(SPOILED, 5, number="last-year")),
    ]
    found = losses(entries, {"A-1"})
    reasons = (("burnt through", 2), ("no reason given", 1))
    assert found == Losses(8, 3, reasons)
    assert found.rate == Decimal("0.3750")
    assert losses([], {"A-1"}).rate is None


def test_the_measured_loss_is_shown_and_used_where_asked_for(tmp_path: Path) -> None:
    book = book_of(tmp_path, {})
    with archive(tmp_path) as records:
        records.enter([entry(MADE, 5), entry(SPOILED, 1, "warped")])
    assumed, own = reckon(book), reckon(book, measured_loss=True)
    again = [
        next(e.minutes for e in found.rows[0].account.lines if e.what == "again: hand")
        for found in (assumed, own)
    ]
    # 3 minutes of weeding and sanding; packing and messages are not done again.
    assert again == [Decimal("0.05") * 3, Decimal("0.25") * 3]
    said = "the workshop file says 5.0 %; measured 25.0 % (1 layer spoiled, 4 good)"
    assert f"{said}; reckoned with that of the file" in money_report.as_text(assumed)
    assert f"{said}; reckoned with the measured one" in money_report.as_text(own)
    loss = json.loads(money_report.as_json(own))["loss"]
    assert (loss["assumed"], loss["measured"]) == ("0.05", "0.2500")
    assert loss["reasons"] == [{"why": "warped", "layers": 1}]


def test_prices_for_the_wage_by_design(tmp_path: Path) -> None:
    book = book_of(tmp_path, {}, {"name": "Josephine", "finish": "walnut"}, {"design": "plaque"})
    found = reckon(book, for_wage=True)
    boat, plaque = found.needed
    assert boat.least < boat.middle == boat.most
    assert (boat.pieces, boat.listed, plaque.listed) == (2, Decimal("18.00"), Decimal("22.50"))
    assert plaque.least == plaque.middle == plaque.most


def test_the_price_for_the_wage_needs_no_price(tmp_path: Path) -> None:
    rows = ({}, {"order": "A-2", "name": "Josephine", "quantity": 2}, {"order": "A-3", "name": ""})
    bare = book_of(tmp_path, *rows, workshop="format = 1\n")
    assert "--price-for-wage" in money_report.as_text(reckon(bare))
    found = reckon(bare, for_wage=True)
    assert (found.rows, len(found.left)) == ((), 3)
    (boat,) = found.needed
    assert (boat.design, boat.pieces, boat.listed) == ("boat", 3, None)
    assert [each.order.number for each in found.needed_pieces] == ["A-1", "A-2"]
    prices = {boat.least, boat.most}
    assert prices == {each.price for each in found.needed_pieces}
    # At that price, quoted, a piece earns the wage of 25 an hour and not a cent less than that.
    priced = [{**row, "quoted": str(each.price * row.get("quantity", 1))}
              for row, each in zip(rows, found.needed_pieces, strict=False)]  # fmt: skip
    earned = reckon(book_of(tmp_path, priced[0], workshop="format = 1\n")).rows[0].account
    assert earned.earned * 60 >= 25 * earned.minutes(HAND)
    assert (earned.earned - Decimal("0.01")) * 60 < 25 * earned.minutes(HAND)
    told = money_report.as_text(found)
    assert f"A-2 Josephine, Regatta boat: {found.needed_pieces[1].price}" in told


@given(st.data(), moneys())
@settings(deadline=None, max_examples=60)
def test_what_is_told_adds_up_to_the_cent(data: st.DataObject, money: Any) -> None:
    workshop = shop_with(money)
    rows: list[Reckoned] = []
    for number in range(data.draw(st.integers(0, 3))):
        pieces = data.draw(orders(money))
        for piece, account in zip(pieces, accounts(pieces, workshop, "post"), strict=True):
            order = Order(str(number), 1, Source("", "", 2), "boat")
            sold = data.draw(st.booleans())
            rows.append(Reckoned(order, "boat", "Boat", piece.work, False, sold, account))
    found = Accounts(workshop, tuple(rows), (), Losses(0, 0, ()), money.loss)
    told = json.loads(money_report.as_json(found))
    for name in ("pieces", "prices", "discount", "delivery", "income", "cost", "profit"):
        sums = [Decimal(row[name]) for row in told["rows"]]
        assert Decimal(told["all"][name]) == sum(sums)
        assert sum(Decimal(order[name]) for order in told["orders"]) == sum(sums)
        sold = [s for s, row in zip(sums, told["rows"], strict=True) if row["sold"]]
        assert Decimal(told["sold"][name]) == sum(sold)
    for each in (*told["rows"], told["all"]):
        assert Decimal(each["income"]) - Decimal(each["cost"]) == Decimal(each["profit"])
        assert sum(Decimal(e["amount"]) for e in each["lines"]) == Decimal(each["cost"])
        hand = [Decimal(e["minutes"]) for e in each["lines"] if e["kind"] == HAND]
        assert sum(hand) == Decimal(each["hand_minutes"])


@pytest.mark.parametrize(
    ("decimals", "read"), [(0, "None"), (2, "24.50"), (3, "24.500")], ids=["yen", "cents", "mils"]
)
def test_sums_are_read_with_the_decimals_of_the_workshop(decimals: int, read: str) -> None:
    workshop = replace(SHIPPED, money=replace(SHIPPED.money, decimals=decimals))
    line = typed({**ROW, "quoted": "24.50"}, workshop)
    assert str(line.order.quoted) == read


def test_half_a_cent_is_rounded_up(tmp_path: Path) -> None:
    """Of a number, as a formula gives it; more decimals that are typed are asked about."""
    (line,) = lines(tmp_path / "b.xlsx", ROW | {"quoted": 24.125, "paid": "$24,115"})
    assert (line.order.quoted, line.order.paid) == (Decimal("24.13"), None)


def test_choices_are_priced_with_their_finish(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book_of(tmp_path, {})
    monkeypatch.chdir(tmp_path)
    found = choices([("name", "Ida"), ("finish", "walnut")], None, Options())
    prices = {choice.made.order.design: choice.price for choice in found.tried}
    assert (prices["boat"], prices["plaque"], prices["lantern"]) == ("$20.00", "$24.50", "")


@pytest.mark.parametrize(("decimals", "shown"), [(0, "0"), (2, "0.00"), (3, "0.000")])
def test_sums_in_the_results_have_the_decimals_of_the_currency(
    tmp_path: Path, decimals: int, shown: str
) -> None:
    workshop = f"format = 1\n[money]\ndecimals = {decimals}\n"
    book = book_of(tmp_path, {"quoted": 1200, "paid": 200}, workshop=workshop)
    proof(book, Options(jobs=1), quiet)
    row = openpyxl.load_workbook(tmp_path / "orders-results.xlsx").worksheets[0][2]
    sums = {cell.value: cell.number_format for cell in row if cell.value in (1200, 200, 1000)}
    assert sums == {1200: shown, 200: shown, 1000: shown}
