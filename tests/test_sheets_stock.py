"""Layers that are cut ahead: counted in the book, pulled, and cut to last."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from test_sheets import ROWS, approved, layers

from proofgen.cli.program import main
from proofgen.records.record import Entry
from proofgen.sheets.shelf import Shelf
from proofgen.sheets.stock import COUNTED, CUT, PULLED, advice, in_stock
from proofgen.told.stock import size_of

HEADER = ("Date", "Design", "Layer", "Finish", "Hanger", "Count")
DAY = "2025-05-01"


def count(book: Path, *rows: Iterable[object]) -> None:
    """The rows alone on the book's stock sheet."""
    whole = openpyxl.load_workbook(book)
    if "Stock" in whole:
        del whole["Stock"]
    sheet = whole.create_sheet("Stock")
    for row in (HEADER, *rows):
        sheet.append(list(row))
    whole.save(book)


def listed(told, book: Path) -> dict[str, int]:
    return {each["layer"]: each["count"] for each in told("stock", book)["layers"]}


def test_each_combination_that_is_asked_for_is_counted_apart(tmp_path: Path, told) -> None:
    chosen = (
        {}, {}, {"finish": "burgundy"}, {"hanger": "cord"}, {"finish": "natural"},
        {"finish": "weathered"},
    )  # fmt: skip
    rows = [
        {"finish": None, "hanger": None, **ROWS[1], "order": f"K-{i}", "name": "Bo", **each}
        for i, each in enumerate(chosen)
    ]
    book = approved(tmp_path, rows)
    count(
        book,
        (DAY, "lantern", "front", "", "", 1),
        (DAY, "lantern", "front", "Burgundy stain", "", 1),
        (DAY, "lantern", "front", "walnut", "cord", 1),
        (DAY, "lantern", "front", "natural", "", 5),
    )
    found = told("sheets", book)
    pulls = {each["layer"]: each["count"] for each in found["pull"]}
    # Bare wood serves a finish that goes on after engraving too; the second walnut one is cut.
    front = "Harbour lantern, front 2027"
    assert pulls == {
        f"{front}, walnut stain": 1,
        f"{front}, burgundy stain": 1,
        f"{front}, cord, 2 mm, walnut stain": 1,
        front: 2,
    }
    cut = [order for order, layer, _ in layers(found) if layer == "front"]
    assert cut == ["K-1"]
    advised = {each["layer"]: (each["ordered"], each["stock"]) for each in found["ahead"]}
    assert advised == {
        f"{front}, walnut stain": (2, 0),
        f"{front}, burgundy stain": (1, 0),
        f"{front}, cord, 2 mm, walnut stain": (1, 0),
        front: (2, 3),
    }
    assert main(["made", str(book), *(each["id"] for each in found["sheets"])]) == 0
    assert listed(told, book)[front] == 3


def test_layers_of_the_stock_are_pulled_and_counted(tmp_path: Path, told) -> None:
    rows = [
        {**ROWS[1], "finish": "natural", "order": f"K-{i}", "name": name}
        for i, name in enumerate(("Bo", "Di", "Ed"))
    ]
    book = approved(tmp_path, rows)
    whole = openpyxl.load_workbook(book)
    sheet = whole.create_sheet("Stock")
    for row in (
        ("Date", "Design", "Layer", "Finish", "Count"),
        ("2025-05-01", "Harbour lantern", "front", "Natural", 2),
    ):
        sheet.append(row)
    whole.save(book)
    found = told("sheets", book)
    (pull,) = found["pull"]
    assert (pull["layer"].startswith("Harbour lantern, front"), pull["count"]) == (True, 2)
    assert [layer for _, layer, _ in layers(found)].count("front") == 1
    for each in found["sheets"]:
        assert main(["made", str(book), each["id"]]) == 0
    assert [each["count"] for each in told("stock", book)["layers"]] == [0]
    assert {each["step"] for each in told("status", book)["lines"]} == {"made"}
    sheet.append((date.today().isoformat(), "lantern", "FRONT", "natural", 7))
    whole.save(book)
    assert [each["count"] for each in told("stock", book)["layers"]] == [7]
    assert [each["count"] for each in told("stock", book)["layers"]] == [7]


def test_more_is_cut_ahead_as_advised_and_goes_into_stock(tmp_path: Path, told) -> None:
    book = approved(tmp_path, [{**ROWS[1], "finish": "natural"}])
    (advice,) = told("sheets", book)["ahead"]
    assert (advice["ordered"], advice["stock"], advice["cut"], advice["dated"]) == (1, 0, 1, True)
    assert main(["made", str(book), "S-0001"]) == 0
    # No order waits any more, and the advice stands.
    assert told("sheets", book)["ahead"][0]["cut"] == 1
    found = told("sheets", book, "--ahead")
    assert [(each["stock"], each["layer"]) for s in found["sheets"] for each in s["layers"]] == [
        (True, "front")
    ]
    (advice,) = found["ahead"]
    assert (advice["stock"], advice["coming"], advice["cut"]) == (0, 1, 0)
    # What a board holds that was begun and failed is not advised again.
    (sheet,) = found["sheets"]
    assert main(["resume", str(book), sheet["id"], "--done", "0"]) == 0
    again = told("sheets", book, "--ahead")
    (advice,) = again["ahead"]
    assert (advice["coming"], advice["cut"], len(again["sheets"])) == (1, 0, 1)
    assert main(["made", str(book), again["sheets"][0]["id"]]) == 0
    assert [each["count"] for each in told("stock", book)["layers"]] == [1]


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (("2025-05-01", "yacht", "back", 2), "row 2, Design: there is no 'yacht'"),
        (("2025-05-01", "lantern", "lid", 2), "row 2, Layer: there is no 'lid'"),
        (("soon", "lantern", "back", 2), "row 2, Date"),
        (("2025-05-01", "lantern", "back", "a few"), "row 2, Count"),
    ],
)
def test_a_count_that_cannot_be_read_is_named(tmp_path: Path, row, says: str, capsys) -> None:
    book = approved(tmp_path, ROWS[:1])
    whole = openpyxl.load_workbook(book)
    sheet = whole.create_sheet("Stock")
    for each in (("Date", "Design", "Layer", "Count"), row):
        sheet.append(each)
    whole.save(book)
    assert main(["sheets", str(book)]) == 2
    assert says in capsys.readouterr().err
    assert not (tmp_path / "sheets").exists()


@pytest.mark.parametrize(
    ("layer", "finish", "says"),
    [
        (("wavename", "back"), "", "row 2, Layer: back is made for each buyer's name"),
        (("remembrance", "back"), "", "row 2, Layer: back is made for each order's number"),
        (("lantern", "back"), "", "is made for each buyer's name, so it cannot be cut ahead"),
        (("lantern", "front"), "gold", "row 2, Finish: front is not made in 'gold'; there is"),
    ],
)
def test_a_count_that_can_never_be_used_is_refused(
    tmp_path: Path, layer, finish: str, says: str, capsys
) -> None:
    book = approved(tmp_path, ROWS[:1])
    count(book, (DAY, *layer, finish, "", 2))
    assert main(["stock", str(book)]) == 2
    assert says in capsys.readouterr().err


def test_a_day_that_is_yet_to_come_is_refused(tmp_path: Path, capsys) -> None:
    book = approved(tmp_path, ROWS[:1])
    count(book, ("2099-01-01", "lantern", "front", "", "", 2))
    assert main(["stock", str(book)]) == 2
    assert "row 2, Date: 2099-01-01 is yet to come" in capsys.readouterr().err
    assert main(["stock", str(book), "--on", "2099-01-01"]) == 0


def test_a_count_that_is_corrected_to_an_earlier_day_is_said_to_be_none(
    tmp_path: Path, told, capsys
) -> None:
    book = approved(tmp_path, ROWS[:1])
    count(book, (DAY, "lantern", "front", "", "", 5))
    assert told("stock", book)["not_taken"] == []
    count(book, ("2025-04-30", "lantern", "front", "", "", 4))
    capsys.readouterr()
    assert main(["stock", str(book)]) == 0
    said = capsys.readouterr().out
    assert (
        f"row 2: 4 of 2025-04-30 is not taken, as a later count is in the records (5 of {DAY}"
        in said
    )
    assert list(listed(told, book).values()) == [5]
    assert (
        told("sheets", book)["aside"] == told("stock", book)["not_taken"] == [said.splitlines()[0]]
    )
    # A count of the same day is the last word.
    count(book, (DAY, "lantern", "front", "", "", 4))
    assert told("stock", book)["not_taken"] == []
    assert list(listed(told, book).values()) == [4]


@pytest.mark.parametrize(
    ("ordered", "weeks", "stock", "cut"),
    [(9, 3, 1, 2), (10, 3, 1, 3), (3, 7, 0, 0), (2, 0.3, 5, 0)],
)
def test_a_weeks_orders_are_advised(ordered: int, weeks: float, stock: int, cut: int) -> None:
    assert advice(Shelf("x", "x", True), ordered, weeks, stock).cut == cut


@pytest.mark.parametrize(
    ("entries", "left"),
    [
        # Corrected, and corrected back.
        ([("count", "05-10", 5), ("count", "05-10", 6), ("count", "05-10", 5)], 5),
        # An older count that is entered later says nothing.
        ([("count", "05-10", 5), ("count", "05-01", 9)], 5),
        # Monday's count, typed on Wednesday; on Tuesday two were pulled and one was cut.
        ([("pull", "05-11", 2), ("cut", "05-11", 1), ("count", "05-10", 5)], 4),
        # What was pulled before the day of the count, or before it on that day, is not there now.
        ([("pull", "05-09", 2), ("pull", "05-10", 2), ("count", "05-10", 5)], 5),
        ([("count", "05-10", 5), ("pull", "05-10", 2), ("pull", "05-12", 9)], 0),
    ],
)
def test_the_date_of_a_count_decides(entries: list[tuple[str, str, int]], left: int) -> None:
    def entry(what: str, day: str, amount: int) -> Entry:
        day = f"2027-{day}"
        if what == "count":
            return Entry("2027-05-13T08:00:00+00:00", COUNTED, "x", amount, day)
        return Entry(f"{day}T12:00:00+00:00", CUT if what == "cut" else PULLED, "x", amount)

    assert in_stock(entry(*each) for each in entries) == Counter(x=left)


def test_a_size_is_told_to_the_hundredth() -> None:
    assert size_of(88.0088, 110.0) == "88.01 \N{MULTIPLICATION SIGN} 110 mm"
    assert size_of(1234.56, 304.8) == "1234.56 \N{MULTIPLICATION SIGN} 304.8 mm"
