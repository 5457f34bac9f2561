"""A reading of the card, taken down by the command line: limits, verdicts, and all else kept."""

from __future__ import annotations

import csv
import io
import json
import re
import sys
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from books import write_book
from hypothesis import given, strategies as st

from proofgen.cli.program import main
from proofgen.day import rows
from proofgen.testcard.answers_book import answers_book
from proofgen.testcard.reading import Answer, changes, number_of, questions
from proofgen.testcard.series import SERIES
from proofgen.workshop.read import load

WORKSHOP = """# Loft over the boat house.
format = 1
title = "Lantern loft"

[machine]
kerf = 0.2    # in May
dot = 0.1

[materials.maple-3.limits]
web = { least = 1.9, wanted = 2.2 }

[materials.birch-3.limits]    # the good ply
engraved_stroke = { least = 0.35, wanted = 0.5 }  # bow to stern
"""
Filled = Mapping[str, tuple[Any, Any]]
COARSE = {"stroke": (0.6, None)}
FINE = {"stroke": (0.25, 0.4)}


@pytest.fixture
def loft(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of a workshop, which the program is called in."""
    (tmp_path / "workshop.toml").write_bytes(WORKSHOP.encode())
    monkeypatch.chdir(tmp_path)
    return tmp_path


def filled_book(folder: Path, answers: Filled) -> Path:
    """The workbook that comes with a card, filled in."""
    workshop = load(folder / "workshop.toml" if (folder / "workshop.toml").exists() else None)
    birch = workshop.material("birch-3")
    book = openpyxl.load_workbook(io.BytesIO(answers_book(questions(workshop, birch), birch)))
    by_mark = {row[0].value: row for row in book.worksheets[0].iter_rows(min_row=2)}
    for mark, values in answers.items():
        for cell, value in zip(by_mark[mark][3:5], values, strict=True):
            cell.value = value
    path = folder / "filled.xlsx"
    book.save(path)
    return path


def filled_csv(folder: Path, filled: list[list[str]], delimiter: str = ",") -> Path:
    text = io.StringIO()
    csv.writer(text, delimiter=delimiter).writerows([["Mark", "Came out", "Looks good"], *filled])
    path = folder / "filled.csv"
    path.write_text(text.getvalue(), encoding="utf-8")
    return path


def test_a_reading_changes_a_verdict_and_back(
    loft: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    row = {"order": "LH-1", "name": "Liv", "design": "boat", "face": "Dancing Script"}
    book = write_book(loft / "orders.xlsx", [row])

    def verdict() -> tuple[str, str, list[str]]:
        """What a new run of the program says of the name."""
        monkeypatch.setattr(rows, "_open", {})
        capsys.readouterr()
        main(["check", str(book), "--json"])
        (found,) = json.loads(capsys.readouterr().out)["rows"]
        return found["verdict"], found["code"], [flag["id"] for flag in found["flags"]]

    before = verdict()
    assert before[0] == "ready"
    assert main(["testcard", "read", str(filled_book(loft, COARSE))]) == 0
    coarse = verdict()
    assert coarse[0] == "stop"
    assert "stroke-too-thin" in coarse[2]
    assert main(["testcard", "read", str(filled_book(loft, FINE))]) == 0
    assert verdict() == before


def test_only_what_was_seen_changes_in_the_file(
    loft: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = filled_csv(loft, [["stroke", "0.3", ""], ["kerf", "58,5 mm", ""]], delimiter=";")
    assert main(["testcard", "read", str(answers)]) == 0
    file = loft / "workshop.toml"
    expected = WORKSHOP.replace("kerf = 0.2 ", "kerf = 0.15 ").replace("0.35", "0.4")
    assert file.read_bytes() == expected.encode()
    (backup,) = loft.glob("workshop-backup-*.toml")
    assert backup.read_bytes() == WORKSHOP.encode()
    out = capsys.readouterr().out
    assert re.search(r"materials\.birch-3\.limits\.engraved_stroke\.least +0\.35 +0\.4\n", out)
    assert re.search(r"machine\.kerf +0\.2 +0\.15\n", out)
    assert str(backup) in out


def test_the_terminal_asks_again_and_enter_keeps(
    loft: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = questions(
        load(loft / "workshop.toml"), load(loft / "workshop.toml").material("maple-3")
    )
    typed = {("web", False): "9\nnarrow\n1.5", ("web", True): "1.4\n1,6", ("gap", True): "0.4\n"}
    lines = "".join(f"{typed.get((q.mark, q.good), '')}\n" for q in asked)
    monkeypatch.setattr(sys, "stdin", io.StringIO(lines))
    assert main(["testcard", "read", "--material", "maple-3", "--json"]) == 0
    out, err = capsys.readouterr()
    # A web drawn 1.5 wide comes out a kerf narrower.
    limits = ["materials", "maple-3", "limits", "web"]
    assert json.loads(out)["changes"] == [
        {"key": [*limits, "least"], "was": 1.9, "now": 1.3},
        {"key": [*limits, "wanted"], "was": 2.2, "now": 1.4},
    ]
    assert "9 cannot be read off the card; there is 0.6 to 3." in err
    assert "'narrow' is no number of millimetres." in err
    # What looks good is no smaller than what came out, now or before.
    assert "1.4 cannot be read off the card; there is 1.5 to 3." in err
    assert "0.4 cannot be read off the card; there is 0.5 to 1." in err


@pytest.mark.usefixtures("loft")
def test_options_before_read_are_not_lost(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["testcard", "--material", "maple-3", "read"]) == 2
    assert "after the word read" in capsys.readouterr().err


def test_nothing_seen_writes_nothing(loft: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["testcard", "read", str(filled_book(loft, {}))]) == 0
    assert "was not written to" in capsys.readouterr().out
    assert (loft / "workshop.toml").read_bytes() == WORKSHOP.encode()
    assert not list(loft.glob("*backup*"))


def test_a_workshop_without_a_file_gets_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["testcard", "read", str(filled_book(tmp_path, {"hole": (2, None)}))]) == 0
    opening = load(tmp_path / "workshop.toml").material("birch-3").limits.cut_opening
    # 2 and a kerf; slits, of which nothing was said, are taken as they were.
    assert (opening.least, opening.wanted) == (2.18, 2.18)


def test_holes_and_slits_tell_one_limit_and_neither_lowers_it_alone(loft: Path) -> None:
    file = loft / "workshop.toml"
    # By the kerf of 0.2, 0.6 comes out as 0.8, which is what ships, and 1 as 1.2.
    for answers, least in (({"hole": (0.6, None)}, 0.8), ({"opening": (0.4, None)}, 0.8)):
        assert main(["testcard", "read", str(filled_book(loft, answers))]) == 0
        assert load(file).material("birch-3").limits.cut_opening.least == least
    both: Filled = {"hole": (1, None), "opening": (0.4, None)}
    assert main(["testcard", "read", str(filled_book(loft, both))]) == 0
    assert load(file).material("birch-3").limits.cut_opening.least == 1.2
    both = {"hole": (0.6, 0.8), "opening": (0.3, 0.4)}
    assert main(["testcard", "read", str(filled_book(loft, both))]) == 0
    assert load(file).material("birch-3").limits.cut_opening.least == 0.8


def test_a_byte_order_mark_stays(loft: Path) -> None:
    file = loft / "workshop.toml"
    file.write_bytes(b"\xef\xbb\xbf" + WORKSHOP.encode())
    assert main(["testcard", "read", str(filled_csv(loft, [["stroke", "0.3", ""]]))]) == 0
    assert file.read_bytes() == b"\xef\xbb\xbf" + WORKSHOP.replace("0.35", "0.4").encode()


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"stroke": (9, None)}, r"row 3, column came out \(D3\): 9 cannot be read off the card"),
        ({"stroke": (-0.3, None)}, r"row 3, column came out \(D3\): '-0.3' is no number"),
        ({"gap": ("about half", None)}, r"\(D4\): 'about half' is no number of millimetres"),
        ({"gap": (date(2027, 5, 2), None)}, r"\(D4\): the cell holds the date 2027-05-02"),
        ({"gap": ("=1/4", None)}, r"\(D4\): the cell holds a formula without a result"),
        ({"web": (2, 1.5)}, r"row 5, column looks good \(E5\): 1.5 looks good, but 2 is"),
        ({"web": (None, 0.6)}, r"\(E5\): 0.6 looks good, but up to now 1.7 is the smallest"),
        ({"kerf": (58.2, 58)}, r"row 15, column looks good \(E15\): leave this cell blank"),
        ({"kerf": (60, None)}, r"row 15, column came out \(D15\): 60 cannot be read off the card"),
        ({"material": ("oak-9", None)}, r"oak-9: there is birch-3, maple-3 in "),
    ],
)
def test_a_bad_answer_is_one_sentence_and_nothing_is_written(
    loft: Path, capsys: pytest.CaptureFixture[str], answers: Filled, said: str
) -> None:
    file = filled_book(loft, {"opening": (1, None), **answers})
    assert main(["testcard", "read", str(file)]) == 2
    err = capsys.readouterr().err
    assert re.search(said, err)
    assert err.count("\n") == 1
    assert (loft / "workshop.toml").read_bytes() == WORKSHOP.encode()
    assert not list(loft.glob("*backup*"))


@pytest.mark.parametrize(
    ("filled", "said"),
    [
        ([["strike", "0.3", ""]], r"row 2, column Mark: 'strike' is not on the card.*'stroke'"),
        ([["gap", "0.3", ""], ["Gap ", "", ""]], r"row 3, column Mark: 'gap' stands in row 2 too"),
        ([["", "0.3", ""]], r"row 2, column came out \(B2\): leave this cell blank"),
        ([["material", "maple-3", ""]], r"sheet of maple-3, not of birch-3"),
    ],
)
def test_a_bad_sheet_is_one_sentence(
    loft: Path, capsys: pytest.CaptureFixture[str], filled: list[list[str]], said: str
) -> None:
    file = filled_csv(loft, filled)
    assert main(["testcard", "read", str(file), "--material", "birch-3"]) == 2
    assert re.search(said, capsys.readouterr().err)
    assert not list(loft.glob("*backup*"))


@pytest.mark.parametrize("name", ["none.csv", "notes.ods", "orders.csv"])
def test_another_file_is_refused(loft: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    if name != "none.csv":
        (loft / name).write_text("Order,Name\n1,Ada\n", encoding="utf-8")
    assert main(["testcard", "read", name]) == 2
    assert name in capsys.readouterr().err


def test_a_gap_that_the_dot_would_close_is_refused(
    loft: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = loft / "workshop.toml"
    file.write_text(WORKSHOP.replace("dot = 0.1", "dot = 0.4"), encoding="utf-8")
    assert main(["testcard", "read", str(filled_csv(loft, [["gap", "0.3", ""]]))]) == 2
    assert "correct kerf or dot" in capsys.readouterr().err


def test_a_file_that_cannot_be_replaced_stays(
    loft: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(_part: Path, _target: Path) -> Path:
        raise PermissionError(13, "Permission denied")

    answers = filled_csv(loft, [["gap", "0.3", ""]])
    monkeypatch.setattr(Path, "replace", refused)
    assert main(["testcard", "read", str(answers)]) == 2
    assert "cannot be written" in capsys.readouterr().err
    assert (loft / "workshop.toml").read_bytes() == WORKSHOP.encode()
    assert not list(loft.glob("*.part"))


HEIGHTS = "[cap_heights]\nname = { least = 4, wanted = 4 }\n"


def heights(file: Path) -> dict[str, tuple[float, float]]:
    return {field: (bound.least, bound.wanted) for field, bound in load(file).cap_heights}


def test_small_letters_raise_what_is_larger_and_lower_nothing(loft: Path) -> None:
    file = loft / "workshop.toml"
    file.write_text(WORKSHOP + HEIGHTS, "utf-8")
    assert main(["testcard", "read", str(filled_csv(loft, [["plain-faces", "4.5", ""]]))]) == 0
    found = heights(file)
    assert {field: least for field, (least, _) in found.items()} == {
        "inscription": 4.5,
        "name": 4.5,
        "year": 5.0,
    }
    assert found["name"] == (4.5, 4.5)


def test_the_card_raises_and_lowers_the_heights_of_names_and_years(loft: Path, capsys) -> None:
    file = loft / "workshop.toml"
    read = ["testcard", "read", str(loft / "filled.csv")]
    filled_csv(loft, [["names", "8", "10"], ["years", "6", ""]])
    assert main(read) == 0
    assert (heights(file)["name"], heights(file)["year"]) == ((8, 10), (6, 8))
    filled_csv(loft, [["names", "4", "5"], ["years", "4", "4"]])
    assert main(read) == 0
    assert (heights(file)["name"], heights(file)["year"]) == ((4, 5), (4, 4))
    # No smaller than an inscription can be, and that is said.
    capsys.readouterr()
    filled_csv(loft, [["plain-faces", "5", ""], ["names", "4", ""]])
    assert main(read) == 0
    assert heights(file)["name"] == (5, 5)
    assert "name: no smaller than an inscription can be, 5." in capsys.readouterr().out


def test_openings_alone_say_what_else_is_needed(loft: Path, capsys) -> None:
    assert main(["testcard", "read", str(filled_book(loft, {"opening": (0.3, 0.4)}))]) == 0
    out = capsys.readouterr().out
    assert "was not written to" in out
    assert "openings alone do not lower cut_opening: holes count too" in out
    both: Filled = {"hole": (0.6, 0.8), "opening": (0.3, 0.4)}
    (loft / "workshop.toml").write_text(WORKSHOP.replace("kerf = 0.2 ", "kerf = 0.1 "), "utf-8")
    assert main(["testcard", "read", str(filled_book(loft, both))]) == 0
    assert "openings alone" not in capsys.readouterr().out


def test_what_is_offered_is_taken_and_what_is_beyond_the_card_is_told(
    loft: Path, capsys, monkeypatch
) -> None:
    file = loft / "workshop.toml"
    file.write_text(WORKSHOP + "[cap_heights]\nname = { least = 5, wanted = 12 }\n", "utf-8")
    workshop = load(file)
    for question in questions(workshop, workshop.material("birch-3")):
        if not question.until_now.startswith("("):
            assert number_of(question.until_now, question, "here") == question.now
    said = {
        q.mark: q.until_now for q in questions(workshop, workshop.material("birch-3")) if q.good
    }
    assert (said["names"], said["years"], said["joined-faces"]) == ("(12)", "8", "4")
    # With a least height beyond the card there is no smaller one to choose as good.
    file.write_text(WORKSHOP + "[cap_heights]\nname = { least = 12, wanted = 12 }\n", "utf-8")
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n" * 40))
    assert main(["testcard", "read"]) == 0
    out = capsys.readouterr().out
    assert "(4 to 10) [(12)]" in out and "(12 to 10)" not in out
    assert heights(file)["name"] == (12, 12)


@given(st.data(), st.floats(0.05, 0.4), st.floats(0.0, 0.12))
def test_answers_come_back_as_the_numbers_that_were_read(
    data: st.DataObject, kerf: float, dot: float
) -> None:
    """Whatever kerf and dot, the card asked again shows what was answered, to a micrometre."""
    workshop = load(None)
    workshop = replace(workshop, machine=replace(workshop.machine, kerf=kerf, dot=dot))
    material = workshop.material("birch-3")
    series = data.draw(st.sampled_from([s for s in SERIES if s.key != ("cut_opening",)]))
    number = data.draw(st.sampled_from(series.sizes))
    answers = {(series.id, good): Answer(number, "here") for good in (False, True)}
    found = {c.key[-2:]: c.now for c in changes(answers, workshop, material)}
    name = series.key[-1]
    was = {(q.mark, q.good): q for q in questions(workshop, material)}
    for good, end in ((False, "least"), (True, "wanted")):
        now = found.get((name, end))
        back = series.drawn(now, workshop.machine) if now is not None else was[series.id, good].now
        assert back == pytest.approx(number, abs=0.0011)
