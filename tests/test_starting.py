"""A workshop's first folder, and next season's book."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from books import write_book

from proofgen.cli.program import main
from proofgen.day import daybook, pipeline
from proofgen.day.rows import Options
from proofgen.errors import UnusableError
from proofgen.orders.read import read_book
from proofgen.starting.book import COLUMNS
from proofgen.starting.next_year import LINE
from proofgen.workshop.read import load


def quiet(*_: int) -> None:
    pass


def test_a_folder_to_begin_with(tmp_path: Path) -> None:
    folder = tmp_path / "shop"
    assert main(["start", str(folder)]) == 0
    book = openpyxl.load_workbook(folder / "orders.xlsx")
    assert book.sheetnames == ["Orders", "Guide", "Stock", "Lists"]
    orders = book["Orders"]
    assert [cell.value for cell in orders[1]] == [title for title, _ in COLUMNS]
    offered = {str(v.sqref)[0]: v.formula1 for v in orders.data_validations.dataValidation}
    titles = [cell.value for cell in orders[1]]
    assert {titles[ord(letter) - 65] for letter in offered} == {
        "Design", "Symbol", "Finish", "Hanger", "Size",
    }  # fmt: skip
    lists = book["Lists"]
    designs = [cell.value for cell in lists["A"] if cell.value]
    assert designs[0] == "Design" and len(designs) == 7
    assert orders.column_dimensions["B"].number_format == "@"
    # The book is read by the program that made it, and its workshop file too.
    orders.append(["T-1", "Ida", None, "Regatta boat"])
    book.save(folder / "orders.xlsx")
    (made,) = pipeline.check(folder / "orders.xlsx", Options(), quiet).rows
    assert made.verdict == "ready"
    assert load(folder / "workshop.toml").title == "My workshop"
    with pytest.raises(UnusableError, match="is there already"):
        daybook.begin(folder)


def test_a_season_without_buyers_gives_no_book(tmp_path: Path, capsys) -> None:
    row = {"order": "T-1", "name": "Ida", "design": "boat", "buyer": "M. Tarrow", "year": 2027}
    book = write_book(tmp_path / "orders.xlsx", [row])
    assert main(["next-year", str(book)]) == 2
    assert "nobody can be asked again" in capsys.readouterr().err
    assert sorted(p.name for p in tmp_path.iterdir()) == ["orders.xlsx"]


def test_next_season(tmp_path: Path, capsys) -> None:
    rows = [
        {"order": "T-1", "name": "Ida", "design": "boat", "buyer": "M. Tarrow", "inscription": "x"},
        {"order": "T-1", "name": "Ida", "design": "boat", "buyer": "M. Tarrow", "finish": "walnut"},
        {"order": "T-2", "name": "=Bo", "design": "medallion", "buyer": "E. Vane", "quantity": 4},
        {"order": "T-3", "name": "Cy", "design": "remembrance", "buyer": "E. Vane"},
        {"order": "T-4", "name": "Di", "design": "boat", "buyer": "O. Loom", "do not ask": "x"},
        {"order": "T-5", "name": "Eve", "design": "plaque", "buyer": "O. Loom"},
        {"order": "T-6", "name": "Flo", "design": "boat", "buyer": "Never Answered"},
        {"order": "T-7", "name": "Gus", "design": "boat", "buyer": "P. Quill", "symbol": "kraken"},
        {"order": "T-8", "name": "Hal", "design": "boat", "buyer": "R. Moss"},
        {"order": "T-9", "name": "Ira", "design": "boat", "buyer": "R. Moss", "do not ask": "x"},
    ]
    choices = {"do not ask": None, "hanger": None, "quantity": 1}
    rows = [{"year": 2027, **choices, **row} for row in rows]
    book = write_book(tmp_path / "orders.xlsx", rows)
    shown = pipeline.proof(book, Options(), quiet).rows
    for row, made in zip(rows, shown, strict=True):
        row["approved"] = "" if row["order"] in ("T-6", "T-7", "T-9") else made.code
    write_book(book, rows)
    assert main(["collected", str(book), "T-7"]) == 2
    assert main(["collected", str(book), "T-7", "--anyway"]) == 0
    capsys.readouterr()
    assert main(["next-year", str(book)]) == 0
    assert capsys.readouterr().out.splitlines() == [
        f"4 rows in {tmp_path / 'orders-2028.xlsx'}",
        "left out, the Remembrance tablet is not asked for again: T-3 Cy",
        "left out, not to be asked: T-4 Di; T-5 Eve; T-8 Hal",
        "left out, neither approved nor made: T-6 Flo; T-9 Ira",
        "not carried over: T-1 Ida: inscription; T-7 Gus: symbol 'kraken'",
        "Set edition_year in the workshop file when you begin it.",
    ]
    lines, _ = read_book(tmp_path / "orders-2028.xlsx", load(None))
    found = [(line.order.field("name"), line.order.buyer, line.order.design) for line in lines]
    assert found == [
        ("Ida", "M. Tarrow", "Regatta boat"),
        ("Ida", "M. Tarrow", "Regatta boat"),
        ("=Bo", "E. Vane", "Regatta medallion"),
        ("Gus", "P. Quill", "Regatta boat"),
    ]
    first = lines[0].order
    assert (first.field("year"), first.field("inscription"), first.approved) == ("2028", "", "")
    assert [line.order.number for line in lines] == [
        *("2028-001", "2028-001", "2028-002", "2028-003"),
    ]
    assert [line.order.option("finish") for line in lines] == ["", "walnut", "", ""]
    assert [line.order.quantity for line in lines] == [1, 1, 4, 1]
    assert lines[3].order.options == ()
    assert {flag.kind.id for line in lines for flag in line.flags} == {"name-again"}
    sheet = openpyxl.load_workbook(tmp_path / "orders-2028.xlsx")["Orders"]
    column = [cell.value for cell in sheet[1]].index(LINE)
    assert sheet[2][column].value.startswith(
        "Hello M. Tarrow, the 2028 edition of your Regatta boat"
    )
    assert sheet[3][column].value is None and "Ida, Ida" not in sheet[4][column].value
    assert sheet["B4"].data_type == "s"
    with pytest.raises(UnusableError, match="is there already"):
        daybook.next_season(book, Options(), quiet)
