"""What each sheet takes and brings in: it all adds up to what the pieces do, to the cent."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from test_sheets import BOARD, approved

from proofgen.cli.program import main
from proofgen.day import rows as rows_

MONEY = """
[catalogue.prices]
boat = 18
lantern = 26.5
medallion = 20
[materials.birch-3]
price = { amount = 9, width = 520, height = 400 }
"""
ROWS = [
    {"order": "K-1", "name": "Ada", "design": "boat"},
    {"order": "K-2", "name": "Bo", "design": "lantern"},
    {"order": "K-3", "name": "Cyrus", "design": "medallion", "quantity": 2},
]


def test_sheets_add_up_to_the_pieces_whatever_happens_at_the_bench(
    tmp_path: Path, told, capsys: pytest.CaptureFixture[str]
) -> None:
    book = approved(tmp_path, ROWS)
    own = tmp_path / "workshop.toml"
    own.write_text(f"format = 1\nedition_year = 2027\n{BOARD}{MONEY}")
    rows_._open.clear()

    def totals() -> dict[str | None, dict]:
        found = told("money", book, "--sheets")
        for name in ("income", "profit"):
            whole = sum(Decimal(each[name]) for each in found["sheets"])
            assert whole == Decimal(found["all"][name])
        return {each["sheet"]: each for each in found["sheets"]}

    assert list(totals()) == [None]
    sheets = told("sheets", book)["sheets"]
    before = totals()
    assert set(before) == {None, *(each["id"] for each in sheets)}
    assert (before[None]["income"], before[None]["layers"]) == ("0.00", 0)
    for each in sheets:
        here = before[each["id"]]
        # By hand: a quarter of a board of 520 by 400 for 9.
        bought = "0.00" if each["remainder_used"] else "2.25"
        assert here["board"] == bought
        (written,) = (times["total"] for times in each["seconds"] if times["as_written"])
        assert float(here["machine_minutes"]) == pytest.approx(written / 60, abs=0.06)
        assert (here["layers"], here["made"]) == (len(each["layers"]), False)

    # The largest fails after its first layer: its rest is another sheet on the same board.
    largest = max(sheets, key=lambda sheet: len(sheet["layers"]))
    resume = ("resume", book, largest["id"], "--done", 1, "--lost", 2, "--why", "flame")
    assert main([*map(str, resume)]) == 0
    after = totals()
    assert after[largest["id"]]["made"] and after[largest["id"]]["layers"] == 2
    (rest,) = after.keys() - before.keys()
    assert (after[rest]["board"], after[rest]["layers"]) == ("0.00", len(largest["layers"]) - 2)
    assert Decimal(after[rest]["machine_minutes"]) > 0
    # What was lost is laid again and earns on its new sheet, not on the one that failed.
    told("sheets", book)
    again = totals()
    assert Decimal(again[largest["id"]]["income"]) < Decimal(after[largest["id"]]["income"])
    assert sum(Decimal(each["board"]) for each in again.values()) > sum(
        Decimal(each["board"]) for each in after.values()
    )
    capsys.readouterr()
    assert main(["money", str(book), "--sheets"]) == 0
    lines = [line for line in capsys.readouterr().out.splitlines() if line.startswith("S-")]
    assert [line.split()[0] for line in lines] == [each for each in again if each]
    assert sum(line.endswith("still to be cut") for line in lines) == len(again) - 2
