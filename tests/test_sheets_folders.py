"""A sheet that failed is resumed where it was written; two commands at once do not mix."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from test_sheets import approved

from proofgen.cli.program import main
from proofgen.making import resuming, sheets as laying

ROWS: list[dict[str, object]] = [
    {"order": "K-1", "name": "Ada", "design": "boat"},
    {"order": "K-2", "name": "Bo", "design": "boat"},
    {"order": "K-3", "name": "Cy", "design": "boat"},
]


def names(folder: Path) -> set[str]:
    return {file.stem for file in folder.glob("S-*.svg")}


@pytest.fixture
def written(tmp_path: Path, told) -> tuple[Path, Path, str]:
    """A book, a folder that is not beside it, and the sheet that was written to that."""
    home = tmp_path / "workshop"
    home.mkdir()
    book, stick = approved(home, ROWS), tmp_path / "stick"
    (sheet,) = told("sheets", book, "--out", stick)["sheets"]
    return book, stick, sheet["id"]


def resume(book: Path, sheet: str, *more: object) -> int:
    return main(["resume", str(book), sheet, "--done", "1", *map(str, more)])


def test_a_board_is_resumed_where_it_was_written(written) -> None:
    book, stick, sheet = written
    assert resume(book, sheet) == 0
    (rest,) = names(stick)
    assert rest != sheet
    assert names(stick / "earlier") == {sheet}
    assert rest.lower() in (stick / "jobs.html").read_text(encoding="utf-8")
    # And so is what is left of it.
    assert resume(book, rest) == 0
    assert names(stick / "earlier") == {sheet, rest}
    assert not (book.parent / "sheets").exists()


def test_a_folder_may_move_with_the_book(tmp_path: Path, told) -> None:
    (tmp_path / "old").mkdir()
    book = approved(tmp_path / "old", ROWS)
    (sheet,) = told("sheets", book, "--out", book.parent / "laser")["sheets"]
    book = (tmp_path / "old").rename(tmp_path / "new") / book.name
    assert resume(book, sheet["id"]) == 0
    assert names(book.parent / "laser" / "earlier") == {sheet["id"]}


def test_a_folder_that_is_not_there_is_asked_for(written, told, capsys) -> None:
    book, stick, sheet = written
    shutil.move(stick, f"{stick}-away")
    assert resume(book, sheet) == 2
    assert f"was written to {stick}, which is not there now" in capsys.readouterr().err
    assert {line["step"] for line in told("status", book)["lines"]} == {"approved"}
    assert not stick.exists()
    shutil.move(f"{stick}-away", stick)
    capsys.readouterr()
    assert resume(book, sheet, "--out", book.parent / "other") == 0
    said = capsys.readouterr().out
    assert f"not to be cut, and not moved away as it lies in another folder: {stick}" in said
    assert f"{sheet}.svg." in said
    assert len(names(book.parent / "other")) == 1


def test_boards_that_are_out_of_date_in_another_folder_are_named(written, told) -> None:
    book, stick, sheet = written
    assert told("sheets", book, "--order", "K-1")["aside"] == []
    approved(book.parent, ROWS[:2])
    (said,) = told("sheets", book)["aside"]
    assert f"as it lies in another folder: {stick / sheet}.svg." in said
    (stick / f"{sheet}.svg").unlink()
    assert told("sheets", book)["aside"] == []


def test_files_of_the_makers_own_stay_where_and_as_they_are(tmp_path: Path, told) -> None:
    book, folder = approved(tmp_path, ROWS), tmp_path / "sheets"
    (sheet,) = told("sheets", book)["sheets"]
    notes = folder / f"{sheet['id']}-notes.pdf"
    notes.write_text("mine")
    (folder / "earlier").mkdir()
    (folder / "earlier" / f"{sheet['id']}.svg").write_text("mine too")
    written = (folder / f"{sheet['id']}.svg").read_bytes()
    assert main(["made", str(book), sheet["id"]]) == 0
    assert told("sheets", book)["sheets"] == []
    assert notes.read_text() == "mine"
    assert (folder / "earlier" / f"{sheet['id']}.svg").read_text() == "mine too"
    assert (folder / "earlier" / f"{sheet['id']}-01.svg").read_bytes() == written


def test_of_two_that_resume_a_board_at_once_one_is_refused(
    tmp_path: Path, told, capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = approved(tmp_path, ROWS)
    (sheet,) = told("sheets", book)["sheets"]
    real = resuming.every_row

    def another_first(*arguments: Any) -> object:
        monkeypatch.setattr(resuming, "every_row", real)
        assert resume(book, sheet["id"]) == 0
        return real(*arguments)

    monkeypatch.setattr(resuming, "every_row", another_first)
    assert resume(book, sheet["id"]) == 2
    (rest,) = names(tmp_path / "sheets")
    assert f"the rest of the board is {rest} now" in capsys.readouterr().err
    steps = [line["step"] for line in told("status", book)["lines"]]
    assert sorted(steps) == ["approved", "approved", "made"]


def test_what_another_command_did_while_sheets_laid_is_not_written_over(
    tmp_path: Path, told, capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    book, folder = approved(tmp_path, ROWS[:1]), tmp_path / "sheets"
    real = laying.drawn_sheets

    def meanwhile(*first: str) -> str:
        def another_first(*arguments: Any) -> object:
            monkeypatch.setattr(laying, "drawn_sheets", real)
            assert main([first[0], str(book), *first[1:]]) == 0
            return real(*arguments)

        monkeypatch.setattr(laying, "drawn_sheets", another_first)
        capsys.readouterr()
        assert main(["sheets", str(book)]) == 2
        return capsys.readouterr().err

    approved(tmp_path, ROWS)
    assert "was laid by another run meanwhile" in meanwhile("sheets", "--order", "K-1")
    page = (folder / "S-0001.svg").read_text(encoding="utf-8")
    assert "Ada" in page and "Cy" not in page
    (sheet,) = told("sheets", book)["sheets"]
    assert len(sheet["layers"]) == len(ROWS)
    before = (folder / f"{sheet['id']}.svg").read_bytes()
    assert "noted meanwhile, and these sheets were laid without it" in meanwhile("made", "K-1")
    assert (folder / f"{sheet['id']}.svg").read_bytes() == before
    (sheet,) = told("sheets", book)["sheets"]
    assert {each["order"] for each in sheet["layers"]} == {"K-2", "K-3"}
    assert f"{sheet['id']} was noted as made meanwhile" in meanwhile("made", sheet["id"])
    assert told("sheets", book)["sheets"] == []
    assert names(folder) == set()
