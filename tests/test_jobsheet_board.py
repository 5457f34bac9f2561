"""What the job sheet's drawing of a board shows beside its pieces."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from test_sheets import ROWS, approved

from proofgen.cli.program import main
from proofgen.day import rows

KEEP = re.compile(r'<path fill="none"[^>]* stroke="#3a6870"[^>]* d="([^"]*)"/>')


def keeps(folder: Path) -> list[tuple[str, str]]:
    """What is drawn round what is to be kept, and the id to pencil on it, of each board."""
    drawings = re.findall(r"<svg.*?</svg>", (folder / "sheets" / "jobs.html").read_text())
    boards = [each for each in drawings if 'aria-label="Board' in each]
    said = re.compile(r">keep: (R-\d+)<")
    return [(*KEEP.findall(each), *said.findall(each)) for each in boards]


@pytest.mark.parametrize("change", ["", "gap = 5\n"])
def test_a_board_that_was_begun_shows_where_what_is_left_of_it_lies(
    tmp_path: Path, told, change: str
) -> None:
    book = approved(tmp_path, [ROWS[0], {**ROWS[0], "order": "K-9", "name": "Bea"}])
    (sheet,) = told("sheets", book)["sheets"]
    before = keeps(tmp_path)
    assert [each[1] for each in before] == [sheet["remainder"]["id"]]
    file = tmp_path / "workshop.toml"
    file.write_text(file.read_text().replace("gap = 3\n", change or "gap = 3\n"))
    rows._open.clear()
    assert main(["resume", str(book), sheet["id"], "--done", "1"]) == 0
    assert keeps(tmp_path) == before
    told("sheets", book)
    assert keeps(tmp_path) == before
