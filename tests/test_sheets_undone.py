"""What is to be pulled and cut by earlier runs is not given away by the next one."""

from __future__ import annotations

from pathlib import Path

from test_sheets import ROWS, approved, layers
from test_sheets_counts import laid, said, steps
from test_sheets_stock import DAY, count, listed

from proofgen.cli.program import main

LANTERNS = [
    {"order": f"C-{i}", "name": name, "design": "lantern", "finish": "natural"}
    for i, name in enumerate(("Ida", "Bo", "Di", "Ed", "Flo", "Gil"), 1)
]
BOATS = [
    {"order": f"A-{i}", "name": name, "design": "boat"} for i, name in enumerate(("Ida", "Bo"), 1)
]


def lanterns(folder: Path, fronts: int, orders: int) -> Path:
    """A book of so many lanterns, and of their fronts so many in stock."""
    book = approved(folder, LANTERNS[:orders])
    count(book, (DAY, "lantern", "front", "natural", "", fronts))
    return book


def test_a_layer_in_stock_is_pulled_for_one_buyer(tmp_path: Path, told) -> None:
    book = lanterns(tmp_path, fronts=1, orders=2)
    first = told("sheets", book, "--order", "C-1")
    assert [each["count"] for each in first["pull"]] == [1]
    other = told("sheets", book, "--order", "C-2")
    assert other["pull"] == []
    assert layers(other) == [("C-2", "back", 1), ("C-2", "front", 1)]
    again = told("sheets", book, "--order", "c-1")
    assert (again["pull"], layers(again)) == (first["pull"], layers(first))
    ids = {sheet["id"] for found in (first, other) for sheet in found["sheets"]}
    assert main(["made", str(book), *sorted(ids)]) == 0
    assert steps(told, book) == ["made", "made"]
    assert list(listed(told, book).values()) == [0]


def test_what_was_pulled_waits_for_nobody_any_more(tmp_path: Path, told) -> None:
    book = lanterns(tmp_path, fronts=2, orders=2)
    assert main(["made", str(book), *laid(told, book, "--order", "C-1")]) == 0
    assert list(listed(told, book).values()) == [1]
    assert [each["count"] for each in told("sheets", book, "--order", "C-2")["pull"]] == [1]


def test_a_run_of_all_orders_gives_out_all_that_lies_there(tmp_path: Path, told) -> None:
    book = lanterns(tmp_path, fronts=1, orders=2)
    assert told("sheets", book, "--order", "C-2")["pull"]
    assert len(told("sheets", book)["pull"]) == 1
    # The last run pulled it for the first order.
    assert told("sheets", book, "--order", "C-2")["pull"] == []


def test_a_remainder_is_used_by_one_board(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS[:1])
    (first,) = told("sheets", book)["sheets"]
    assert main(["made", str(book), first["id"]]) == 0
    small = [{**ROWS[2], "quantity": 1, "order": each} for each in ("A-5", "A-1")]
    book = approved(tmp_path, [*ROWS[:1], *small])
    (one,) = told("sheets", book, "--order", "A-5")["sheets"]
    assert one["remainder_used"] == first["remainder"]["id"]
    (other,) = told("sheets", book, "--order", "A-1")["sheets"]
    assert other["remainder_used"] is None
    (again,) = told("sheets", book, "--order", "A-5")["sheets"]
    assert (again["id"], again["remainder_used"]) == (one["id"], one["remainder_used"])


def test_what_lies_on_another_board_too_is_said(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, BOATS)
    (whole,) = laid(told, book)
    found = told("sheets", book, "--order", "A-2")
    (own,) = (sheet["id"] for sheet in found["sheets"])
    assert own != whole
    assert found["lies_twice"] == [{"sheet": whole, "orders": ["A-2"]}]
    told_so = f"order A-2 lies on {whole} too: do not cut that board"
    assert told_so in said(capsys, "sheets", book, "--order", "A-2")
    # Once the rest is laid anew, that of the order alone is not to be cut any more.
    assert told("sheets", book)["lies_twice"] == []
    assert not list((tmp_path / "sheets").glob(f"{own}*.svg"))


def test_a_board_that_is_cut_is_none_on_which_an_order_lies_twice(tmp_path: Path, told) -> None:
    book = approved(tmp_path, BOATS)
    assert main(["made", str(book), *laid(told, book)]) == 0
    assert main(["redo", str(book), "A-2", "--why", "a knot"]) == 0
    found = told("sheets", book, "--order", "A-2")
    assert (layers(found), found["lies_twice"]) == ([("A-2", "boat", 1)], [])


def test_a_sheet_of_some_orders_lies_there_in_one_form(tmp_path: Path, told) -> None:
    book = approved(tmp_path, BOATS)
    (whole,) = laid(told, book)
    (own,) = laid(told, book, "--order", "A-2")
    asked = ("--order", "A-2", "--apart", "--format", "dxf")
    assert laid(told, book, *asked) == [own]
    folder = tmp_path / "sheets"
    assert {path.name for path in folder.glob("S-*.*") if "jobs" not in path.name} == {
        f"{whole}.svg", f"{own}-cut.dxf", f"{own}-engrave.dxf",
    }  # fmt: skip
    assert (folder / "earlier" / f"{own}.svg").is_file()


def test_what_is_pulled_to_be_made_again_is_taken_off(tmp_path: Path, told) -> None:
    book = lanterns(tmp_path, fronts=14, orders=6)
    assert main(["made", str(book), *laid(told, book)]) == 0
    assert list(listed(told, book).values()) == [8]
    found = told("sheets", book, "--again")
    assert [each["count"] for each in found["pull"]] == [6]
    many = max(found["sheets"], key=lambda sheet: len(sheet["layers"]))
    assert 1 < len(many["layers"]) < 6
    assert main(["resume", str(book), many["id"], "--done", "1"]) == 0
    assert list(listed(told, book).values()) == [7]
    rest = max(path.name[:6] for path in (tmp_path / "sheets").glob("S-*"))
    others = [sheet["id"] for sheet in found["sheets"] if sheet is not many]
    assert main(["made", str(book), rest, *others]) == 0
    assert list(listed(told, book).values()) == [2]


def test_a_board_that_holds_what_is_cut_by_now_is_named(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, [BOATS[0], {**BOATS[1], "quantity": 2}])
    (first,) = laid(told, book)
    (own,) = laid(told, book, "--order", "A-1")
    (_, twice) = said(capsys, "made", book, own).splitlines()
    assert twice == (
        f"{first} holds what is cut by now (A-1 Ida, boat): run sheets again before you cut it."
    )
    (second,) = laid(told, book)
    # One of the two copies on it is lacking still.
    (_, twice) = said(capsys, "made", book, "A-2", "--count", "1").splitlines()
    assert twice.startswith(f"{second} holds what is cut by now (A-2 Bo, boat (2)): run sheets")
    (third,) = laid(told, book)
    assert said(capsys, "made", book, third) == "1 layer noted; made: A-2 Bo"


def test_a_board_that_is_noted_late_names_those_laid_since(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, BOATS[:1])
    (old,) = laid(told, book)
    approved(tmp_path, BOATS)
    (new,) = laid(told, book)
    (_, twice) = said(capsys, "made", book, old).splitlines()
    assert twice.startswith(f"{new} holds what is cut by now (A-1 Ida, boat): run sheets again")
    assert layers(told("sheets", book)) == [("A-2", "boat", 1)]
    (left,) = laid(told, book)
    assert said(capsys, "made", book, left) == "1 layer noted; made: A-2 Bo"


def test_what_is_laid_again_on_purpose_is_named_by_no_note(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, BOATS[:1])
    (first,) = laid(told, book)
    assert said(capsys, "made", book, first) == "1 layer noted; made: A-1 Ida"
    approved(tmp_path, BOATS)
    assert len(laid(told, book, "--again")) == 1
    assert said(capsys, "made", book, "A-2") == "1 layer noted; made: A-2 Bo"
