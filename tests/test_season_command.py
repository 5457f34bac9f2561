"""A season by commands: what was approved, handed over and spoiled stands in its report."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from books import write_book

from proofgen.books.season import Report, season
from proofgen.cli.program import main
from proofgen.day import daybook, pipeline
from proofgen.day.judging import judged
from proofgen.day.rows import Options, lines_of
from proofgen.desk.status import events_of
from proofgen.errors import UnusableError
from proofgen.records.archive import archive
from proofgen.records.record import Entry, Event
from proofgen.sheets.layers_cut import MADE, SPOILED, layer_subject
from proofgen.told import season as season_report

ONE = Options(jobs=1)
DAY = date(2027, 6, 20)


def quiet(*_: int) -> None:
    pass


def codes(book: Path) -> list[str]:
    return [made.code for made in pipeline.proof(book, ONE, quiet).rows]


def report(book: Path, **asked: bool) -> tuple[Report, Any]:
    found = season(book, ONE, quiet, DAY, **asked)
    return found, json.loads(season_report.as_json(found))


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two orders are approved, one of them after a second picture; one waits, one stops."""
    folder = tmp_path_factory.mktemp("season")
    rows: list[dict[str, Any]] = [
        {"order": "A-1", "name": "Ida", "requested": "2027-05-04", "quoted": 20},
        {"order": "A-1", "name": "Bo", "design": "plaque", "quoted": 25, "quantity": 2},
        {"order": "A-2", "name": "Joseph", "requested": "2027-05-20", "quoted": 18},
        {"order": "A-3", "name": "=Otto", "requested": "2027-05-21", "quoted": 18},
        {"order": "A-4", "name": "", "quoted": 18},
    ]
    rows = [{"design": "boat", "year": 2027, "approved": "", "requested": ""} | r for r in rows]
    file = write_book(folder / "orders.xlsx", rows)
    codes(file)
    rows[2]["name"] = "Josephine"
    for row, code in zip(rows[:3], codes(write_book(file, rows)), strict=False):
        row["approved"] = code
    write_book(file, rows)
    daybook.note("collected", file, Options(orders=("A-1",), jobs=1), quiet, anyway=True)
    subject = layer_subject("A-2", str(rows[2]["approved"]), "boat")
    with archive(folder) as records:
        records.enter(
            Entry("2027-06-01T08:00:00+00:00", kind, subject, amount, why)
            for kind, amount, why in ((MADE, 5, ""), (SPOILED, 1, "=warped"))
        )
    return file


def test_what_was_sold_by_design_and_week(book: Path) -> None:
    _, told = report(book)
    assert (told["rows"], told["sold"]["orders"], told["sold"]["pieces"]) == (5, 2, 4)
    assert told["sold"]["income"] == "63.00"
    assert [(g["what"], g["orders"], g["pieces"], g["income"]) for g in told["designs"]] == [
        ("Harbour plaque", 1, 2, "25.00"),
        ("Regatta boat", 2, 2, "38.00"),
    ]
    weeks = [(week["what"], week["pieces"], week["income"]) for week in told["weeks"]]
    assert weeks == [
        ("2027-05-03", 3, "45.00"),
        ("2027-05-10", 0, "0"),
        ("2027-05-17", 1, "18.00"),
    ]
    for name in ("income", "cost", "profit"):
        assert sum(Decimal(g[name]) for g in told["designs"]) == Decimal(told["sold"][name])


def test_how_it_went(book: Path) -> None:
    _, told = report(book)
    assert told["verdicts"] == {"ready": 4, "look": 0, "stop": 1}
    assert told["found"]["name-missing"] == 1
    # Two pictures for the two pieces of A-1, two for the one of A-2.
    assert (told["pictures"], told["approvals"]) == (4, 3)
    assert told["proofs"] == {"1 picture": 1, "2 pictures": 1}
    assert told["losses"] == {"good": 4, "spoiled": 1, "reasons": {"=warped": 1}}


def test_days_from_requested_to_the_last_hand_over(tmp_path: Path) -> None:
    row = {"design": "boat", "requested": "2027-05-04", "approved": ""}
    rows = [
        row | {"order": f"B-{n}", "name": name} for n, name in ((1, "Ida"), (1, "Bo"), (2, "Al"))
    ]
    book = write_book(tmp_path / "orders.xlsx", rows)
    shown = codes(book)
    with archive(tmp_path) as records:
        # One of a last season's piece of that number, one before it was asked for.
        records.note(
            Event(f"2027-{at}T10:00:00+00:00", "collected", number, 1, code)
            for at, number, code in (
                ("05-12", "B-1", shown[0]),
                ("05-14", "B-1", shown[1]),
                ("07-30", "B-1", "AAAA-AAAA"),
                ("05-01", "B-2", shown[2]),
            )
        )
        every, _ = lines_of(book, ONE)
        items = list(judged(book, every, ONE, records, quiet, None))
        own = [events_of(i.made, i.approval, records.events("B-1")) for i in items[:2]]
        assert [[event.at[5:10] for event in events] for events in own] == [["05-12"], ["05-14"]]
    _, told = report(book)
    assert told["days"] == {"middle": 10, "orders": {"0 to 7 days": 0, "8 to 14 days": 1}}
    assert told["sold"]["pieces"] == 3


def test_an_order_is_handed_over_with_its_last_piece(tmp_path: Path) -> None:
    row = {"design": "boat", "requested": "2027-05-04", "order": "B-1", "approved": ""}
    rows = [row | {"name": name} for name in ("Ida", "Bo")]
    shown = codes(write_book(tmp_path / "orders.xlsx", rows))
    rows = [each | {"approved": code} for each, code in zip(rows, shown, strict=True)]
    book = write_book(tmp_path / "orders.xlsx", rows)

    def noted(kind: str, line: int, day: int) -> dict[str, Any]:
        at = f"2027-05-{day}T10:00:00+00:00"
        with archive(tmp_path) as records:
            records.note([Event(at, kind, "B-1", line, shown[line - 1])])
        return report(book)[1]["days"]

    assert noted("collected", 1, 12)["middle"] is None
    assert noted("collected", 2, 14)["middle"] == 10
    assert noted("redo", 1, 15)["middle"] is None
    assert noted("collected", 1, 19)["middle"] == 15


def test_the_measured_loss_is_reckoned_with(book: Path) -> None:
    assumed, own = report(book)[1], report(book, measured_loss=True)[1]
    assert Decimal(own["sold"]["cost"]) > Decimal(assumed["sold"]["cost"])
    assert own["sold"]["income"] == assumed["sold"]["income"]


def test_files_lie_beside_the_book_and_texts_stay_texts(book: Path) -> None:
    found, told = report(book)
    assert Path(told["page"]) == found.page == book.with_name("orders-season.html")
    sheet = openpyxl.load_workbook(found.workbook)["Rows"]
    assert (sheet["C5"].value, sheet["C5"].data_type) == ("=Otto", "s")
    losses = openpyxl.load_workbook(found.workbook)["Losses"]
    assert (losses["A2"].value, losses["A2"].data_type) == ("=warped", "s")
    text = season_report.as_text(found)
    assert "income: $63.00" in text
    assert "not timed" in text


def test_a_book_without_buyers_quotes_or_days(tmp_path: Path, capsys) -> None:
    book = write_book(tmp_path / "plain.xlsx", [{"order": 1, "name": "Ida", "design": "boat"}])
    assert main(["season", str(book), "--json", "--on", "2027-06-20"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["sold"] | {"what": ""} == {
        "what": "",
        "orders": 0,
        "pieces": 0,
        "reckoned": 0,
        "income": "0",
        "cost": "0",
        "profit": "0",
    }
    assert told["weeks"] == told["designs"] == []
    assert told["days"]["middle"] is None
    assert "Nothing yet." in Path(told["page"]).read_text(encoding="utf-8")
    assert main(["money", str(book), "--price-for-wage"]) == 0
    assert "1: row 2 has no price: fill in Quoted, or [catalogue.prices]" in capsys.readouterr().out


def test_a_file_of_ones_own_is_not_written_over(tmp_path: Path) -> None:
    book = write_book(tmp_path / "orders.xlsx", [{"order": 1, "name": "Ida", "design": "boat"}])
    page = tmp_path / "orders-season.html"
    page.write_text("mine", encoding="utf-8")
    with pytest.raises(UnusableError, match="is no season report of ours"):
        season(book, ONE, quiet, DAY)
    assert page.read_text(encoding="utf-8") == "mine"
    assert not (tmp_path / "orders-season.xlsx").exists()
