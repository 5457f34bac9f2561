"""What is noted at the bench by piece: made, spoiled, packed; an order is more than one thing."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from test_sheets import approved, layers

from proofgen.cli import main

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


@pytest.fixture
def told(capsys: pytest.CaptureFixture[str]):
    def tell(*arguments: object) -> dict:
        capsys.readouterr()
        assert main([*map(str, arguments), "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    return tell


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
    assert said("made", book, "K-2") == "1 layer noted; made: K-2 Cyrus"
    assert said("made", book, "K-2") == "0 layers noted; made already: K-2 Cyrus"

    again = ("redo", book, "K-2", "--why", "a knot")
    assert "only 3 of that are noted" in said(*again, "--count", 4, code=2)
    assert said(*again, "--count", 2) == "2 layers of order K-2 to be cut again"
    assert steps(told("status", book))["K-21"] == ("approved", 1)
    assert layers(told("sheets", book))[1:] == [("K-2", "medallion", 2), ("K-2", "medallion", 3)]
    told_layers = ("redo", book, "K-1", "--line", 2, "--why", "burnt", "--layer", "FRONT")
    assert said(*told_layers) == "1 layer of order K-1 to be cut again"


def test_a_line_of_an_order_is_packed_and_handed_over_alone(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, ROWS[:2])
    said("made", book, "K-1")
    assert said("packed", book, "K-1", "--line", 2) == "1 line packed: K-1 Bo"
    assert "there is --line 1 for Ada" in said("packed", book, "K-1", "--line", 3, code=2)
    said("collected", book, "K-1", "--line", 2)
    found = steps(told("status", book))
    assert found == {"K-11": ("made", 0), "K-12": ("collected", 0)}


def test_an_order_called_like_a_sheet_can_be_named(tmp_path: Path, told, said) -> None:
    book = approved(tmp_path, [{**ROWS[0], "order": "S-0001"}, {**ROWS[0], "order": "K-9"}])
    (sheet,) = told("sheets", book)["sheets"]
    assert sheet["id"] == "S-0001" and len(sheet["layers"]) == 2
    assert said("made", book, "--order", "S-0001") == "1 layer noted; made: S-0001 Ada"
    assert steps(told("status", book))["K-91"] == ("approved", 0)
    assert "is noted as cut already" in said("made", book, "S-0001", code=2)
    (left,) = told("sheets", book)["sheets"]
    assert said("made", book, left["id"]) == "1 layer noted; made: K-9 Ada"


def test_one_more_has_room_once_some_copies_are_made(tmp_path: Path, told, said) -> None:
    rows = [{**ROWS[2], "due": "2027-06-20"}]
    book = approved(tmp_path, rows)
    days = ("--on", "2027-06-01", "--by", "2027-06-20")
    assert told("status", book, *days)["room"]["before"] == 3
    said("made", book, "K-2", "--count", 2)
    assert told("status", book, *days)["room"]["before"] == 1
    assert said("status", book, "--on", "2027-06-01").endswith("approved: K-2 Cyrus (2 of 3 made)")
