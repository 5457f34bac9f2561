"""A board that was begun stays of use, whatever becomes of the rows of its orders."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from test_sheets import approved

from proofgen.cli.program import main

ROWS: list[dict[str, object]] = [
    {"order": "K-1", "name": "Ada", "design": "boat", "quantity": 2},
    {"order": "K-2", "name": "Bo", "design": "boat"},
    {"order": "K-2", "name": "Cy", "design": "boat"},
]
Rows = list[dict[str, object]]


def renamed(rows: Rows) -> Rows:
    return [{**rows[0], "name": "Eve"}, *rows[1:]]


def fewer(rows: Rows) -> Rows:
    return [{**rows[0], "quantity": 1}, *rows[1:]]


def deleted(rows: Rows) -> Rows:
    return rows[1:]


def inserted(rows: Rows) -> Rows:
    return [rows[0], {**rows[1], "name": "Flo"}, *rows[1:]]


def counted(pieces: list[dict]) -> Counter[tuple[str, str]]:
    return Counter((each["order"], each["name"]) for each in pieces)


def trays(page: Path, board: str) -> list[str]:
    """What the job sheet says of each piece of a board; those that have a tray have their own."""
    text = page.read_text(encoding="utf-8")
    own = text.split(f'<section id="{board.lower()}"')[1].split("</section>")[0]
    rows = [re.findall(r"<td data-head=[^>]*>(.*?)</td>", row) for row in own.split("<tr")]
    found = [row[1] for row in rows if len(row) == 4]
    numbers = [each for each in found if each.isdigit()]
    assert len(set(numbers)) == len(numbers)
    return found


@pytest.mark.parametrize("edit", [renamed, fewer, deleted, inserted])
@pytest.mark.parametrize("late", [False, True])
def test_rows_may_change_while_a_board_is_begun(
    tmp_path: Path, told, edit: Callable[[Rows], Rows], late: bool
) -> None:
    book = approved(tmp_path, ROWS)
    (sheet,) = told("sheets", book)["sheets"]
    call = ["resume", str(book), sheet["id"], "--done", "1"]
    rows = edit(ROWS)
    if late:
        assert main(call) == 0
        approved(tmp_path, rows)
    else:
        approved(tmp_path, rows)
        assert main(call) == 0
    wanted = Counter(
        {(str(row["order"]), str(row["name"])): row.get("quantity", 1) for row in rows}
    )
    wanted -= counted(sheet["layers"][:1])
    lying = counted(sheet["layers"][1:])
    page = tmp_path / "sheets" / "jobs.html"
    (rest,) = (file.stem for file in (tmp_path / "sheets").glob("S-*.svg"))
    if not late:
        # Already on the job sheet that `resume` wrote.
        assert trays(page, rest).count("asked for no more") == (lying - wanted).total()
    found = {each["id"]: each["layers"] for each in told("sheets", book)["sheets"]}
    begun = found.pop(rest)
    assert counted(begun) == lying
    assert counted([each for each in begun if each["asked"]]) == lying & wanted
    assert counted([each for layers in found.values() for each in layers]) == wanted - lying
    said = trays(page, rest)
    assert [each.isdigit() for each in said] == [each["asked"] for each in begun]
    assert {each for each in said if not each.isdigit()} <= {"asked for no more"}
    # More than is asked for is only noted if that is meant.
    assert main(["made", str(book), "--anyway", rest, *found]) == 0
    assert {line["step"] for line in told("status", book)["lines"]} == {"made"}


@pytest.mark.parametrize("late", [False, True])
def test_a_begun_board_on_which_nothing_is_asked_for_is_left_aside(
    tmp_path: Path, told, capsys: pytest.CaptureFixture[str], late: bool
) -> None:
    rows = [{**ROWS[0], "quantity": 3}]
    book, folder = approved(tmp_path, rows), tmp_path / "sheets"
    (sheet,) = told("sheets", book)["sheets"]
    call = ["resume", str(book), sheet["id"], "--done", "1"]
    if late:
        assert main(call) == 0
    approved(tmp_path, fewer(rows))
    if not late:
        assert main(call) == 0
    found = told("sheets", book) if late else {"sheets": [], "aside": [capsys.readouterr().out]}
    assert found["sheets"] == []
    (said,) = found["aside"]
    assert "S-0002, a board that was begun, is left aside: nobody asks for" in said
    assert "stock --gone S-0002" in said
    assert not list(folder.glob("S-0002*"))
    # It is known still, and comes back with those who ask for it.
    approved(tmp_path, rows)
    assert [each["id"] for each in told("sheets", book)["sheets"]] == ["S-0002"]
    approved(tmp_path, fewer(rows))
    capsys.readouterr()
    assert main(["made", str(book), "S-0002"]) == 2
    said = capsys.readouterr().err
    assert "S-0002: of K-1 Ada, boat, 1 is noted as cut already" in said
    assert "the book asks for 1; if this one was cut too, add --anyway" in said
    assert main(["made", str(book), "S-0002", "--anyway"]) == 0
    assert "2 more than asked for: K-1 Ada, boat" in capsys.readouterr().out


def test_a_board_that_failed_is_known_by_what_is_left_of_it(
    tmp_path: Path, told, capsys: pytest.CaptureFixture[str]
) -> None:
    book = approved(tmp_path, ROWS)
    (first,) = (sheet["id"] for sheet in told("sheets", book)["sheets"])
    sheets = [first]
    for _ in range(2):
        assert main(["resume", str(book), sheets[-1], "--done", "1"]) == 0
        sheets += (file.stem for file in (tmp_path / "sheets").glob("S-*.svg"))
        for old in sheets[:-1]:
            for call in (["made"], ["resume", "--done", "1"]):
                capsys.readouterr()
                assert main([call[0], str(book), old, *call[1:]]) == 2
                assert f"the rest of the board is {sheets[-1]} now" in capsys.readouterr().err
    assert main(["made", str(book), sheets[-1]]) == 0
    capsys.readouterr()
    for old in sheets:
        assert main(["made", str(book), old]) == 2
    assert capsys.readouterr().err.count("is noted as made already; lay anew") == 3
