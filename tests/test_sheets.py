"""From approved orders to sheets, by commands; what is cut, pulled, spoiled and left is known."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
import shapely
import svgelements
from books import write_book

from proofgen.cli.program import main
from proofgen.day import pipeline
from proofgen.day.rows import Options

BOARD = "[board]\nwidth = 260\nheight = 200\nmargin = 5\ngap = 3\n"
ROWS = [
    {"order": "K-1", "name": "Ada", "design": "boat"},
    {"order": "K-2", "name": "Bo", "design": "lantern"},
    {"order": "K-3", "name": "Cyrus", "design": "medallion", "quantity": 2},
]


def quiet(*_: int) -> None:
    pass


def approved(folder: Path, rows: list[dict[str, object]], more: str = "") -> Path:
    rows = [{"year": 2027, "quantity": 1, **row, "approved": None} for row in rows]
    (folder / "workshop.toml").write_text(f"format = 1\nedition_year = 2027\n{BOARD}{more}")
    book = write_book(folder / "orders.xlsx", rows)
    shown = pipeline.proof(book, Options(), quiet).rows
    for row, made in zip(rows, shown, strict=True):
        row["approved"] = made.code
    return write_book(book, rows)


def layers(found: dict) -> list[tuple[str, str, int]]:
    return sorted(
        (each["order"], each["layer"], each["copy"])
        for sheet in found["sheets"]
        for each in sheet["layers"]
    )


def outlines(file: Path) -> list[shapely.Polygon]:
    """The outer cuts of a file, followed by another library than ours."""
    found = []
    for group in ElementTree.parse(file).getroot():
        if group.get("data-operation") == "cut-outside":
            for path in group:
                drawn = svgelements.Path(path.get("d"))
                points = [drawn.point(i / 400) for i in range(400)]
                found.append(shapely.Polygon([(p.x, p.y) for p in points]).buffer(0))
    return found


def test_all_that_is_approved_lies_on_sheets_apart_from_all_else(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS)
    found = told("sheets", book)
    assert layers(found) == [
        ("K-1", "boat", 1), ("K-2", "back", 1), ("K-2", "front", 1),
        ("K-3", "medallion", 1), ("K-3", "medallion", 2),
    ]  # fmt: skip
    for sheet in found["sheets"]:
        (file,) = map(Path, sheet["files"])
        cut = outlines(file)
        assert len(cut) == len(sheet["layers"])
        room = shapely.box(5, 5, 255, 195).buffer(0.05)
        assert all(room.contains(each) for each in cut)
        for i, one in enumerate(cut):
            assert all(one.distance(other) >= 3 - 0.05 for other in cut[:i])
        filled = sum(each.area for each in cut) / (260 * 200)
        assert sheet["filled"] == pytest.approx(filled, rel=0.02)


def test_the_same_orders_give_the_same_files_and_other_ones_replace_them(
    tmp_path: Path, told
) -> None:
    book = approved(tmp_path, ROWS[:2])
    first = told("sheets", book)
    before = {p.name: p.read_bytes() for p in (tmp_path / "sheets").glob("*")}
    again = told("sheets", book)
    assert [s["id"] for s in again["sheets"]] == [s["id"] for s in first["sheets"]]
    assert {p.name: p.read_bytes() for p in (tmp_path / "sheets").glob("*")} == before
    other = told("sheets", approved(tmp_path, ROWS))
    ids = {s["id"] for s in other["sheets"]}
    # Of a wood on which nothing else lies now, the sheet stays.
    assert len(ids - {s["id"] for s in first["sheets"]}) == 1
    assert {p.name for p in (tmp_path / "sheets").glob("S-*")} == {f"{i}.svg" for i in ids}
    gone = {f"{s['id']}.svg" for s in first["sheets"] if s["id"] not in ids}
    earlier = {p.name: p.read_bytes() for p in (tmp_path / "sheets" / "earlier").glob("*")}
    assert earlier.keys() == {*gone, "jobs-01.html", "jobs-01.pdf"} and gone
    assert earlier["jobs-01.html"] == before["jobs.html"]


def test_what_is_made_is_never_cut_twice(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, ROWS)
    found = told("sheets", book)
    for sheet in found["sheets"]:
        assert main(["made", str(book), sheet["id"]]) == 0
    assert main(["made", str(book), found["sheets"][0]["id"]]) == 2
    assert "noted as made already" in capsys.readouterr().err
    steps = {line["order"]: line["step"] for line in told("status", book)["lines"]}
    assert steps == {"K-1": "made", "K-2": "made", "K-3": "made"}
    assert told("sheets", book)["sheets"] == []
    assert layers(told("sheets", book, "--again")) == layers(found)


def test_a_spoiled_layer_alone_is_cut_again(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, ROWS)
    assert main(["made", str(book), "K-2", "K-3"]) == 0
    assert main(["redo", str(book), "K-2", "--layer", "front", "--why", "scorched"]) == 0
    assert main(["redo", str(book), "K-3", "--why", "a knot"]) == 0
    assert layers(told("sheets", book)) == [
        ("K-1", "boat", 1), ("K-2", "front", 1), ("K-3", "medallion", 2),
    ]  # fmt: skip
    steps = {line["order"]: line["step"] for line in told("status", book)["lines"]}
    assert steps == {"K-1": "approved", "K-2": "approved", "K-3": "approved"}
    capsys.readouterr()
    assert main(["redo", str(book), "K-1", "--why", "x"]) == 2
    assert main(["redo", str(book), "K-2"]) == 2
    assert main(["redo", str(book), "K-2", "--layer", "lid", "--why", "x"]) == 2
    said = capsys.readouterr().err
    assert "nothing of that is noted as made" in said
    assert "--why" in said
    assert "there is back, front" in said


def test_a_remainder_is_used_first(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS[:1])
    (first,) = told("sheets", book)["sheets"]
    left = first["remainder"]
    assert left["id"] == "R" + first["id"][1:]
    assert told("stock", book)["remainders"] == []
    assert main(["made", str(book), first["id"]]) == 0
    (there,) = told("stock", book)["remainders"]
    assert (there["id"], there["width"], there["height"]) == tuple(left.values())
    (second,) = told("sheets", approved(tmp_path, [*ROWS[:1], ROWS[2]]))["sheets"]
    assert (second["remainder_used"], second["width"]) == (left["id"], left["width"])
    assert main(["stock", str(book), "--gone", left["id"].lower()]) == 0
    assert told("stock", book)["remainders"] == []
    assert main(["stock", str(book), "--gone", left["id"]]) == 2


def test_a_remainder_lies_under_the_same_pins(tmp_path: Path, told) -> None:
    from proofgen.day import rows

    book = approved(tmp_path, ROWS[:1])
    (first,) = told("sheets", book)["sheets"]
    assert main(["made", str(book), first["id"]]) == 0
    medallion = {**ROWS[2], "quantity": 1}
    book = approved(tmp_path, [ROWS[0], medallion])
    file = tmp_path / "workshop.toml"
    file.write_text(file.read_text() + "keep_out = [[0, 0, 40, 200]]\n")
    rows._open.clear()
    (second,) = told("sheets", book)["sheets"]
    assert second["remainder_used"] == first["remainder"]["id"]
    (cut,) = outlines(Path(second["files"][0]))
    assert cut.bounds[0] > 43 - 0.05


def test_a_sheet_that_failed_half_way_leaves_a_file_of_the_rest(tmp_path: Path, told) -> None:
    book = approved(tmp_path, [*ROWS, {"order": "K-4", "name": "Eve", "design": "boat"}])
    sheet = max(told("sheets", book)["sheets"], key=lambda sheet: len(sheet["layers"]))
    order = sheet["layers"]
    assert len(order) >= 3
    whole = Path(sheet["files"][0]).read_text()
    call = ["resume", str(book), sheet["id"], "--done", "1", "--lost", "2", "--why", "power cut"]
    assert main(call) == 0
    rest = max((tmp_path / "sheets").glob("S-*.svg")).read_text()
    kept = [
        set(re.findall(r'<path data-piece="([^"]*)" d="([^"]*)"', text)) for text in (whole, rest)
    ]
    names = {each for each, _ in kept[1]}
    assert len(names) == len(order) - 2
    # Engraving lies where it lay before; cuts may begin elsewhere.
    engraved = re.compile(r'engrave-area".*?</g>', re.S)
    areas = [re.findall(r' d="([^"]*)"', "".join(engraved.findall(text))) for text in (whole, rest)]
    assert areas[1]
    assert set(areas[1]) < set(areas[0])
    again = layers(told("sheets", book))
    first, second = ((o["order"], o["layer"]) for o in order[:2])
    assert first not in [(o, layer) for o, layer, copy in again if o == first[0] != "K-3"]
    assert second in [(o, layer) for o, layer, _ in again]
    assert main(["resume", str(book), sheet["id"], "--done", "1"]) == 2


def test_sheets_that_could_not_be_written_are_not_entered(tmp_path: Path, told, capsys) -> None:
    book = approved(tmp_path, ROWS)
    (tmp_path / "blocked").write_text("")
    assert main(["sheets", str(book), "--out", str(tmp_path / "blocked")]) == 2
    capsys.readouterr()
    for call in (["made", str(book), "S-0001"], ["resume", str(book), "S-0001", "--done", "1"]):
        assert main(call) == 2
        assert "there is no" in capsys.readouterr().err
    found = told("sheets", book)
    assert found["sheets"][0]["id"] == "S-0001"
    assert main(["resume", str(book), "S-0001", "--done", "1"]) == 0


def test_every_format_is_written_apart_on_one_origin(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS[:2])
    formats = [part for each in ("svg", "dxf", "pdf") for part in ("--format", each)]
    found = told("sheets", book, *formats, "--apart", "--manner", "operation")
    for sheet in found["sheets"]:
        names = {Path(file).name for file in sheet["files"]}
        ends = {f"-{part}.{kind}" for part in ("engrave", "cut") for kind in ("svg", "dxf", "pdf")}
        assert names == {sheet["id"] + end for end in ends}
        svgs = [Path(f).read_text() for f in sheet["files"] if f.endswith(".svg")]
        engrave, cut = (set(re.findall(r'data-operation="([a-z]+)', text)) for text in svgs)
        assert (engrave, cut) == ({"engrave"}, {"cut"})
        boxes = {re.search(r'viewBox="[^"]*"', text)[0] for text in svgs}
        assert len(boxes) == 1
    # What is left of a sheet that failed is written as that was, but for what is engraved by then.
    many = max(found["sheets"], key=lambda sheet: len(sheet["layers"]))
    assert main(["resume", str(book), many["id"], "--done", "1"]) == 0
    rest = max(p.name[:6] for p in (tmp_path / "sheets").glob("S-*"))
    assert rest not in {sheet["id"] for sheet in found["sheets"]}
    assert {p.name for p in (tmp_path / "sheets").glob(f"{rest}*")} == {
        rest + end for end in ends if end.startswith("-cut")
    }


@pytest.mark.parametrize(
    ("formats", "says"),
    [
        (("svg", "pdf"), "the origin is the board's top left corner\n"),
        (("dxf",), "the origin is the board's lower left corner\n"),
        (("svg", "dxf"), "top left corner; in the DXF files the board's lower left corner\n"),
    ],
)
def test_the_origin_of_each_format_is_said(tmp_path: Path, formats, says: str, capsys) -> None:
    book = approved(tmp_path, ROWS[:1])
    capsys.readouterr()
    asked = [part for each in formats for part in ("--format", each)]
    assert main(["sheets", str(book), *asked]) == 0
    assert says in capsys.readouterr().out


def test_what_fits_on_no_board_is_told_and_all_else_is_laid(tmp_path: Path, told) -> None:
    book = approved(tmp_path, ROWS[:2])
    (tmp_path / "workshop.toml").write_text(
        "format = 1\nedition_year = 2027\n[board]\nwidth = 118\nheight = 118\nleast = [50, 50]\n"
    )
    from proofgen.day import rows

    rows._open.clear()
    found = told("sheets", book, code=1)
    assert len(found["too_large"]) + len(layers(found)) == 3
    assert found["too_large"]


def test_what_only_a_kept_place_bars_is_said_in_one_line(tmp_path: Path, capsys) -> None:
    from proofgen.day import rows

    book = approved(tmp_path, ROWS[2:])
    file = tmp_path / "workshop.toml"
    file.write_text(file.read_text() + "keep_out = [[0, 60, 260, 80]]\n")
    rows._open.clear()
    capsys.readouterr()
    assert main(["sheets", str(book)]) == 1
    said = [each for each in capsys.readouterr().out.splitlines() if each.startswith("stop")]
    assert len(said) == 1
    assert "2 layers would fit on a board of birch-3, but not beside its keep_out" in said[0]


def test_the_clock_is_fitted_to_sheets_that_were_timed(tmp_path: Path, told, capsys) -> None:
    from proofgen.day import rows

    book = approved(tmp_path, [*ROWS, {"order": "K-4", "name": "Ed", "design": "remembrance"}])
    sheets = told("sheets", book)["sheets"]
    assert len(sheets) >= 2
    said = []
    for sheet in sheets:
        (times,) = [t for t in sheet["seconds"] if t["way"] == "raster per piece"]
        real = 1.3 * times["engraving"] + 0.8 * (times["cutting"] + times["pierce"])
        seconds = round(real + times["travel"])
        said.append(f"{sheet['id']}={seconds // 60}:{seconds % 60:02}")
    assert main(["calibrate", str(book), *said]) == 0
    text = (tmp_path / "workshop.toml").read_text()
    engraving, cutting = (
        float(re.search(rf"{what}_factor = ([0-9.]+)", text)[1])
        for what in ("engraving", "cutting")
    )
    assert (engraving, cutting) == (pytest.approx(1.3, abs=0.02), pytest.approx(0.8, abs=0.02))
    rows._open.clear()
    (after,) = [t for t in told("sheets", book)["sheets"][0]["seconds"] if "per piece" in t["way"]]
    minutes, seconds = map(int, said[0].partition("=")[2].split(":"))
    assert after["total"] == pytest.approx(60 * minutes + seconds, rel=0.02)
    capsys.readouterr()
    second = sheets[1]["id"]
    wrong = ([], ["S-9999=1:00"], [f"{second}=soon"], [f"{second}=1:99:00"], [f"{second}=9:60"])
    for call in wrong:
        assert main(["calibrate", str(book), said[0], *call]) == 2
    text = capsys.readouterr().err
    assert all(each in text for each in ("at least two jobs", "no sheet S-9999"))
    assert text.count("write sheet and time as S-0001=35:20") == 3


@pytest.mark.parametrize(
    ("asked", "way"),
    [
        ((), "raster per piece"),
        (("--manner", "operation"), "raster per sheet"),
        (("--manner", "operation", "--hatch", "scan"), "raster per piece"),
        (("--hatch", "contour", "--apart"), "contour-parallel"),
    ],
)
def test_sheets_are_timed_as_they_are_written(tmp_path: Path, told, asked, way: str) -> None:
    boat = {**ROWS[0], "dedication": "for Bo"}
    book = approved(tmp_path, [{"dedication": None, **row} for row in (boat, *ROWS[1:])])
    sheets = told("sheets", book, *asked)["sheets"]
    assert any("-back" in file for sheet in sheets for file in sheet["files"])
    said = []
    for sheet in sheets:
        (times,) = (each for each in sheet["seconds"] if each["as_written"])
        assert times["way"] == way
        across = next(each for each in sheet["seconds"] if each["way"] == "raster per sheet")
        assert across["acceptable"] is bool(asked)
        minutes, seconds = divmod(round(times["total"]), 60)
        said.append(f"{sheet['id']}={minutes}:{seconds:02}")
    assert main(["calibrate", str(book), *said]) == 0
    text = (tmp_path / "workshop.toml").read_text()
    factors = [
        float(each) for each in re.findall(r"(?:engraving|cutting)_factor = ([0-9.]+)", text)
    ]
    assert factors == pytest.approx([1, 1], abs=0.01)
    files = {Path(file).stem for sheet in sheets for file in sheet["files"]}
    page = (tmp_path / "sheets" / "jobs.html").read_text()
    named = {each for each in files if each.endswith(("-engrave", "-cut"))}
    assert bool(named) is ("--apart" in asked)
    assert all(each in page for each in named)


def test_boards_are_numbered_by_what_is_due_first_whatever_their_wood(tmp_path: Path, told) -> None:
    rows = [
        {**ROWS[0], "due": "2027-09-01"},
        {**ROWS[1], "due": "2027-06-03"},
        {**ROWS[2], "quantity": 1, "due": "2027-09-01"},
    ]
    book = approved(tmp_path, [{"due": None, **row} for row in rows])
    sheets = told("sheets", book, "--on", "2027-06-01")["sheets"]
    assert [sheet["id"] for sheet in sheets] == sorted(sheet["id"] for sheet in sheets)
    urgent = [any(layer["order"] == "K-2" for layer in sheet["layers"]) for sheet in sheets]
    assert urgent == sorted(urgent, reverse=True)
    assert len({sheet["finish"] for sheet in sheets if urgent}) == 2


def test_of_one_urgency_and_outline_what_is_due_first_lies_first(tmp_path: Path, told) -> None:
    days = ("2027-10-09", "2027-10-02", "2027-10-30", "2027-10-01", "2027-10-20")
    rows = [
        {**ROWS[2], "quantity": 1, "order": f"K-{day}", "name": "Cyrus", "due": day} for day in days
    ]
    sheets = told("sheets", approved(tmp_path, rows), "--on", "2027-06-01")["sheets"]
    orders = [sorted(layer["order"] for layer in sheet["layers"]) for sheet in sheets]
    assert len(orders) > 1
    assert [order for each in orders for order in each] == sorted(f"K-{day}" for day in days)
