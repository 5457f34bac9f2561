"""What is left of a sheet is planned and timed as the sheet was written, or left aside."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from pathlib import Path

import pytest
from test_sheets import approved, layers

from proofgen.cli.program import main
from proofgen.day import rows as opened
from proofgen.making.recorded import finder
from proofgen.making.sheet_files import Form, planned
from proofgen.making.undone import jobs_of
from proofgen.records.archive import archive
from proofgen.told.quicker import asked_for

ROWS = [
    {"order": f"K-{i}", "name": name, "design": "boat"}
    for i, name in enumerate(("Ada", "Bo", "Di"), 1)
]


def set_in_workshop(folder: Path, text: str) -> None:
    file = folder / "workshop.toml"
    file.write_text(f"{file.read_text()}{text}\n")
    opened._open.clear()


def paths_of(file: Path) -> dict[str, str]:
    """The outer cut of each piece of a file."""
    text = file.read_text(encoding="utf-8")
    cuts = "".join(re.findall(r'data-operation="cut-outside".*?</g>', text, re.S))
    return dict(re.findall(r'<path data-piece="([^"]*)" d="([^"]*)"', cuts))


@pytest.fixture
def begun(tmp_path: Path, told) -> tuple[Path, Path]:
    """A book of which a board failed after its first piece; the file of what is left."""
    book = approved(tmp_path, ROWS)
    (sheet,) = told("sheets", book)["sheets"]
    assert main(["resume", str(book), sheet["id"], "--done", "1"]) == 0
    (file,) = (tmp_path / "sheets").glob("S-*.svg")
    return book, file


@pytest.mark.parametrize(
    "change",
    [
        "[cutting]\ncompensate = true\ntabs = 3\nlead_in = 2",
        "[machine]\nkerf = 1.9\n[cutting]\ncompensate = true\novercut = 2",
    ],
)
def test_a_begun_board_stays_as_it_was_written(begun, told, change: str) -> None:
    book, file = begun
    before = file.read_bytes()
    set_in_workshop(book.parent, change)
    (sheet,) = told("sheets", book, "--manner", "operation", "--apart", "--format", "dxf")["sheets"]
    assert [Path(each) for each in sheet["files"]] == [file]
    assert file.read_bytes() == before


def test_what_is_given_up_with_a_begun_board_is_said(begun, told) -> None:
    book, file = begun
    (said,) = told("stock", book, "--gone", file.stem)["given_up"]
    assert said.startswith(f"{file.stem}, and what would be left of it, R-0001, is given up; ")
    (sheet,) = told("sheets", book)["sheets"]
    left = {f"{each['order']} {each['name']}, boat" for each in sheet["layers"]}
    assert len(left) == 2
    assert set(said.split("laid anew: ")[1].split("; ")) == left
    assert told("stock", book)["given_up"] == []


def test_a_board_is_counted_in_the_order_in_which_it_was_written(tmp_path: Path, told) -> None:
    names = ("Ada", "Bo", "Di", "Ed", "Flo")
    rows = [{**ROWS[0], "order": f"K-{i}", "name": name} for i, name in enumerate(names)]
    book = approved(tmp_path, rows)
    (sheet,) = told("sheets", book, "--seconds", 2)["sheets"][:1]
    order = [each["order"] for each in sheet["layers"]]
    # Cuts that begin elsewhere would be made in another order.
    set_in_workshop(tmp_path, "[cutting]\ncompensate = true\ntabs = 5\nlead_in = 2\novercut = 3")
    assert main(["resume", str(book), sheet["id"], "--done", "1"]) == 0
    steps = {each["order"]: each["step"] for each in told("status", book)["lines"]}
    assert [number for number, step in steps.items() if step == "made"] == order[:1]
    file = max((tmp_path / "sheets").glob("S-*.svg"))
    assert len(paths_of(file)) == len(order) - 1


def aside(told, book: Path) -> str:
    found = told("sheets", book)
    assert found["sheets"] == []
    (said,) = found["aside"]
    return said


def test_a_begun_board_under_a_clamp_is_left_aside_and_its_pieces_wait(begun, told) -> None:
    book, file = begun
    before, toml = file.read_bytes(), (book.parent / "workshop.toml").read_text()
    set_in_workshop(book.parent, "keep_out = [[0, 0, 260, 200]]")
    said = aside(told, book)
    assert said.startswith(f"{file.stem} is left aside: a cut of ")
    assert "enters a place that is kept out" in said
    assert said.endswith(f"stock --gone {file.stem}.")
    assert not file.exists()
    (book.parent / "workshop.toml").write_text(toml)
    opened._open.clear()
    assert len(told("sheets", book)["sheets"]) == 1
    assert file.read_bytes() == before


def test_a_begun_board_of_wood_of_another_thickness_is_left_aside(begun, told) -> None:
    book, file = begun
    set_in_workshop(book.parent, "[materials.birch-3]\nthickness = 4")
    assert "it is of birch-3 of 3 mm, which is 4 mm now" in aside(told, book)
    # Once it is given up, its pieces are laid on new boards.
    assert main(["stock", str(book), "--gone", file.stem]) == 0
    found = told("sheets", book)
    assert found["aside"] == []
    assert sum(len(sheet["layers"]) for sheet in found["sheets"]) == 2


def test_a_remainder_of_another_thickness_is_left_aside(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS[:1])
    (first,) = told("sheets", book)["sheets"]
    left = first["remainder"]["id"]
    assert main(["made", str(book), first["id"]]) == 0
    book = approved(tmp_path, ROWS[:2])
    assert told("sheets", book)["sheets"][0]["remainder_used"] == left
    set_in_workshop(tmp_path, "[materials.birch-3]\nthickness = 4")
    found = told("sheets", book)
    assert found["sheets"][0]["remainder_used"] is None
    (said,) = found["aside"]
    assert said.startswith(f"{left} is left aside: it is 3 mm thick, and birch-3 is 4 mm now.")
    assert said.endswith(f"stock --gone {left}.")


def test_a_sheet_that_cannot_be_cut_any_more_is_not_resumed(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, ROWS)
    (sheet,) = told("sheets", book)["sheets"]
    set_in_workshop(tmp_path, "keep_out = [[0, 0, 260, 200]]")
    assert main(["resume", str(book), sheet["id"], "--done", "1"]) == 2
    assert "enters a place that is kept out. Set the workshop file" in capsys.readouterr().err
    steps = {each["step"] for each in told("status", book)["lines"]}
    assert steps == {"approved"}


def seconds_of(sheet: dict) -> float:
    (times,) = (each for each in sheet["seconds"] if each["as_written"])
    return times["total"]


def minutes(sheet: dict, share: float = 1.0) -> str:
    whole, rest = divmod(round(share * seconds_of(sheet)), 60)
    return f"{sheet['id']}={whole}:{rest:02}"


def engraved_groups(sheet: dict) -> int:
    (file,) = (Path(each) for each in sheet["files"] if each.endswith("-engrave.svg"))
    return file.read_text(encoding="utf-8").count('data-operation="engrave-area"')


@pytest.mark.parametrize("design", ["boat", "remembrance", "lantern"])
def test_what_is_written_apart_is_timed_so_again_and_again(
    tmp_path: Path, told, design: str
) -> None:
    rows = [{**row, "design": design} for row in ROWS]
    book = approved(tmp_path, rows)
    plain = told("sheets", book)["sheets"]
    sheets = told("sheets", book, "--apart")["sheets"]
    assert [each["id"] for each in sheets] == [each["id"] for each in plain]
    for one, other in zip(sheets, plain, strict=True):
        # A program fills what is one group in rows across the board.
        (way,) = (t["way"] for t in one["seconds"] if t["as_written"])
        groups = engraved_groups(one)
        assert way == ("raster per sheet" if groups <= 1 else "raster per piece")
        # The machine goes over the board once more.
        assert seconds_of(one) != seconds_of(other)

    # The rest, too, in the plan of the day.
    many = max(sheets, key=lambda sheet: len(sheet["layers"]))
    assert main(["resume", str(book), many["id"], "--done", "1"]) == 0
    rest = max(path.name[:6] for path in (tmp_path / "sheets").glob("S-*"))
    (left,) = (each for each in told("sheets", book)["sheets"] if each["id"] == rest)
    assert [Path(each).name for each in left["files"]] == [f"{rest}-cut.svg"]
    assert {t["engraving"] for t in left["seconds"]} == {0.0}


def test_two_sheets_apart_give_the_factors_that_they_were_timed_with(tmp_path: Path, told) -> None:
    from test_sheets import ROWS as MORE

    book = approved(tmp_path, [*MORE, {"order": "K-4", "name": "Ed", "design": "remembrance"}])
    sheets = told("sheets", book, "--apart")["sheets"]
    assert len(sheets) > 1
    assert main(["calibrate", str(book), *map(minutes, sheets)]) == 0
    text = (tmp_path / "workshop.toml").read_text()
    factors = re.findall(r"(?:engraving|cutting)_factor = ([0-9.]+)", text)
    assert [float(each) for each in factors] == pytest.approx([1, 1], abs=0.01)


@pytest.mark.parametrize("when", ["before", "after"])
def test_a_piece_waits_once_its_finish_is_gone(tmp_path: Path, told, when: str) -> None:
    stain = f'[finishes.kelp]\ntitle = "kelp"\nwhen = "{when}"\nstain = "#203050"\n'
    rows = [
        {"order": "K-1", "name": "Ada", "design": "lantern", "finish": "kelp"},
        {"order": "K-2", "name": "Bo", "design": "boat", "finish": "natural"},
    ]
    book = approved(tmp_path, rows, more=stain)
    whole = told("sheets", book)
    file = tmp_path / "workshop.toml"
    file.write_text(file.read_text().replace(stain, ""))
    opened._open.clear()
    for call in (("sheets", book), ("sheets", book, "--ahead")):
        found = told(*call)
        assert {each[0] for each in layers(found)} == {"K-2"}
        (said,) = found["aside"]
        assert "row 2, order K-1 Ada, is left aside" in said
        assert "has no finish kelp any more" in said
    set_in_workshop(tmp_path, stain)
    again = told("sheets", book)
    assert (layers(again), again["aside"]) == (layers(whole), [])


def changed(form: Form, words: str) -> Form:
    """A form once that is said, or left out."""
    for each in words.split(", "):
        what, value = each.split()
        if what == "without":
            form = replace(form, **{value[2:]: type(getattr(form, value[2:]))()})
        else:
            form = replace(form, **{what[2:]: value})
    return form


@pytest.mark.parametrize("apart", [False, True])
@pytest.mark.parametrize("design", ["boat", "lantern"])
def test_what_is_told_to_be_quicker_changes_how_it_is_engraved(
    tmp_path: Path, told, design: str, apart: bool
) -> None:
    book = approved(tmp_path, [{**row, "design": design} for row in ROWS])
    told("sheets", book)
    shop = opened.shop_for(book, opened.Options()).workshop
    with archive(tmp_path) as records:
        find, job = finder(records), jobs_of(records)["S-0001"]
        for manner, hatch in itertools.product(("piece", "operation"), ("", "scan", "contour")):
            sheet = planned(job, find, shop, Form(manner=manner, hatch=hatch, apart=apart))
            for times in sheet.times:
                if times is sheet.expected or not times.acceptable:
                    continue
                words = asked_for(sheet, times.way)
                other = planned(job, find, shop, changed(sheet.form, words))
                assert other.expected.way == times.way, (sheet.form, words)


def test_of_a_begun_board_nothing_is_told_to_be_quicker(begun, capsys) -> None:
    book, _ = begun
    approved(book.parent, [*ROWS, {**ROWS[0], "order": "K-9", "name": "Flo"}])
    capsys.readouterr()
    assert main(["sheets", str(book)]) == 0
    old, new = capsys.readouterr().out.split("\nS-0003")
    assert "the board that was begun" in old
    assert "quicker" not in old
    assert "quicker: --hatch contour" in new
