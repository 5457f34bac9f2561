"""A search that was ended is said, and not kept: the next plain one searches again."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from test_sheets import ROWS, approved

from proofgen.cli.program import main
from proofgen.making.laying import LAYOUT
from proofgen.nesting import engine, fill, nest as nesting
from proofgen.records.archive import archive
from proofgen.sheets import run as runs


def ended(book: Path) -> list[str]:
    with archive(book.parent) as records:
        return [runs.from_json(entry.details).ended for entry in records.entries(runs.RUN)]


def counted(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """The searches that are begun from now on."""
    known, calls = fill.strips, []

    def strips(*given: object) -> object:
        calls.append(given)
        return known(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(fill, "strips", strips)
    return calls


def test_an_interrupted_search_is_said_and_done_again(
    tmp_path: Path, told, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    book = approved(tmp_path, [*ROWS, {**ROWS[0], "order": "K-5"}, {**ROWS[1], "order": "K-6"}])

    def interrupted(*_: object) -> object:
        calls.append(_)
        raise KeyboardInterrupt

    calls: list[object] = []
    with monkeypatch.context() as patch:
        patch.setattr(fill, "strips", interrupted)
        assert told("sheets", book)["search_ended_by"] == "interruption"
    # Of several woods the later ones are not searched either.
    assert len(calls) == 1
    searches = counted(monkeypatch)
    assert told("sheets", book)["search_ended_by"] is None
    assert searches
    assert ended(book) == ["interruption", ""]
    searches.clear()
    assert main(["sheets", str(book)]) == 0
    assert not searches
    assert "search was" not in capsys.readouterr().out


def test_laying_without_the_engine_or_in_a_hurry_is_said(
    tmp_path: Path, told, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    book = approved(tmp_path, ROWS)
    with monkeypatch.context() as patch:
        patch.setattr(nesting, "available", lambda: False)
        assert main(["sheets", str(book)]) == 0
        assert "spyrrow is not installed" in capsys.readouterr().out
    assert main(["sheets", str(book), "--seconds", "1"]) == 0
    assert "laid in a hurry" in capsys.readouterr().out
    searches = counted(monkeypatch)
    assert told("sheets", book)["search_ended_by"] is None
    assert searches
    assert ended(book) == ["no engine", "hurry", ""]


def test_a_search_that_fails_is_said_and_its_boards_are_not_kept(
    tmp_path: Path, told, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    book = approved(tmp_path, ROWS)
    with monkeypatch.context() as patch:
        patch.setattr(engine, "CHILD", tmp_path / "gone.py")
        assert main(["sheets", str(book)]) == 0
        assert "a search failed, which may take more boards" in capsys.readouterr().out
    searches = counted(monkeypatch)
    assert told("sheets", book)["search_ended_by"] is None
    assert searches
    assert ended(book) == ["failure", ""]


def moved(text: str) -> str:
    """A layout of which all lies beyond the board's edge."""
    said = json.loads(text)
    placed = [{**each, "x": each["x"] - 40} for each in said["placed"]]
    return json.dumps({**said, "placed": placed})


@pytest.mark.parametrize("damaged", [moved, lambda _: "{}", lambda text: text[:-9]])
def test_a_layout_that_is_kept_and_fails_its_check_is_searched_anew(
    tmp_path: Path, told, monkeypatch: pytest.MonkeyPatch, damaged: Callable[[str], str]
) -> None:
    book = approved(tmp_path, ROWS[:1])
    (sheet,) = told("sheets", book)["sheets"]
    file = Path(*sheet["files"])
    before = file.read_bytes()
    with archive(tmp_path) as records:
        (kept,) = records.entries(LAYOUT)
        records.enter([replace(kept, details=damaged(kept.details))])
    searches = counted(monkeypatch)
    for _ in range(2):
        assert told("sheets", book)["sheets"] == [sheet]
        assert file.read_bytes() == before
        # The second time it is known again.
        assert len(searches) == 1
