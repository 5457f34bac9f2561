"""Records of pictures: kept exactly, only added to, safe with two processes and after a kill."""

from __future__ import annotations

import json
import signal
import sqlite3
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest
from books import lines, write_book

from proofgen.artwork.artwork import Artwork, Made
from proofgen.artwork.proofcode import ALPHABET, normal_code
from proofgen.day import pipeline, rows
from proofgen.day.shop import make_row, meaning_in, open_shop, picture_record
from proofgen.errors import UnusableError
from proofgen.flags.flag import Flag
from proofgen.flags.kinds import KINDS
from proofgen.records.approval import approval
from proofgen.records.archive import FILE, archive, digest
from proofgen.records.codec import decoded, encoded
from proofgen.records.codes import found_codes
from proofgen.records.memory import Memory, Remembered
from proofgen.records.record import Entry, Record
from proofgen.records.schema import ADDED

GOLDEN = Path(__file__).parent / "golden" / "artwork-1.json"
CODE, OTHER = "GEHY-MQE5", "8ZWV-24RG"
ASSENT = open_shop().workshop.selling.assent
ROW = {"order": "T-1", "name": "Otto", "design": "boat", "year": 2027}


def quiet(*_: int) -> None:
    pass


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return write_book(tmp_path / "orders.xlsx", [ROW])


def artwork(book: Path, **cells: str | int) -> Artwork:
    (line,) = lines(book, {**ROW, **cells})
    made = make_row(line, open_shop())
    assert made.artwork
    return made.artwork


@pytest.mark.parametrize("design", ["boat", "medallion", "remembrance", "wavename"])
def test_artwork_comes_back_to_the_nanometre(book: Path, design: str) -> None:
    whole = artwork(book, design=design, name="Ida & Bjørn" if design == "boat" else "Ida")
    back = decoded(encoded(whole), whole.order)
    assert encoded(back) == encoded(whole)
    assert back.lettering[0].lines == whole.lettering[0].lines
    for a, b in zip(whole.layers, back.layers, strict=True):
        assert [(m.operation, m.field, m.side) for m in a.marks] == [
            (m.operation, m.field, m.side) for m in b.marks
        ]
        for m, n in zip(a.marks, b.marks, strict=True):
            box, other = m.path.bounds(), n.path.bounds()
            assert box.left == pytest.approx(other.left, abs=2e-6)
            assert box.bottom == pytest.approx(other.bottom, abs=2e-6)


def test_format_1_is_read_as_it_was_written(book: Path, update: bool) -> None:
    whole = artwork(book)
    if update and not GOLDEN.exists():
        GOLDEN.write_bytes(encoded(whole))
    kept = decoded(GOLDEN.read_bytes(), whole.order)
    assert encoded(kept) == GOLDEN.read_bytes()
    assert [layer.name for layer in kept.layers] == ["boat"]
    with pytest.raises(UnusableError, match="a later proofgen wrote"):
        decoded(json.dumps({"format": 2}).encode(), whole.order)


def test_records_are_only_added(book: Path) -> None:
    pipeline.proof(book, pipeline.Options(), quiet)
    base = sqlite3.connect(book.with_name(FILE))
    for statement in (
        "DELETE FROM pictures",
        "UPDATE pictures SET code = 'X'",
        "UPDATE artworks SET data = x'00'",
        "INSERT OR REPLACE INTO pictures SELECT * FROM pictures",
        "DELETE FROM events",
    ):
        if "events" in statement:
            base.execute("INSERT INTO events VALUES (1, '', '', '', 1, '', '')")
        with pytest.raises(sqlite3.IntegrityError, match="only added"):
            base.execute(statement)
    base.close()


def test_records_of_the_first_format_are_read_and_added_to(tmp_path: Path) -> None:
    """The file as the first release made it: no ledger, no meanings of cells, no finishes."""
    book = write_book(tmp_path / "orders.xlsx", [ROW])
    (shown,) = pipeline.proof(book, pipeline.Options(), quiet).rows
    write_book(book, [{**ROW, "approved": shown.code}])
    base = sqlite3.connect(tmp_path / FILE)
    rows = {t: base.execute(f"SELECT * FROM {t}").fetchall() for t in ("artworks", "pictures")}
    base.close()
    (tmp_path / FILE).unlink()
    base = sqlite3.connect(tmp_path / FILE)
    base.executescript(ADDED[0])
    base.executemany("INSERT INTO artworks VALUES (?, ?)", rows["artworks"])
    old = [row[:-2] for row in rows["pictures"]]
    base.executemany(f"INSERT INTO pictures VALUES ({', '.join('?' * len(old[0]))})", old)
    base.execute("PRAGMA user_version = 1")
    base.commit()
    base.close()
    assert pipeline.make(book, pipeline.Options(), quiet, everything=False).production
    with archive(tmp_path) as kept:
        kept.enter([Entry("2027-05-01T08:00:00+00:00", "stock-counted", "x", 3)])
        assert [entry.amount for entry in kept.entries("stock-counted")] == [3]
    write_book(book, [{**ROW, "name": "Otta", "approved": shown.code}])
    (made,) = pipeline.make(book, pipeline.Options(), quiet, everything=False).rows
    assert "changed-since-approval" in [flag.kind.id for flag in made.flags]


def test_a_damaged_or_later_file_is_told(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"no database at all, but long enough to be looked at" * 99)
    with pytest.raises(UnusableError, match="records cannot be read"), archive(tmp_path) as kept:
        kept.pictures("T-1")
    (tmp_path / FILE).unlink()
    base = sqlite3.connect(tmp_path / FILE)
    base.execute("PRAGMA user_version = 99")
    base.close()
    with pytest.raises(UnusableError, match="later proofgen"), archive(tmp_path) as kept:
        kept.pictures("T-1")


def test_damaged_artwork_is_not_made(book: Path) -> None:
    pipeline.proof(book, pipeline.Options(), quiet)
    base = sqlite3.connect(book.with_name(FILE))
    base.execute("DROP TRIGGER artworks_keep_update")
    base.execute("UPDATE artworks SET data = x'00'")
    base.commit()
    base.close()
    with archive(book.parent) as kept:
        (picture,) = kept.pictures("T-1")
        with pytest.raises(UnusableError, match="is damaged"):
            kept.artwork(picture.artwork)


WRITER = """
import sys
from dataclasses import replace
from pathlib import Path
from proofgen.records.archive import archive, digest
from proofgen.records.record import Record
folder, name = Path(sys.argv[1]), sys.argv[2]
print("ready", flush=True)
for i in range(int(sys.argv[3])):
    data = (name + str(i)).encode() * 500
    record = Record(name, i, "C", (), 1, "", "", digest(data), "boat", "", (), "")
    with archive(folder) as kept:
        kept.add([(record, data), (replace(record, line=-i), data)])
"""


def writer(folder: Path, name: str, count: int) -> subprocess.Popen[bytes]:
    arguments = [sys.executable, "-c", WRITER, str(folder), name, str(count)]
    process = subprocess.Popen(arguments, stdout=subprocess.PIPE)
    assert process.stdout
    process.stdout.readline()
    process.stdout.close()
    return process


def test_two_processes_lose_nothing(tmp_path: Path) -> None:
    for process in [writer(tmp_path, name, 20) for name in ("a", "b")]:
        assert process.wait() == 0
    with archive(tmp_path) as kept:
        assert [len(kept.pictures(name)) for name in ("a", "b")] == [40, 40]


def test_a_kill_leaves_whole_records(tmp_path: Path) -> None:
    for turn in range(6):
        process = writer(tmp_path, f"k{turn}", 10_000)
        time.sleep(0.03 + 0.05 * turn)
        process.send_signal(signal.SIGKILL)
        process.wait()
        with archive(tmp_path) as kept:
            found = kept.pictures(f"k{turn}")
            assert len(found) % 2 == 0, "two that belong together are both there or not at all"
            for record in found[-4:]:
                assert digest(kept.artwork(record.artwork)) == record.artwork
    base = sqlite3.connect(tmp_path / FILE)
    assert base.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert base.execute("SELECT count(*) FROM pictures").fetchone()[0] > 0
    base.close()


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("gehy mqe5", CODE),
        ("Yes!! GEHYMQE5 :)", CODE),
        ("code: gehy\u2013mqe5.", CODE),
        ("it is GEHY - MQE5", CODE),
        ("GEHY\u2212MQE5", CODE),  # the minus sign
        ("GEHY--MQE5", CODE),
        ("gehy/mqe5", CODE),
        ("GEHY: MQE5", CODE),
        ("GEHY-MQES", CODE),  # S for 5
        ("6EHY-MQE5", CODE),  # 6 for G
        ("GEHY-M0E5", CODE),  # a zero for Q
        ("tomorrow morning that'll work", ""),
        ("GEHY-MQE6", ""),
        ("GEHY-MQ5E", ""),
        ("call 0123 4567 please", ""),
    ],
)
def test_codes_are_found_in_what_people_write(typed: str, code: str) -> None:
    assert [found for found, _ in found_codes(typed, {CODE, OTHER})] == ([code] if code else [])


def test_a_code_with_two_letters_that_look_alike_is_never_taken_for_another_order() -> None:
    # Without being one of the order's own, only the exact code counts.
    assert found_codes("GEHY-MQES", {OTHER}) == ()
    assert found_codes(CODE, {OTHER}) == ((CODE, CODE),)
    assert all(normal_code(c) == c for c in (CODE, OTHER))
    assert len(ALPHABET) == 31


def picture(book: Path, **changes: object) -> Record:
    (line,) = lines(book, ROW)
    shop = open_shop()
    made = make_row(line, shop)
    assert made.artwork is not None
    record = picture_record(made, encoded(made.artwork), shop)
    return replace(record, code=CODE, **changes)


@pytest.mark.parametrize(
    ("typed", "stands", "flags"),
    [
        (CODE, True, []),
        (f"Yes please, that's perfect, thank you!! {CODE}", True, []),
        (f"{CODE} but with two Ls", False, ["approval-words"]),
        (f"No. {CODE}", False, ["approval-words"]),
        (f"not {CODE}", False, ["approval-words"]),
        (f"Are you sure? {CODE}", False, ["approval-words"]),
        (f"{CODE}?", False, ["approval-words"]),
        (f"{CODE} \U0001f44e", False, ["approval-words"]),
        (f"{CODE} :(", False, ["approval-words"]),
        (f"{CODE} :-/", False, ["approval-words"]),
        (f"Yes ({CODE}) :)", True, []),
        (f"{CODE} \u274c", False, ["approval-words"]),
        (f"Yes {CODE} \u2717", False, ["approval-words"]),
        (f"{CODE} \U0001f44d\U0001f3fd \u2764\ufe0f", True, []),
        ("yes", False, ["approval-mistyped"]),
        (OTHER, False, ["code-unknown"]),
        ("  ", False, []),
    ],
)
def test_what_is_an_approval(book: Path, typed: str, stands: bool, flags: list[str]) -> None:
    (line,) = lines(book, ROW)
    order = replace(line.order, approved=typed)
    found = approval(order, (picture(book),), meaning_in(open_shop(), line.order), ASSENT)
    assert found.stands is stands
    assert [flag.kind.id for flag in found.flags] == flags


def test_old_and_new_are_told_and_a_quantity_only_looks(book: Path) -> None:
    (line,) = lines(book, ROW)
    shown = picture(book)
    changed = replace(line.order, approved=CODE, fields=(("name", "Otta"), ("year", "2027")))
    found = approval(changed, (shown,), meaning_in(open_shop(), line.order), ASSENT)
    assert not found.stands
    assert "'Otto'" in found.flags[0].text
    assert "'Otta'" in found.flags[0].text
    more = approval(
        replace(line.order, approved=CODE, quantity=2),
        (shown,),
        meaning_in(open_shop(), line.order),
        ASSENT,
    )
    assert more.stands
    assert [flag.kind.id for flag in more.flags] == ["quantity-changed"]
    others = replace(line.order, approved=CODE, buyer="Someone Else", due="2027-08-01")
    assert approval(others, (shown,), meaning_in(open_shop(), line.order), ASSENT).flags == ()


def test_records_that_are_held_elsewhere_are_not_called_damaged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = write_book(tmp_path / "orders.xlsx", [ROW])
    pipeline.proof(book, pipeline.Options(), quiet)
    monkeypatch.setattr("proofgen.records.archive.WAIT", 50)
    holder = sqlite3.connect(tmp_path / FILE, isolation_level=None)
    holder.execute("BEGIN EXCLUSIVE")
    with pytest.raises(UnusableError, match="another program holds the records"):
        pipeline.check(book, pipeline.Options(), quiet)
    holder.execute("ROLLBACK")
    holder.close()
    assert pipeline.check(book, pipeline.Options(), quiet).rows


def test_what_was_recorded_is_made_though_the_design_has_changed(tmp_path: Path) -> None:
    from shutil import copytree

    from proofgen.resources import folder

    own = tmp_path / "designs" / "own"
    copytree(folder("templates") / "boat", own)
    said = (own / "design.toml").read_text(encoding="utf-8").replace("Regatta boat", "Own boat")
    (own / "design.toml").write_text(said, encoding="utf-8")
    book = write_book(tmp_path / "orders.xlsx", [{**ROW, "design": "own"}])
    (shown,) = pipeline.proof(book, pipeline.Options(), quiet).rows
    write_book(book, [{**ROW, "design": "own", "approved": f"ok {shown.code}"}])
    before = files(pipeline.make(book, pipeline.Options(), quiet, everything=False))
    drawing = (own / "boat.svg").read_text(encoding="utf-8")
    moved = drawing.replace('id="hole" cx="', 'id="hole" cx="1')
    assert moved != drawing
    (own / "boat.svg").write_text(moved, encoding="utf-8")
    rows._open.clear()
    after = pipeline.make(book, pipeline.Options(), quiet, everything=False)
    assert files(after) == before
    assert len(before) == 1
    assert [flag.kind.id for flag in after.rows[0].flags] == ["made-as-recorded"]


def test_an_approved_piece_is_shown_though_its_picture_and_its_finish_are_gone(
    tmp_path: Path,
) -> None:
    own = tmp_path / "workshop.toml"
    own.write_text(
        "format = 1\n[finishes.sea]\ntitle = 'sea'\nwhen = 'before'\nstain = '#203050'\n"
    )
    rows_ = [{**ROW, "order": "T-1", "finish": "sea"}, {**ROW, "order": "T-1", "name": "Bo"}]
    book = write_book(tmp_path / "orders.xlsx", rows_)
    first = pipeline.proof(book, pipeline.Options(), quiet)
    before = first.pictures[2].read_bytes()
    approved = [{**rows_[0], "approved": f"ok {first.rows[0].code}"}, rows_[1]]
    write_book(book, approved)
    first.pictures[2].unlink()
    again = pipeline.proof(book, pipeline.Options(), quiet)
    assert again.pictures[2].read_bytes() == before
    assert again.rows[0].flags == ()
    own.write_text("format = 1\n")
    rows._open.clear()
    again.pictures[2].unlink()
    plain = pipeline.proof(book, pipeline.Options(pdf=True), quiet)
    told = [(flag.kind.id, flag.subject) for flag in plain.rows[0].flags]
    assert told == [("made-as-recorded", "the finish sea")]
    assert plain.pictures[2].read_bytes() != before
    assert len(plain.sets) == len(plain.pages) == 1


def files(run: pipeline.Run) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for paths in run.production.values() for p in paths}


def test_only_rows_that_changed_are_done_again(tmp_path: Path, monkeypatch) -> None:
    monkeypatch.setenv("PROOFGEN_CACHE", str(tmp_path / "cache"))
    done: list[str] = []
    work = rows.work
    monkeypatch.setattr(rows, "work", lambda job: done.append(job.line.order.number) or work(job))
    many = [{**ROW, "order": f"T-{i}", "name": name} for i, name in enumerate(("Ada", "Bo", "Cy"))]
    book = write_book(tmp_path / "orders.xlsx", many)

    def run() -> list[str]:
        done.clear()
        first = pipeline.proof(book, pipeline.Options(), quiet)
        assert len(first.pictures) == 3
        assert [made.order.field("name") for made in first.rows] == [r["name"] for r in many]
        return list(done)

    assert run() == ["T-0", "T-1", "T-2"]
    assert run() == []
    many[1]["name"] = "Bob"
    write_book(book, many)
    assert run() == ["T-1"]
    picture = next((tmp_path / "proofs").glob("*T-2*.png"))
    picture.write_bytes(b"cut short")
    assert run() == ["T-2"]
    # A picture that is not in the records is recorded again, as when they were moved away.
    (tmp_path / FILE).unlink()
    assert run() == []
    with archive(tmp_path) as kept:
        assert [len(kept.pictures(f"T-{i}")) for i in range(3)] == [1, 1, 1]
    (tmp_path / "workshop.toml").write_text("format = 1\nedition_year = 2027\ntitle = 'x'\n")
    assert run() == ["T-0", "T-1", "T-2"]


def test_a_line_is_remembered_with_all_that_was_found(tmp_path: Path, monkeypatch) -> None:
    """Its blank year is told only where the design letters a year; no stop goes with it."""
    long = "Bartholomew-Maximilian Featherstonehaugh"
    rows_ = [
        {"order": "Z-1", "name": long, "design": "remembrance"},
        {"order": "Z-2", "name": " ida  QUAYLE", "design": "remembrance", "inscription": "a\nb\nc"},
        {"order": "Z-3", "name": long, "design": "boat", "inscription": "not used"},
        {"order": "Z-3", "name": "Ann", "design": "boat"},
        {"order": "Z-4", "name": "Ann", "design": "none such"},
        {"order": "Z-5", "name": "Ann", "design": "plaque", "inscription": "Ahoy, " * 30},
    ]
    book = write_book(tmp_path / "orders.xlsx", rows_)
    first = pipeline.check(book, pipeline.Options(), quiet)
    monkeypatch.setattr(rows, "work", lambda job: pytest.fail(f"{job.line.order.number} again"))
    second = pipeline.check(book, pipeline.Options(), quiet)
    assert [made.verdict for made in first.rows[:2]] == ["stop", "look"]
    assert [(m.code, m.flags) for m in second.rows] == [(m.code, m.flags) for m in first.rows]
    blank = [any(f.kind.id == "year-blank" for f in made.flags) for made in first.rows]
    assert blank == [False, False, True, True, True, True]
    (too_long,) = (f for f in second.rows[-1].flags if f.kind.id == "text-too-long")
    assert "would reach" in too_long.remedy


def test_a_note_that_was_left_out_takes_no_other_with_it(tmp_path: Path) -> None:
    (line,) = lines(tmp_path / "orders.xlsx", {**ROW, "year": None})
    found = Flag(KINDS[0], "row 2")
    memory = Memory(tmp_path, tmp_path / "orders.xlsx")
    assert line.flags
    memory.keep([("key", line, Remembered(Made(line.order, None, (found,)), ""), b"")])
    assert found in memory.known({"key": line})["key"].made.flags


def test_an_approved_tablet_is_not_told_of_a_year(tmp_path: Path) -> None:
    row = {"order": "Z-1", "name": "Ida", "design": "remembrance"}
    book = write_book(tmp_path / "orders.xlsx", [row])
    (shown,) = pipeline.proof(book, pipeline.Options(), quiet).rows
    write_book(book, [{**row, "approved": f"ok {shown.code}"}])
    (made,) = pipeline.check(book, pipeline.Options(), quiet).rows
    assert made.code == shown.code
    assert made.flags == ()


def test_every_kind_keeps_its_id() -> None:
    assert len({kind.id for kind in KINDS}) == len(KINDS)
