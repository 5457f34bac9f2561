"""A season from `start` to `next-year`, by commands alone, with what goes wrong in one."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import openpyxl
import pytest

from proofgen.cli.program import main

TODAY = date.today()
ROWS = (
    {"Order": "H-1", "Name": "Ada", "Design": "Regatta boat", "Buyer": "M. Tarrow", "Quoted": 18,
     "Paid": 18, "Finish": "natural", "Due": TODAY + timedelta(20), "Requested": TODAY},
    {"Order": "H-2", "Name": "Bo", "Design": "Harbour lantern", "Buyer": "E. Vane", "Quoted": 52,
     "Paid": 52, "Finish": "natural", "Quantity": 2, "Due": TODAY + timedelta(1)},
    {"Order": "H-3", "Name": "Cyrus", "Design": "Regatta medallion", "Buyer": "O. Loom",
     "Quoted": 22, "Paid": 0, "Due": TODAY + timedelta(9)},
    {"Order": "H-4", "Name": "Dot", "Design": "yacht", "Buyer": "Q. Weir"},
    {"Order": "H-5", "Name": "Eve", "Design": "Regatta boat", "Buyer": "P. Quill", "Quoted": 18,
     "Paid": 18, "Due": TODAY - timedelta(2)},
)  # fmt: skip


@pytest.fixture
def season(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    return Season(tmp_path / "shop", capsys)


class Season:
    """The maker at the keyboard."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.book, self._capsys = folder, folder / "orders.xlsx", capsys

    def run(self, command: str, *arguments: str, code: int = 0) -> str:
        self._capsys.readouterr()
        assert main([command, str(self.book), *arguments]) == code
        return self._capsys.readouterr().out

    def told(self, command: str, *arguments: str, code: int = 0) -> dict:
        return json.loads(self.run(command, *arguments, "--json", code=code))

    def type(self, column: str, values: dict[str, object]) -> None:
        book = openpyxl.load_workbook(self.book)
        sheet = book["Orders"]
        headers = [cell.value for cell in sheet[1]]
        for row in range(2, sheet.max_row + 1):
            number = sheet.cell(row, 1).value
            if number in values:
                sheet.cell(row, headers.index(column) + 1).value = values[number]
        book.save(self.book)

    def steps(self) -> dict[str, str]:
        return {line["order"]: line["step"] for line in self.told("status")["lines"]}


def test_a_season(season: Season) -> None:
    assert main(["start", str(season.folder)]) == 0
    book = openpyxl.load_workbook(season.book)
    headers = [cell.value for cell in book["Orders"][1]]
    for number, row in enumerate(ROWS, 2):
        for title, value in row.items():
            book["Orders"].cell(number, headers.index(title) + 1).value = value
    book.save(season.book)

    # Pictures go out; H-4 stops for a design that there is not.
    shown = season.told("proof", code=1)
    codes = {row["order"]: row["code"] for row in shown["rows"]}
    assert [row["order"] for row in shown["rows"] if row["verdict"] == "stop"] == ["H-4"]
    assert codes["H-1"] in season.run("message")
    assert season.steps() == dict.fromkeys(codes, "waiting") | {"H-4": "stopped"}
    replies = {n: f"Lovely, thank you! {code}" for n, code in codes.items() if n != "H-4"}
    season.type("Approved", replies)
    assert season.steps() == dict.fromkeys(codes, "approved") | {"H-4": "stopped"}
    late = {line["order"] for line in season.told("status")["lines"] if line["late"]}
    assert {"H-2", "H-5"} <= late

    # The workshop wants to be paid first.
    with (season.folder / "workshop.toml").open("a", encoding="utf-8") as file:
        file.write("\n[orders]\ncut_before_payment = false\n")
    from proofgen.day import rows

    rows._open.clear()
    sheets = season.told("sheets")["sheets"]
    laid = {layer["order"] for sheet in sheets for layer in sheet["layers"]}
    assert laid == {"H-1", "H-2", "H-5"}
    assert (season.folder / "sheets" / "jobs.pdf").exists()

    # The first sheet fails after its first piece, and the second piece is spoiled.
    first = max(sheets, key=lambda sheet: len(sheet["layers"]))
    for sheet in sheets:
        if sheet is not first:
            season.run("made", sheet["id"])
    season.run("resume", first["id"], "--done", "1", "--lost", "2", "--why", "flame")
    rest = [path.stem for path in (season.folder / "sheets").glob("S-*.svg")]
    season.run("made", max(rest))
    spoiled = first["layers"][1]
    again = season.told("sheets")["sheets"]
    assert [(x["order"], x["layer"]) for s in again for x in s["layers"]] == [
        (spoiled["order"], spoiled["layer"])
    ]
    for sheet in again:
        season.run("made", sheet["id"])
    made = {"H-1": "made", "H-2": "made", "H-3": "approved", "H-4": "stopped", "H-5": "made"}
    assert season.steps() == made

    # A made piece is dropped while it is packed: one layer of it is cut again.
    season.run("redo", "H-1", "--why", "dropped")
    assert season.steps()["H-1"] == "approved"
    (sheet,) = season.told("sheets")["sheets"]
    season.run("made", sheet["id"])

    # H-3 pays.
    season.type("Paid", {"H-3": 22})
    for sheet in season.told("sheets")["sheets"]:
        season.run("made", sheet["id"])
    for command in ("packed", "collected"):
        season.run(command, "H-1", "H-2", "H-3", "H-5")
    done = dict.fromkeys(codes, "collected") | {"H-4": "stopped"}
    assert season.steps() == done
    assert season.told("sheets")["sheets"] == []

    # Money adds up; losses are known by their reasons; next year's book asks the four buyers.
    told = season.told("money")
    incomes = [float(row["income"]) for row in told["rows"] if row["sold"]]
    assert incomes == [18, 52, 22, 18]
    season.run("season")
    page = (season.folder / "orders-season.html").read_text(encoding="utf-8")
    assert all(reason in page for reason in ("flame", "dropped"))
    season.run("next-year")
    (following,) = season.folder.glob("orders-2*.xlsx")
    asked = {row[10].value for row in openpyxl.load_workbook(following)["Orders"].iter_rows(2)}
    assert asked - {None} == {"M. Tarrow", "E. Vane", "O. Loom", "P. Quill"}
