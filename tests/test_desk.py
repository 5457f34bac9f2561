"""Where pieces stand on a day, and what is written to buyers."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from books import write_book

from proofgen.artwork.artwork import Made
from proofgen.cli.program import main
from proofgen.day import daybook, pipeline, rows as rows_
from proofgen.day.rows import Options
from proofgen.desk.messages import spelled
from proofgen.desk.status import (
    STEPS,
    Standing,
    counts,
    last_due,
    owed,
    room,
    soonest,
    standing,
)
from proofgen.errors import UnusableError
from proofgen.making.sheet_files import Form
from proofgen.making.sheets import sheets
from proofgen.making.wanting import Wish
from proofgen.orders.order import Order, Source
from proofgen.records.approval import Approval
from proofgen.records.record import Event, Record, feeding
from proofgen.told import day as day_report
from proofgen.workshop.read import load

SELLING = replace(load(None).selling, drying_days=2, packing_days=1, pieces_a_day=3)
TODAY = date(2027, 5, 10)
ORDER = Order("T-1", 1, Source("b", "s", 2), "boat", (("name", "Otto"),), due="2027-05-13")
SHOWN = Record(
    "T-1", 1, "C", feeding(ORDER), 1, "", "", "", "boat", "", (), "2027-05-06T09:00:00+00:00"
)


def quiet(*_: int) -> None:
    pass


def stands(
    *events: str,
    shown: bool = True,
    stands: bool = False,
    order: Order = ORDER,
    code: str = "C",
) -> Standing:
    happened = [Event("2027-05-09T08:00:00+00:00", kind, "T-1", 1, "C") for kind in events]
    approved = Approval(SHOWN if stands else None, ())
    pictures = (SHOWN,) if shown else ()
    made = Made(order, None, (), code)
    return standing(made, approved, pictures, happened, SELLING, TODAY)


def test_the_steps_of_a_piece() -> None:
    assert stands(shown=False).step == "not proofed"
    waiting = stands()
    assert (waiting.step, waiting.waited) == ("waiting", 4)
    assert stands(code="D").step == "not proofed"
    assert stands(stands=True).step == "approved"
    assert stands("made", stands=True).step == "made"
    assert stands("made", "packed", stands=True).step == "packed"
    assert stands("collected", stands=True).step == "collected"


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31", "tomorrow"])
def test_a_day_beyond_this_age_is_refused(tmp_path: Path, day: str, capsys) -> None:
    book = write_book(tmp_path / "orders.xlsx", [{"order": "1", "name": "Ida", "design": "boat"}])
    assert main(["status", str(book), "--on", day]) == 2
    assert day in capsys.readouterr().err


def test_late_is_what_its_days_do_not_reach() -> None:
    # Two days to dry and one to pack: on the 10th, the 13th can just be met.
    assert not stands(stands=True).late
    early = replace(ORDER, due="2027-05-12")
    assert stands(stands=True, order=early).late
    assert not stands("made", order=early).late
    assert stands("made", order=replace(ORDER, due="2027-05-10")).late
    assert not stands("packed", order=replace(ORDER, due="2027-05-10")).late
    assert not stands("collected", order=replace(ORDER, due="2027-05-01")).late
    assert not stands(order=replace(ORDER, due="when it suits")).late


def test_room_for_one_more() -> None:
    waiting = [stands(order=replace(ORDER, quantity=2)), stands("made")]
    space = room(waiting, date(2027, 5, 14), SELLING, TODAY)
    # Two pieces come first and three are made a day, so it is approved by the 11th: 14 - 2 - 1.
    assert (space.before, space.last) == (2, date(2027, 5, 11))
    more = [*waiting, stands(order=replace(ORDER, quantity=4))]
    # Six come first: it is the first one of the third day.
    assert room(more, date(2027, 5, 14), SELLING, TODAY).last is None
    assert room(more, date(2027, 5, 15), SELLING, TODAY).last == date(2027, 5, 10)
    later = [stands(order=replace(ORDER, due="2027-06-01", quantity=50))]
    assert room(later, date(2027, 5, 14), SELLING, TODAY).before == 0
    assert counts(more)["waiting"] == 6
    assert list(counts(more)) == list(STEPS)


def test_the_last_day_for_one_more_is_told_unasked(tmp_path: Path, capsys) -> None:
    open_ = [stands(order=replace(ORDER, due=f"2027-05-{day}")) for day in (13, 20)]
    done = stands("collected", order=replace(ORDER, due="2027-06-30"))
    assert last_due([*open_, done], TODAY) == date(2027, 5, 20)
    assert last_due([done], TODAY) is None
    # Two days to dry, one to pack; with six before it, it is the first piece of the third day.
    assert soonest([], SELLING, TODAY) == date(2027, 5, 13)
    before = [stands(order=replace(ORDER, quantity=6))]
    assert soonest(before, SELLING, TODAY) == date(2027, 5, 15)
    book = write_book(
        tmp_path / "orders.xlsx",
        [{"order": "1", "name": "Ida", "design": "boat", "due": "2027-06-20"}],
    )
    assert main(["status", str(book), "--on", "2027-06-01"]) == 0
    *_, soon, last = capsys.readouterr().out.splitlines()
    assert soon == "one more, approved today, can be handed over on 2027-06-03 at the soonest"
    assert last.startswith(
        "one more can be handed over by 2027-06-20, if it is approved by 2027-06"
    )


def test_owed_is_summed_to_the_cent() -> None:
    sums = [("0.10", "0.20"), ("0.20", None), (None, "0.05")]
    orders = [
        replace(
            ORDER,
            line=i,
            quoted=Decimal(quoted) if quoted else None,
            paid=Decimal(paid) if paid else None,
        )
        for i, (quoted, paid) in enumerate(sums, 1)
    ]
    (left,) = owed(orders)
    assert left.balance == Decimal("0.05")
    assert owed([replace(ORDER, quoted=Decimal(5), paid=Decimal(5))]) == ()


def test_what_is_owed_is_told_with_currency_and_whose_it_is(tmp_path: Path, capsys) -> None:
    (tmp_path / "workshop.toml").write_text("format = 1\n[catalogue.prices]\nboat = 18\n")
    row = {"design": "boat", "year": 2027, "approved": None}
    rows = [
        {**row, "order": "T-1", "name": "Ida", "buyer": "M. Tarrow", "quoted": 20, "paid": 8},
        {**row, "order": "T-2", "name": "Bo", "paid": 5},
        {**row, "order": "T-2", "name": "Di"},
        {**row, "order": "T-3", "name": "Ed", "quoted": 18, "paid": 26},
        {**row, "order": "T-4", "name": "Fay", "design": "plaque", "paid": 5},
        {**row, "order": "T-5", "name": "Gus"},
    ]
    book = write_book(tmp_path / "orders.xlsx", rows)
    for each, made in zip(rows, pipeline.proof(book, Options(), quiet).rows, strict=True):
        # Nobody owes what is not agreed on.
        each["approved"] = made.code if each["order"] != "T-5" else None
    write_book(book, rows)
    assert main(["status", str(book), "--on", "2027-06-01"]) == 0
    told = capsys.readouterr().out
    assert [line for line in told.splitlines() if "$" in line] == [
        "owed: T-1 M. Tarrow: $12.00",
        "owed: T-2: $31.00 (by the catalogue)",
        "paid too much: T-3: $8.00",
        "paid, without price: T-4: $5.00",
    ]
    assert main(["status", str(book), "--json"]) == 0
    (_, listed, *_) = json.loads(capsys.readouterr().out)["owed"]
    assert (listed["price"], listed["asked"], listed["balance"]) == ("catalogue", "36.00", "31.00")
    assert listed["quoted"] is None

    # A workshop that wants to be paid first waits for the catalogue's price too.
    own = tmp_path / "workshop.toml"
    own.write_text(own.read_text() + "[orders]\ncut_before_payment = false\n")
    rows_._open.clear()
    held = pipeline.make(book, Options(), quiet, everything=False)
    unpaid = {m.order.number for m in held.rows if "not-paid" in [f.kind.id for f in m.flags]}
    assert unpaid == {"T-1", "T-2"}


def test_what_cannot_be_told_is_owed_by_no_guess(tmp_path: Path, capsys) -> None:
    (tmp_path / "workshop.toml").write_text("format = 1\n[catalogue.prices]\nboat = 18\n")
    row = {"design": "boat", "year": 2027, "approved": None}
    rows = [
        {**row, "order": "T-1", "name": "Ida", "quoted": "1.234,56", "paid": 5},
        {**row, "order": "T-2", "name": "Bo", "delivery": "drone"},
        {**row, "order": "T-3", "name": "Ed", "quoted": 30, "paid": 10},
        {**row, "order": "T-4", "name": "Di", "paid": 18},
    ]
    book = write_book(tmp_path / "orders.xlsx", rows)
    for each, made in zip(rows, pipeline.proof(book, Options(), quiet).rows, strict=True):
        each["approved"] = made.code if each["order"] in ("T-1", "T-2") else None
    write_book(book, rows)
    assert main(["status", str(book), "--on", "2027-06-01"]) == 0
    # Neither is approved: T-3 owes nothing yet, and what T-4 paid has a price.
    assert [line for line in capsys.readouterr().out.splitlines() if "owed" in line] == [
        'what is owed cannot be told: T-1: row 2, quoted (F2): "1.234,56" is no sum of money; '
        "paid $5.00",
        "what is owed cannot be told: T-2: row 3, delivery (H3): there is no way of delivery "
        "'drone'",
    ]
    laid = sheets(book, Options(), Wish(seconds=1.0), Form(), quiet, date(2027, 6, 1))
    page = laid.jobs[1].read_text(encoding="utf-8")
    assert page.count("Price: still to be settled") == 2 and "$18" not in page


def test_names_are_spelled_with_their_spaces_and_marks() -> None:
    assert spelled("Zoë Ad") == "Z o ë ␣ A d"
    assert spelled("e\u0301a") == "e\u0301 a"
    assert spelled("Ella-Mae") == "E l l a - M a e"


def test_lines_are_told_from_slashes(tmp_path: Path) -> None:
    row = {"order": "T-1", "name": "Mary\nAnn", "design": "plaque", "year": "none"}
    slashed = {**row, "name": "Ann / Bea", "design": "boat", "dedication": "Calm\nrough"}
    # The boat has room for one line, so that this one is broken nowhere.
    joined = {**row, "name": "Ida\nBo", "design": "boat"}
    book = write_book(tmp_path / "orders.xlsx", [row, slashed, joined])
    pipeline.proof(book, Options(), quiet)
    (found,) = daybook.messages(book, Options(), quiet)
    assert [line for line in found.text.splitlines() if line.startswith("  ")] == [
        f"  name, line 1: Mary   {spelled('Mary')}",
        f"  name, line 2: Ann   {spelled('Ann')}",
        f"  name: Ann / Bea   {spelled('Ann / Bea')}",
        "  dedication, line 1: Calm",
        "  dedication, line 2: rough",
        f"  name: Ida Bo   {spelled('Ida Bo')}",
    ]


def test_what_is_lettered_keeps_its_spaces(tmp_path: Path) -> None:
    row = {"order": "T-1", "name": "Ida, Bo", "design": "boat", "year": "none"}
    book = write_book(tmp_path / "orders.xlsx", [{**row, "dedication": "Calm , rough"}])
    pipeline.proof(book, Options(), quiet)
    (found,) = daybook.messages(book, Options(), quiet)
    assert "  name: Ida, Bo   I d a , ␣ B o\n  dedication: Calm , rough\n" in found.text
    assert found.text.startswith("Hello, ")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    row = {"order": "T-1", "name": "Ida Bo", "design": "boat", "year": 2027, "buyer": "M. Tarrow"}
    dates = {"design": "remembrance", "born": "1 May 1941", "died": "2 June 2026"}
    others = {"order": "T-2", "name": "Otto", "buyer": "E. Vane", "year": 2027}
    return write_book(tmp_path / "orders.xlsx", [row, {**row, "name": "Pip"}, {**others, **dates}])


def test_the_day_by_commands(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert daybook.messages(book, Options(), quiet) == ()
    rows = pipeline.proof(book, Options(), quiet).rows
    first, other = daybook.messages(book, Options(), quiet)
    for made in rows[:2]:
        assert made.code in first.text
    assert "I d a ␣ B o" in first.text
    assert "M. Tarrow" in first.text
    assert "1 May 1941" in other.text
    assert other.text.startswith("Good day E. Vane, here is")
    assert "$" not in first.text + other.text
    assert main(["packed", str(book), "T-2"]) == 2
    assert main(["packed", str(book), "T-2", "--anyway"]) == 0
    assert main(["status", str(book), "--json", "--on", "2027-06-01", "--by", "2027-06-20"]) == 0
    told = json.loads(capsys.readouterr().out.partition("packed: T-2 Otto\n")[2])
    assert [line["step"] for line in told["lines"]] == ["waiting", "waiting", "packed"]
    assert told["room"] == {"by": "2027-06-20", "before": 0, "last": "2027-06-18"}
    with pytest.raises(UnusableError, match="Name the orders"):
        daybook.note("made", book, Options(), quiet)
    day = daybook.status(book, Options(), quiet, date(2027, 6, 1), None)
    assert "2  waiting: T-1 Ida Bo" in day_report.as_text(day)


def test_a_sum_that_cannot_be_read_is_not_taken_as_paid(tmp_path: Path) -> None:
    (tmp_path / "workshop.toml").write_text("format = 1\norders.cut_before_payment = false\n")
    row = {"order": "P-1", "name": "Ida", "design": "boat", "year": 2027, "quoted": "1.234,50"}
    book = write_book(tmp_path / "orders.xlsx", [row])
    (made,) = pipeline.proof(book, Options(), quiet).rows
    write_book(book, [{**row, "approved": made.code}])
    held = pipeline.make(book, Options(), quiet, everything=False)
    assert not held.production
    assert "not-paid" in [flag.kind.id for flag in held.rows[0].flags]
    write_book(book, [{**row, "approved": made.code, "quoted": "20", "paid": "20"}])
    assert pipeline.make(book, Options(), quiet, everything=False).production


def test_a_message_of_the_workshops_own(book: Path) -> None:
    own = book.with_name("workshop.toml")
    own.write_text('format = 1\n[messages]\nproof = "$buyer: $code"\n', encoding="utf-8")
    rows = pipeline.proof(book, Options(), quiet).rows
    codes = ", ".join(made.code for made in rows[:2])
    assert daybook.messages(book, Options(), quiet)[0].text == f"M. Tarrow: {codes}"
    for wrong in ("$bayer", "costs $5"):
        own.write_text(f'format = 1\n[messages]\nproof = "{wrong}"\n', encoding="utf-8")
        with pytest.raises(UnusableError, match="stands for nothing"):
            load(own)


def test_a_message_says_which_rows_of_its_order_it_is_without(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [{"order": "A-1", "name": name, "design": "boat"} for name in ("Ida", None, None)]
    book = write_book(tmp_path / "orders.xlsx", [*rows, {**rows[0], "order": "A-2"}])
    pipeline.proof(book, Options(), quiet)
    assert [each.apart for each in daybook.messages(book, Options(), quiet)] == [(3, 4), ()]
    assert main(["message", str(book)]) == 0
    said = capsys.readouterr()
    assert "order A-1: row 3 stops; the message is without it" in said.err
    assert "stops" not in said.out
