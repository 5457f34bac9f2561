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
