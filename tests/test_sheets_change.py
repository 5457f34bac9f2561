"""What a command of the bench writes and enters is one change, wherever it is ended."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest
from test_sheets import approved

from proofgen.cli.program import main
from proofgen.making import change
from proofgen.making.undone import jobs_of
from proofgen.records.archive import archive

ROWS = [
    {"order": "K-1", "name": "Ada", "design": "boat"},
    {"order": "K-2", "name": "Bo", "design": "boat"},
]


class Killed(BaseException):
    """No program catches this, as none catches a kill."""


def ended_at(monkeypatch: pytest.MonkeyPatch, what: str, times: int, error: BaseException) -> None:
    """From its so manieth call on, storing (os.fsync) or placing (Path.replace) a file fails."""
    calls: list[object] = []
    owner = {"fsync": os, "replace": Path}[what]
    real = getattr(owner, what)

    def fails(*arguments: object) -> object:
        calls.append(arguments)
        if len(calls) >= times:
            raise error
        return real(*arguments)

    monkeypatch.setattr(owner, what, fails)


def there(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


def known(book: Path) -> set[str]:
    with archive(book.parent) as records:
        return set(jobs_of(records))


def text(capsys: pytest.CaptureFixture[str], *call: object, code: int = 0) -> str:
    capsys.readouterr()
    assert main([*map(str, call)]) == code
    found = capsys.readouterr()
    return found.err if code else found.out


@pytest.fixture
def begun(tmp_path: Path, told) -> tuple[Path, str]:
    """A book whose one sheet was laid for a first order; the second is approved since."""
    book = approved(tmp_path, ROWS[:1])
    (sheet,) = told("sheets", book)["sheets"]
    approved(tmp_path, ROWS)
    return book, sheet["id"]


@pytest.mark.parametrize("times", [1, 2])
def test_a_full_disk_leaves_all_as_it_was(begun, capsys, monkeypatch, times: int) -> None:
    book, first = begun
    before = there(book.parent / "sheets")
    with monkeypatch.context() as broken:
        ended_at(broken, "fsync", times, OSError(errno.ENOSPC, "No space left on device"))
        said = text(capsys, "sheets", book, code=2)
    assert "(No space left on device); nothing was written or noted" in said
    assert there(book.parent / "sheets") == before
    assert known(book) == {first}
    assert change.UNDONE not in text(capsys, "sheets", book)


def test_a_folder_that_cannot_be_is_named(begun, capsys) -> None:
    book, first = begun
    out = book.parent / "taken"
    out.touch()
    said = text(capsys, "sheets", book, "--out", out, code=2)
    assert f"{out} cannot be written (Not a directory); nothing was written or noted" in said
    assert known(book) == {first}


@pytest.mark.parametrize("times", [1, 3])
def test_what_was_killed_before_it_was_entered_is_undone(
    begun, capsys, monkeypatch, times: int
) -> None:
    book, first = begun
    folder = book.parent / "sheets"
    before = there(folder)
    with monkeypatch.context() as broken:
        ended_at(broken, "fsync", times, Killed())
        with pytest.raises(Killed):
            main(["sheets", str(book)])
    assert known(book) == {first}
    assert {name: data for name, data in there(folder).items() if "staged" not in name} == before
    assert change.UNDONE in text(capsys, "sheets", book)
    assert not list(folder.glob(".proofgen*"))
    assert {path.stem for path in folder.glob("S-*")} == known(book) - {first}


@pytest.mark.parametrize("times", range(1, 7))
def test_what_was_killed_once_it_was_entered_is_finished(
    begun, capsys, monkeypatch, times: int
) -> None:
    book, first = begun
    folder = book.parent / "sheets"
    old = there(folder)
    with monkeypatch.context() as broken:
        ended_at(broken, "replace", times, Killed())
        with pytest.raises(Killed):
            main(["sheets", str(book)])
    (new,) = known(book) - {first}
    assert text(capsys, "sheets", book).startswith(change.FINISHED)
    assert not list(folder.glob(".proofgen*"))
    found = there(folder)
    assert found.keys() == {
        f"{new}.svg", "jobs.pdf", "jobs.html",
        f"earlier/{first}.svg", "earlier/jobs-01.pdf", "earlier/jobs-01.html",
    }  # fmt: skip
    assert found["earlier/jobs-01.html"] == old["jobs.html"] != found["jobs.html"]
    assert found[f"earlier/{first}.svg"] == old[f"{first}.svg"]


@pytest.mark.parametrize("what", ["fsync", "replace"])
def test_a_board_that_failed_is_noted_with_the_file_of_its_rest_or_not_at_all(
    tmp_path: Path, told, capsys, monkeypatch, what: str
) -> None:
    book = approved(tmp_path, ROWS)
    (sheet,) = told("sheets", book)["sheets"]
    folder = tmp_path / "sheets"
    call = ["resume", str(book), sheet["id"], "--done", "1"]
    with monkeypatch.context() as broken:
        ended_at(broken, what, 2, Killed())
        with pytest.raises(Killed):
            main(call)
    if what == "fsync":
        assert known(book) == {sheet["id"]}
        assert change.UNDONE in text(capsys, *call)
    else:
        # It is noted, so it cannot be noted once more; its files are put in their places.
        assert "what came of it is noted already" in text(capsys, *call, code=2)
    (rest,) = known(book) - {sheet["id"]}
    assert {path.name for path in folder.glob("S-*")} == {f"{rest}.svg"}
    assert rest.lower() in (folder / "jobs.html").read_text(encoding="utf-8")
    assert not list(folder.glob(".proofgen*"))


def test_a_file_that_cannot_be_replaced_is_by_the_next_run(begun, capsys) -> None:
    book, first = begun
    folder = book.parent / "sheets"
    (folder / "S-0002.svg").mkdir()
    (folder / "S-0002.svg" / "mine").touch()
    said = text(capsys, "sheets", book, code=2)
    assert "S-0002.svg cannot be put in its place" in said
    assert known(book) == {first, "S-0002"}
    (folder / "S-0002.svg" / "mine").unlink()
    (folder / "S-0002.svg").rmdir()
    assert change.FINISHED in text(capsys, "sheets", book)
    assert (folder / "S-0002.svg").is_file()
