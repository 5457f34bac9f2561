"""A book that is sorted, added to and corrected between runs: every piece keeps what is its own."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from shutil import copytree, rmtree

import pytest
from books import write_book

from proofgen.day import daybook, pipeline, rows
from proofgen.day.rows import Options
from proofgen.desk.status import Standing
from proofgen.resources import folder

FAMILY = [
    {"order": "K-1", "name": name, "design": "boat", "year": 2027} for name in ("Ada", "Bo", "Cy")
]


def quiet(*_: int) -> None:
    pass


def proofed(folder: Path, lines: list[dict[str, object]]) -> pipeline.Run:
    return pipeline.proof(write_book(folder / "orders.xlsx", lines), Options(), quiet)


def standings(book: Path) -> tuple[Standing, ...]:
    return daybook.status(book, Options(), quiet, date(2027, 6, 1), None).standings


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.glob("*.png"))


def test_a_row_that_is_put_in_on_top_does_nothing_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "cache"))
    singles = [{**line, "order": f"K-{i}"} for i, line in enumerate(FAMILY, 1)]
    singles[1]["name"] = "Ida Margarethe-Wilhelmina of the Long Harbour Wall"  # it is flagged
    before = proofed(tmp_path, singles)
    files = names(tmp_path / "proofs")
    done: list[str] = []
    work = rows.work
    monkeypatch.setattr(rows, "work", lambda job: done.append(job.line.order.number) or work(job))
    after = proofed(tmp_path, [{**FAMILY[0], "order": "K-0", "name": "New"}, *singles])
    assert done == ["K-0"]
    assert set(files) < set(names(tmp_path / "proofs"))
    assert [made.code for made in after.rows[1:]] == [made.code for made in before.rows]
    long = after.rows[2]
    assert {flag.where for flag in long.flags} == {"row 4, name (B4)"}
    assert [flag.where for flag in before.rows[1].flags] == ["row 3, name (B3)"] * len(long.flags)


def test_what_happened_stays_with_the_piece_when_rows_are_sorted(tmp_path: Path) -> None:
    proofed(tmp_path, FAMILY)
    book = tmp_path / "orders.xlsx"
    daybook.note("packed", book, Options(orders=("K-1",)), quiet, anyway=True)
    write_book(book, [{**FAMILY[0], "name": "Dot"}, *reversed(FAMILY)])
    assert [(s.order.field("name"), s.step) for s in standings(book)] == [
        ("Dot", "not proofed"),
        ("Cy", "packed"),
        ("Bo", "packed"),
        ("Ada", "packed"),
    ]


def test_pictures_of_what_is_no_longer_asked_for_are_moved_away(tmp_path: Path) -> None:
    proofs = tmp_path / "proofs"
    proofed(tmp_path, FAMILY)
    old = names(proofs)
    assert len(old) == 4
    mine = proofs / "Ada-holiday.png"
    mine.write_bytes(b"the maker's own")
    run = proofed(tmp_path, [{**FAMILY[0], "name": "Adah"}])
    moved = set(old)
    assert {path.name for path in run.earlier} == moved
    assert set(names(proofs / "earlier")) == moved
    assert names(proofs) == sorted([mine.name, *(p.name for p in run.pictures.values())])


def test_pictures_of_an_order_that_is_out_of_the_book_are_moved_away(tmp_path: Path) -> None:
    """Also of a renumbered one; not those of another book in the folder."""
    proofs = tmp_path / "proofs"
    other = write_book(tmp_path / "other.xlsx", [{**FAMILY[0], "order": "X-1"}])
    pipeline.proof(other, Options(pdf=True), quiet)
    lines = [*FAMILY, {**FAMILY[0], "order": "K-2"}]
    book = write_book(tmp_path / "orders.xlsx", lines)
    pipeline.proof(book, Options(pdf=True), quiet)
    there = {path.name for path in proofs.iterdir()}
    write_book(book, [*FAMILY, {**FAMILY[0], "order": "K-3"}])
    assert not pipeline.proof(book, Options(orders=("K-1",)), quiet).earlier
    run = pipeline.proof(book, Options(pdf=True), quiet)
    moved = {path.name for path in run.earlier}
    assert moved == {name for name in there if "K-2" in name}
    assert len(moved) == 2
    assert there - moved <= {path.name for path in proofs.iterdir()}


def test_pages_stay_while_they_show_what_is_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "cache"))
    lines = [{**each, "quantity": 1} for each in (*FAMILY, {**FAMILY[0], "order": "K-2"})]
    book = write_book(tmp_path / "orders.xlsx", lines)
    pages = pipeline.proof(book, Options(pdf=True), quiet).pages
    assert [path.name for path in pages] == ["order-K-1.pdf", "order-K-2.pdf"]
    lines[-1] = {**lines[-1], "quantity": 2}
    run = pipeline.proof(write_book(book, lines), Options(), quiet)
    # The picture too, as it was before it said how many there are.
    assert [path.name for path in run.earlier] == [run.pictures[5].name, "order-K-2.pdf"]
    run = pipeline.proof(write_book(book, lines[1:]), Options(), quiet)
    assert "order-K-1.pdf" in [path.name for path in run.earlier]


@pytest.mark.parametrize(
    ("then", "now", "stands"),
    [
        ({"design": "lantern"}, {"design": "Harbour lantern"}, True),
        ({"design": "lantern", "hanger": "ribbon"}, {"design": "LANTERN", "hanger": None}, True),
        ({"name": "O'Neil"}, {"name": "O\u2019Neil"}, True),
        ({"year": None}, {"year": 2027}, True),
        ({"hanger": "none"}, {"hanger": None}, False),
        ({"year": None}, {"year": 2026}, False),
        ({"name": "Ida"}, {"name": "Ide"}, False),
    ],
)
def test_two_spellings_of_one_wish_keep_the_approval(
    tmp_path: Path, then: dict[str, object], now: dict[str, object], stands: bool
) -> None:
    line = {"order": "K-1", "name": "Ida", "design": "boat", "year": 2027, "hanger": None}
    (tmp_path / "workshop.toml").write_text("format = 1\nedition_year = 2027\n")
    (shown,) = proofed(tmp_path, [{**line, **then}]).rows
    book = write_book(tmp_path / "orders.xlsx", [{**line, **now, "approved": shown.code}])
    run = pipeline.make(book, Options(), quiet, everything=False)
    assert bool(run.production) is stands
    found = [flag.kind.id for flag in run.rows[0].flags]
    assert ("changed-since-approval" in found) is not stands


def test_a_new_edition_does_not_undo_what_was_approved(tmp_path: Path) -> None:
    line = {"order": "K-1", "name": "O'Neil", "design": "boat", "year": None}
    workshop = tmp_path / "workshop.toml"
    workshop.write_text("format = 1\nedition_year = 2027\n")
    (shown,) = proofed(tmp_path, [line]).rows
    workshop.write_text("format = 1\nedition_year = 2028\ntypography = false\n")
    rows._open.clear()
    book = write_book(tmp_path / "orders.xlsx", [{**line, "approved": shown.code}])
    run = pipeline.make(book, Options(), quiet, everything=False)
    (paths,) = run.production.values()
    assert run.rows[0].code == shown.code
    assert paths[0].name.startswith("O-Neil-K-1-")


def test_what_is_packed_stays_packed_and_next_seasons_order_is_another_one(tmp_path: Path) -> None:
    workshop = tmp_path / "workshop.toml"
    workshop.write_text("format = 1\nedition_year = 2027\n")
    line = {**FAMILY[0], "year": None}
    book = write_book(tmp_path / "orders.xlsx", [line])
    (shown,) = pipeline.proof(book, Options(), quiet).rows
    write_book(book, [{**line, "approved": shown.code}])
    daybook.note("packed", book, Options(orders=("K-1",)), quiet, anyway=True)
    workshop.write_text("format = 1\nedition_year = 2028\n")
    rows._open.clear()
    assert [s.step for s in standings(book)] == ["packed"]
    # The same number and name in next season's book, which means the next edition.
    other = write_book(tmp_path / "orders-2028.xlsx", [line])
    assert [s.step for s in standings(other)] == ["not proofed"]


@pytest.mark.parametrize(("year", "stands"), [(None, True), (2027, True), (2028, False)])
def test_a_blank_year_is_what_the_picture_showed(
    tmp_path: Path, year: object, stands: bool
) -> None:
    """Whatever the edition has become since: typing the year that was shown changes nothing."""
    line = {**FAMILY[0], "year": None}
    workshop = tmp_path / "workshop.toml"
    workshop.write_text("format = 1\nedition_year = 2027\n")
    (shown,) = proofed(tmp_path, [line]).rows
    workshop.write_text("format = 1\nedition_year = 2028\n")
    rows._open.clear()
    book = write_book(tmp_path / "orders.xlsx", [{**line, "year": year, "approved": shown.code}])
    run = pipeline.make(book, Options(), quiet, everything=False)
    assert bool(run.production) is stands


def test_what_was_approved_is_made_when_its_design_lost_a_field_or_is_gone(tmp_path: Path) -> None:
    own = tmp_path / "designs" / "gull"
    copytree(folder("templates") / "boat", own)
    toml = own / "design.toml"
    said = toml.read_text(encoding="utf-8").replace("Regatta boat", "Gull")
    assert 'field = "name"' in said
    drawing = own / "boat.svg"
    drawn = drawing.read_text(encoding="utf-8")
    toml.write_text(said.replace('"name"', '"boat-name"'), encoding="utf-8")
    drawing.write_text(drawn.replace("zone.name", "zone.boat-name"), encoding="utf-8")
    line = {**FAMILY[0], "design": "gull", "boat name": "Gull"}
    (shown,) = proofed(tmp_path, [line]).rows
    assert shown.code, shown.flags
    book = write_book(tmp_path / "orders.xlsx", [{**line, "approved": shown.code}])
    toml.write_text(said, encoding="utf-8")
    drawing.write_text(drawn, encoding="utf-8")
    rows._open.clear()
    assert pipeline.make(book, Options(), quiet, everything=False).production
    rmtree(own)
    rows._open.clear()
    assert pipeline.make(book, Options(), quiet, everything=False).production


def test_orders_that_differ_in_case_are_two(tmp_path: Path) -> None:
    lines = [FAMILY[0], {**FAMILY[1], "order": "k-1"}, {**FAMILY[2], "order": "K-2"}]
    proofed(tmp_path, lines)
    book = tmp_path / "orders.xlsx"
    daybook.note("packed", book, Options(orders=("K-1", "k-2")), quiet, anyway=True)
    assert [s.step for s in standings(book)] == ["packed", "waiting", "packed"]
    assert [s.order.line for s in standings(book)] == [1, 1, 1]


def test_a_remembrance_piece_words_the_message_of_its_order(tmp_path: Path) -> None:
    lines = [FAMILY[0], {**FAMILY[0], "name": "Otto", "design": "remembrance"}]
    proofed(tmp_path, lines)
    (mixed,) = daybook.messages(tmp_path / "orders.xlsx", Options(), quiet)
    proofed(tmp_path, lines[1:])
    (alone,) = daybook.messages(tmp_path / "orders.xlsx", Options(), quiet)
    proofed(tmp_path, lines[:1])
    (usual,) = daybook.messages(tmp_path / "orders.xlsx", Options(), quiet)
    ending = [text.text.splitlines()[-1] for text in (mixed, alone, usual)]
    assert ending[0] == ending[1] != ending[2]


def test_lines_are_done_again_after_any_file_of_the_program_changed() -> None:
    code = {path.relative_to(rows.PACKAGE).as_posix() for path in rows.PACKAGE.rglob("*.py")}
    assert {"proofs/still.py", "lettering/fit.py", "day/rows.py", "errors.py"} <= code
