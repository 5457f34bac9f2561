"""What the job sheet shows of a board beside its pieces, and where its files go."""

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


def test_both_files_of_a_job_sheet_of_some_orders_are_moved_away(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS[:1])
    (alone,) = told("sheets", book, "--order", "K-1")["sheets"]
    own = {f"{alone['id']}-jobs.pdf", f"{alone['id']}-jobs.html"}
    folder = tmp_path / "sheets"
    assert own <= {path.name for path in folder.iterdir()}
    again = told("sheets", book)
    assert {path.name for path in folder.iterdir()} == {
        *("earlier", "jobs.pdf", "jobs.html"),
        *(f"{sheet['id']}.svg" for sheet in again["sheets"]),
    }
    assert own == {path.name for path in (folder / "earlier").iterdir()}
    assert own == {Path(path).name for path in again["earlier"]}
