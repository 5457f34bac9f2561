"""What is counted at the bench: pieces that are alike, more than was asked for, names."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from test_sheets import approved, layers

from proofgen.cli.program import main

IDA = {"order": "B-1", "name": "Ida", "design": "boat"}


def laid(told, book: Path, *asked: object) -> list[str]:
    """The ids of the sheets of a run."""
    return [each["id"] for each in told("sheets", book, *asked)["sheets"]]


def steps(told, book: Path) -> list[str]:
    return [line["step"] for line in told("status", book)["lines"]]


def said(capsys: pytest.CaptureFixture[str], *call: object) -> str:
    capsys.readouterr()
    assert main([*map(str, call)]) == 0
    return capsys.readouterr().out.strip()


def test_rows_that_are_alike_are_made_by_their_sheets(tmp_path: Path, told) -> None:
    book = approved(tmp_path, [IDA, IDA])
    assert main(["made", str(book), *laid(told, book)]) == 0
    assert steps(told, book) == ["made", "made"]
    assert told("sheets", book)["sheets"] == []


@pytest.mark.parametrize("line", [1, 2])
def test_one_of_the_rows_that_are_alike_is_made_alone(
    tmp_path: Path, told, capsys, line: int
) -> None:
    book = approved(tmp_path, [IDA, IDA])
    assert said(capsys, "made", book, "B-1", "--line", line) == "1 layer noted; made: B-1 Ida"
    assert sorted(steps(told, book)) == ["approved", "made"]
    assert layers(told("sheets", book)) == [("B-1", "boat", 1)]
    assert main(["packed", str(book), "B-1", "--line", "1"]) == 0
    assert sorted(steps(told, book)) == ["approved", "packed"]
    assert main(["made", str(book), "B-1"]) == 0
    assert sorted(steps(told, book)) == ["made", "packed"]
    assert main(["packed", str(book), "B-1"]) == 0
    assert steps(told, book) == ["packed", "packed"]


def test_one_of_the_rows_that_are_alike_is_spoiled(tmp_path: Path, told) -> None:
    book = approved(tmp_path, [IDA, IDA, {**IDA, "name": "Bo"}])
    assert main(["made", str(book), "B-1"]) == 0
    assert main(["packed", str(book), "B-1", "--line", "1"]) == 0
    assert main(["redo", str(book), "B-1", "--line", "2", "--why", "a knot"]) == 0
    assert steps(told, book) == ["packed", "approved", "made"]
    (sheet,) = told("sheets", book)["sheets"]
    assert layers({"sheets": [sheet]}) == [("B-1", "boat", 1)]
    assert main(["made", str(book), sheet["id"]]) == 0
    assert steps(told, book) == ["packed", "made", "made"]


def test_what_lies_ready_serves_one_of_the_rows_that_are_alike(tmp_path: Path, told) -> None:
    from test_sheets_stock import DAY, count, listed

    rows = [{"order": "B-1", "name": "Ida", "design": "lantern", "finish": "natural"}] * 2
    book = approved(tmp_path, rows)
    count(book, (DAY, "lantern", "front", "natural", "", 1))
    found = told("sheets", book)
    assert [each["count"] for each in found["pull"]] == [1]
    assert main(["made", str(book), *(each["id"] for each in found["sheets"])]) == 0
    assert steps(told, book) == ["made", "made"]
    assert list(listed(told, book).values()) == [0]
    assert told("sheets", book)["sheets"] == []


@pytest.mark.parametrize("anyway", [False, True])
def test_a_layer_that_was_cut_twice_is_cut_again_once_it_is_spoiled(
    tmp_path: Path, told, capsys, anyway: bool
) -> None:
    book = approved(tmp_path, [{**IDA, "design": "lantern", "quantity": 2}])
    ids = laid(told, book)
    if anyway:
        assert main(["made", str(book), "B-1"]) == 0
        assert main(["made", str(book), *ids, "--anyway"]) == 0
    else:
        assert main(["made", str(book), *ids]) == 0
        assert main(["made", str(book), *laid(told, book, "--again")]) == 0
    redo = ("redo", book, "B-1", "--layer", "back", "--why", "x")
    assert "1 layer of order B-1 Ida to be cut again" in said(capsys, *redo)
    assert [line["made"] for line in told("status", book)["lines"]] == [1]
    found = told("sheets", book)
    assert layers(found) == [("B-1", "back", 2)]
    assert main(["made", str(book), *laid(told, book)]) == 0
    assert steps(told, book) == ["made"]
    # What was spoiled is counted as that alone.
    assert told("money", book)["loss"]["spoiled"] == 1


@pytest.mark.parametrize("by_sheet", [False, True])
def test_a_piece_is_named_as_it_was_cut(tmp_path: Path, told, capsys, by_sheet: bool) -> None:
    book = approved(tmp_path, [{**IDA, "name": "Theo"}])
    (sheet,) = laid(told, book)
    whole = openpyxl.load_workbook(book)
    (cell,) = (each for row in whole.worksheets[0] for each in row if each.value == "Theo")
    cell.value = "Thea"
    whole.save(book)
    named = [sheet] if by_sheet else ["B-1", "--anyway"]
    done = said(capsys, "made", book, *named).splitlines()
    assert done[0] == "1 layer noted; made: B-1 Theo"
    assert done[1].startswith("B-1 Theo is made, and its row stops now: row 2, name")
    assert "with name 'Theo'; now it is 'Thea'" in done[1]
    assert "B-1 Thea is made, and its row stops now: row 2" in said(capsys, "status", book)
    assert "now it is 'Thea'" in told("status", book)["lines"][0]["stopped_by"]
    cell.value = "Theo"
    whole.save(book)
    assert said(capsys, "made", book, "B-1") == "0 layers noted; made already: B-1 Theo"
    assert told("status", book)["lines"][0]["stopped_by"] is None


@pytest.mark.parametrize("failed", [False, True])
def test_what_is_cut_and_has_no_row_is_named_and_complete_once_it_has(
    tmp_path: Path, told, capsys, failed: bool
) -> None:
    book = approved(tmp_path, [IDA, {**IDA, "order": "B-2", "name": "Bo"}])
    rows = book.read_bytes()
    (sheet,) = laid(told, book)
    whole = openpyxl.load_workbook(book)
    whole.worksheets[0].delete_rows(2)
    whole.save(book)
    named = ("resume", book, sheet, "--done", 2) if failed else ("made", book, sheet)
    assert said(capsys, *named).splitlines()[-2:] == [
        "2 layers noted; made: B-2 Bo",
        "B-1 Ida is cut, and no row of the book asks for that piece: once one does, note it with "
        "made B-1",
    ]
    book.write_bytes(rows)
    assert said(capsys, "made", book, "B-1") == "0 layers noted; made: B-1 Ida"
    assert steps(told, book) == ["made", "made"]
