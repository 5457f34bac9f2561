"""What is noted at the bench by piece: made, spoiled, packed; an order is more than one thing."""

from __future__ import annotations

import re
from pathlib import Path

import openpyxl
import pytest
from test_sheets import approved, layers

from proofgen.cli.program import main

ROWS = [
    {"order": "K-1", "name": "Ada", "design": "boat"},
    {"order": "K-1", "name": "Bo", "design": "lantern"},
    {"order": "K-2", "name": "Cyrus", "design": "medallion", "quantity": 3},
]


@pytest.fixture
def said(capsys: pytest.CaptureFixture[str]):
    def say(*arguments: object, code: int = 0) -> str:
        capsys.readouterr()
        assert main([*map(str, arguments)]) == code
        out, err = capsys.readouterr()
        return (err if code else out).strip().splitlines()[-1]

    return say


def steps(told: dict) -> dict[str, tuple[str, int]]:
    return {e["order"] + str(e["line"]): (e["step"], e["made"]) for e in told["lines"]}


def test_pieces_of_an_order_are_made_and_spoiled_one_by_one(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, ROWS)
    assert "--line 1 for Ada, --line 2 for Bo" in said("made", book, "K-1", "--count", 1, code=2)
    assert said("made", book, "K-1", "--line", 2) == "2 layers noted; made: K-1 Bo"
    assert said("made", book, "K-2", "--count", 2) == "2 layers noted; K-2 Cyrus: 2 of 3 made"
    found = steps(told("status", book))
    assert found == {"K-11": ("approved", 0), "K-12": ("made", 0), "K-21": ("approved", 2)}
    # Only what is not there yet is laid.
    assert layers(told("sheets", book)) == [("K-1", "boat", 1), ("K-2", "medallion", 3)]
    assert "2 of 3 are made" in said("made", book, "K-2", "--count", 2, code=2)
    assert "holds what is cut by now (K-2 Cyrus, medallion (3))" in said("made", book, "K-2")
    assert said("made", book, "K-2") == "0 layers noted; made already: K-2 Cyrus"

    again = ("redo", book, "K-2", "--why", "a knot")
    assert "only 3 of that are noted" in said(*again, "--count", 4, code=2)
    queued = "2 layers of order K-2 Cyrus to be cut again: 2 of medallion"
    assert said(*again, "--count", 2) == queued
    assert steps(told("status", book))["K-21"] == ("approved", 1)
    assert layers(told("sheets", book))[1:] == [("K-2", "medallion", 2), ("K-2", "medallion", 3)]
    told_layers = ("redo", book, "K-1", "--line", 2, "--why", "burnt", "--layer", "FRONT")
    assert said(*told_layers) == "1 layer of order K-1 Bo to be cut again: front"
    both = ("redo", book, "K-1", "--line", 2, "--why", "x", "--layer", "front", "--layer", "back")
    assert "only 0 of that are noted" in said(*both, code=2)
    # Of the five layers that were cut, by hand: three are lost, for two reasons.
    lost = told("season", book)["losses"]
    assert lost == {"good": 2, "spoiled": 3, "reasons": {"a knot": 2, "burnt": 1}}


def test_a_line_of_an_order_is_packed_and_handed_over_alone(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, ROWS[:2])
    said("made", book, "K-1")
    assert said("packed", book, "K-1", "--line", 2) == "1 line packed: K-1 Bo"
    assert "there is --line 1 for Ada" in said("packed", book, "K-1", "--line", 3, code=2)
    said("collected", book, "K-1", "--line", 2)
    found = steps(told("status", book))
    assert found == {"K-11": ("made", 0), "K-12": ("collected", 0)}


def with_cell(book: Path, title: str, text: object, row: int = 2) -> None:
    """Type something into a row of the book."""
    workbook = openpyxl.load_workbook(book)
    sheet = workbook.worksheets[0]
    column = [f"{cell.value}".casefold() for cell in sheet[1]].index(title) + 1
    sheet.cell(row, column, text)
    workbook.save(book)


def test_more_copies_than_were_made_are_made_and_packed_again(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, ROWS[2:])
    said("made", book, "K-2")
    said("packed", book, "K-2")
    with_cell(book, "quantity", 5)
    assert steps(told("status", book)) == {"K-21": ("approved", 3)}
    assert layers(told("sheets", book)) == [("K-2", "medallion", 4), ("K-2", "medallion", 5)]
    assert "only 3 of 5 are noted as made" in said("packed", book, "K-2", code=2)
    assert "by now (K-2 Cyrus, medallion (5))" in said("made", book, "K-2", "--count", 1)
    assert "by now (K-2 Cyrus, medallion (4); K-2 Cyrus, medallion (5))" in said(
        "made", book, "K-2"
    )
    assert steps(told("status", book)) == {"K-21": ("made", 0)}
    said("packed", book, "K-2")
    # Fewer than are there are there.
    with_cell(book, "quantity", 4)
    assert steps(told("status", book)) == {"K-21": ("packed", 0)}
    assert told("sheets", book)["sheets"] == []


def test_copies_packed_without_a_word_of_the_bench_are_not_laid(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, ROWS[2:])
    said("packed", book, "K-2", "--anyway")
    assert told("sheets", book)["sheets"] == []
    with_cell(book, "quantity", 4)
    assert layers(told("sheets", book)) == [("K-2", "medallion", 4)]


def test_what_asks_for_something_else_now_is_not_packed(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, ROWS[2:])
    said("made", book, "K-2")
    with_cell(book, "name", "Cyril")
    refused = said("packed", book, "K-2", code=2)
    assert "'Cyrus'" in refused and "'Cyril'" in refused and "Nothing was noted" in refused
    assert steps(told("status", book)) == {"K-21": ("made", 0)}
    assert said("packed", book, "K-2", "--anyway") == "1 line packed: K-2 Cyril"


def test_an_order_called_like_a_sheet_can_be_named(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, [{**ROWS[0], "order": "S-0001"}, {**ROWS[0], "order": "K-9"}])
    (sheet,) = told("sheets", book)["sheets"]
    assert sheet["id"] == "S-0001" and len(sheet["layers"]) == 2
    assert "by now (S-0001 Ada, boat)" in said("made", book, "--order", "S-0001")
    assert steps(told("status", book))["K-91"] == ("approved", 0)
    assert "is noted as cut already" in said("made", book, "S-0001", code=2)
    (left,) = told("sheets", book)["sheets"]
    assert said("made", book, left["id"]) == "1 layer noted; made: K-9 Ada"


def test_one_more_has_room_once_some_copies_are_made(tmp_path: Path, told, said, capsys) -> None:
    rows = [{**ROWS[2], "due": "2027-06-20"}]
    book = approved(tmp_path, rows)
    days = ("--on", "2027-06-01", "--by", "2027-06-20")
    assert told("status", book, *days)["room"]["before"] == 3
    said("made", book, "K-2", "--count", 2)
    assert told("status", book, *days)["room"]["before"] == 1
    assert main(["status", str(book), "--on", "2027-06-01"]) == 0
    assert "approved: K-2 Cyrus (2 of 3 made)\n" in capsys.readouterr().out


def test_two_boards_of_one_piece_are_made_in_any_order(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, [{**ROWS[2], "quantity": 8}])
    sheets = told("sheets", book)["sheets"]
    assert len(sheets) > 1
    for sheet in reversed(sheets):
        told_made = said("made", book, sheet["id"])
    assert told_made.endswith("made: K-2 Cyrus")


def test_the_job_sheet_follows_a_sheet_that_failed(tmp_path: Path, told, said, capsys) -> None:
    rows = [{**ROWS[1], "order": f"L-{i}", "name": n} for i, n in enumerate(("Bo", "Di", "Ed"))]
    book = approved(tmp_path, rows)
    options = ("--format", "svg", "--format", "dxf")
    sheets = told("sheets", book, *options)["sheets"]
    sheet = max(sheets, key=lambda sheet: len(sheet["layers"]))
    first, second, *rest = ((e["order"], e["layer"]) for e in sheet["layers"])
    assert rest
    assert "Say --why" in said("resume", book, sheet["id"], "--done", 1, "--lost", 2, code=2)
    call = ("resume", book, sheet["id"], "--done", 1, "--lost", 2, "--why", "flame")
    capsys.readouterr()
    assert main([*map(str, call)]) == 0
    assert f"again, on the next sheets: {second[0]} " in capsys.readouterr().out
    folder = tmp_path / "sheets"
    names = {path.name for path in folder.glob("S-*")}
    left = max(names)[: len("S-0000")]
    others = {each["id"] for each in sheets} - {sheet["id"]}
    # As it was written before; the sheet that was begun is out of the way.
    assert names == {f"{id_}.{kind}" for id_ in {*others, left} for kind in ("svg", "dxf")}
    page = (folder / "jobs.html").read_text(encoding="utf-8")
    boards = set(re.findall(r'<section id="(s-\d{4})"', page))
    assert boards == {each.lower() for each in {*others, left}}
    own = page.split(f'<section id="{left.lower()}"')[1].split("</section>")[0]
    cells = [re.findall(r"<td data-head=[^>]*>(.*?)</td>", row) for row in own.split("<tr")]
    assert [row[0] for row in cells if len(row) == 4] == [str(i + 1) for i in range(len(rest))]
    numbered = {(row[2].split()[0], row[3]) for row in cells if len(row) == 4}
    assert numbered == set(rest)
    trays = page.split('<section id="day"')[1].split("</section>")[0]
    assert f"{first[1]} cut before" in trays
    assert f"{second[1]} not cut yet: on the next boards" in trays
    # A tray that lacks a layer is neither glued nor packed.
    packed = page.split('-h">Pack<')[1].split("</section>")[0]
    assert second[0] not in packed
    assert all(number in packed for number in {f"L-{i}" for i in range(3)} - {second[0]})

    # The next run has the rest and what was lost, and the rest stays where it is.
    again = told("sheets", book, *options)["sheets"]
    assert {each["id"] for each in again} > {left}
    assert (folder / f"{left}.svg").exists()
    assert sorted(rest) == sorted(
        (e["order"], e["layer"]) for s in again if s["id"] == left for e in s["layers"]
    )
    assert layers({"sheets": again}).count((*second, 1)) == 1


def test_of_copies_alike_none_is_laid_beside_the_rest(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, [{**ROWS[2], "quantity": 2}])
    (sheet,) = told("sheets", book)["sheets"]
    said("resume", book, sheet["id"], "--done", 1)
    (rest,) = told("sheets", book)["sheets"]
    assert len(rest["layers"]) == 1
    assert said("made", book, rest["id"]) == "1 layer noted; made: K-2 Cyrus"
    # Nothing is left to do at the bench.
    assert told("sheets", book)["sheets"] == []
    assert not list((tmp_path / "sheets").glob("S-*"))


def test_a_board_that_was_laid_anew_is_set_aside_once_the_old_one_is_cut(
    tmp_path: Path, told, capsys
) -> None:
    rows = [{**ROWS[0], "order": f"L-{i}", "name": n} for i, n in enumerate(("Bo", "Di"))]
    book = approved(tmp_path, rows)
    (old,) = told("sheets", book)["sheets"]
    approved(tmp_path, [*rows, {**ROWS[0], "order": "L-9", "name": "Ed"}])
    (new,) = told("sheets", book)["sheets"]
    assert len(new["layers"]) == 3
    # The old one lay in the machine already, and failed.
    assert main(["resume", str(book), old["id"], "--done", "1"]) == 0
    assert f"{new['id']} is out of date and was moved away" in capsys.readouterr().out
    (rest,) = (path.stem for path in (tmp_path / "sheets").glob("S-*.svg"))
    page = (tmp_path / "sheets" / "jobs.html").read_text(encoding="utf-8")
    assert set(re.findall(r'<section id="(s-\d{4})"', page)) == {rest.lower()}
    again = {s["id"]: [e["order"] for e in s["layers"]] for s in told("sheets", book)["sheets"]}
    assert sorted([*again.pop(rest), old["layers"][0]["order"]]) == ["L-0", "L-1"]
    assert list(again.values()) == [["L-9"]]


DEDICATED = [
    {**ROWS[0], "order": f"L-{i}", "name": name, "dedication": "To the best of crews"}
    for i, name in enumerate(("Bo", "Di", "Ed"))
]


def operations(file: Path) -> set[str]:
    return set(re.findall(r'data-operation="([a-z-]+)"', file.read_text(encoding="utf-8")))


def board_text(folder: Path) -> str:
    page = (folder / "sheets" / "jobs.html").read_text(encoding="utf-8")
    return page.split('<section id="s-')[1].split("</section>")[0]


@pytest.mark.parametrize("manner", ["piece", "operation"])
def test_what_is_engraved_before_the_first_cut_is_engraved_once(
    tmp_path: Path, told, said, manner: str
) -> None:
    book = approved(tmp_path, DEDICATED)
    folder = tmp_path / "sheets"
    (sheet,) = told("sheets", book, "--manner", manner)["sheets"]
    assert operations(folder / f"{sheet['id']}-back.svg") == {"engrave-area"}
    # Nothing came free: how far it was engraved is not known.
    said("resume", book, sheet["id"], "--done", 0)
    assert {path.name for path in folder.glob("S-*")} == {"S-0002.svg", "S-0002-back.svg"}
    assert "unless that was done before the board failed" in board_text(tmp_path)
    said("resume", book, "S-0002", "--done", 1)
    for _ in range(2):
        assert [path.name for path in folder.glob("S-*")] == ["S-0003.svg"]
        engraved = {each for each in operations(folder / "S-0003.svg") if "engrave" in each}
        assert bool(engraved) == (manner == "piece")
        assert "Engrave the back first" not in board_text(tmp_path)
        assert "is done: it is not in the files" in board_text(tmp_path)
        # As little when the day is laid anew, in another manner too.
        told("sheets", book)


def test_files_apart_are_engraved_before_anything_is_cut(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, DEDICATED)
    (sheet,) = told("sheets", book, "--apart")["sheets"]
    said("resume", book, sheet["id"], "--done", 0, "--engraved")
    files = {path.name: operations(path) for path in (tmp_path / "sheets").glob("S-*.svg")}
    assert files.keys() == {"S-0002-cut.svg"}
    assert "cut-outside" in files["S-0002-cut.svg"]


def test_what_is_laid_again_on_purpose_is_made_and_resumed(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, ROWS[2:])
    (first,) = told("sheets", book)["sheets"]
    said("made", book, first["id"])
    (again,) = told("sheets", book, "--again")["sheets"]
    assert again["id"] != first["id"]
    said("resume", book, again["id"], "--done", 1)
    (rest,) = {path.stem for path in (tmp_path / "sheets").glob("S-*.svg")}
    assert said("made", book, rest) == "2 more than asked for: K-2 Cyrus, medallion"


def test_a_board_of_what_is_cut_already_is_resumed_only_if_that_is_meant(
    tmp_path: Path, told, said
) -> None:
    book = approved(tmp_path, ROWS[2:])
    (sheet,) = told("sheets", book)["sheets"]
    said("made", book, "K-2")
    call = ("resume", book, sheet["id"], "--done", 1)
    assert "with another sheet" in said(*call, code=2)
    assert said(*call, "--anyway") == "1 layer noted"


def session(folder: Path, title: str) -> list[tuple[str, str, str]]:
    """The lines of a session of the job sheet: tray, whose it is, what to do."""
    page = (folder / "sheets" / "jobs.html").read_text(encoding="utf-8")
    if f'-h">{title}<' not in page:
        return []
    own = page.split(f'-h">{title}<')[1].split("</section>")[0]
    rows = (re.findall(r"<td data-head=[^>]*>(.*?)</td>", row) for row in own.split("<tr"))
    return [(row[0], row[1], row[2]) for row in rows if row]


def test_what_is_cut_stays_on_the_job_sheet_and_in_its_tray_until_it_is_packed(
    tmp_path: Path, told, said
) -> None:
    rows = [{**ROWS[1], "order": f"L-{i}", "name": n} for i, n in enumerate(("Bo", "Di"))]
    book = approved(tmp_path, rows)
    for sheet in told("sheets", book)["sheets"]:
        said("made", book, sheet["id"])
    first = session(tmp_path, "Glue")
    assert [row[:2] for row in first] == [("1", "L-0 Bo"), ("2", "L-1 Di")]

    # The next day: one is packed, a new order comes before the other.
    said("packed", book, "L-0")
    book = approved(tmp_path, [{**ROWS[1], "order": "L-9", "name": "Ed"}, *rows])
    (new,) = {e["order"] for s in told("sheets", book)["sheets"] for e in s["layers"]}
    assert new == "L-9"
    assert [row[:2] for row in session(tmp_path, "Glue")] == [("1", "L-9 Ed"), ("2", "L-1 Di")]
    assert session(tmp_path, "Glue")[1][2].endswith("if that is not done yet")
    assert [row[1] for row in session(tmp_path, "Pack")] == ["L-9 Ed", "L-1 Di"]
    page = (tmp_path / "sheets" / "jobs.html").read_text(encoding="utf-8")
    assert len(re.findall(r'<section id="slip-', page)) == 2
    earlier = tmp_path / "sheets" / "earlier"
    assert "L-0 Bo" in (earlier / "jobs-01.html").read_text(encoding="utf-8")
    assert (earlier / "jobs-01.pdf").exists()
    # The same again replaces nothing.
    assert told("sheets", book)["earlier"] == []
