"""What the job sheet shows of a board beside its pieces, and where its files go."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from sheets import layer, square
from test_sheets import ROWS, approved

from proofgen.cli.program import main
from proofgen.day import rows
from proofgen.designs.design import Mark
from proofgen.geometry.affine import Affine
from proofgen.geometry.rect import Rect
from proofgen.jobsheet.tags import Tagged, tags_of

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


def test_kept_places_are_drawn(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS[:1])
    assert drawn_grey(tmp_path, told, book) == []
    file = tmp_path / "workshop.toml"
    file.write_text(file.read_text() + "keep_out = [[0, 0, 250, 40], [230, 150, 30, 20]]\n")
    rows._open.clear()
    assert drawn_grey(tmp_path, told, book) == [
        "M0,0L250,0L250,40L0,40Z", "M230,150L260,150L260,170L230,170Z",
    ]  # fmt: skip
    assert "kept clear, for pins or clamps" in (tmp_path / "sheets" / "jobs.html").read_text()


def test_no_number_stands_on_a_kept_place() -> None:
    # Engraved all over, so that its number has to stand beside it.
    full = layer(Mark("engrave-area", square(0, 0, 30)), Mark("cut-outside", square(0, 0, 30)))
    piece = Tagged("1", "", full, Affine.shift(100, 10))
    (free,) = tags_of((260, 200), [piece], ())
    near = Rect(free.at[0] - 20, free.at[1] - 20, free.at[0] + 20, free.at[1] + 20)
    (moved,) = tags_of((260, 200), [piece], [near])
    assert near.apart(Rect(*free.at, *free.at)) == 0.0
    assert near.apart(Rect(*moved.at, *moved.at)) > 0.0


def drawn_grey(folder: Path, told, book: Path) -> list[str]:
    told("sheets", book)
    page = (folder / "sheets" / "jobs.html").read_text()
    return re.findall(r'<path fill="#ceccca"[^>]* d="([^"]*)"/>', page)
