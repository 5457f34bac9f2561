"""Writing into the person's own book: only our columns, everything else byte for byte."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
import time
import warnings
import zipfile
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from hypothesis import HealthCheck, example, given, settings, strategies as st
from openpyxl.comments import Comment
from openpyxl.formatting.rule import CellIsRule
from openpyxl.styles import PatternFill
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet
from orders_package import edit

from proofgen.day import pipeline
from proofgen.errors import UnusableError
from proofgen.orders.text import unescape
from proofgen.results.write_back import COLUMNS, Target, write_back

ROWS = {2: ("ready", "", "GEHY-MQE5"), 3: ("stop", 'row 3: "x" < 2 & more.\nDo it.', "")}
SHEET = "xl/worksheets/sheet1.xml"


def rich_book(path: Path) -> Path:
    """A book with much that a spreadsheet library would lose or rewrite."""
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Orders")
        bold, dated = book.add_format({"bold": True}), book.add_format({"num_format": "d mmm yyyy"})
        sheet.write_row(0, 0, ["Order", "Name", "Design", "Due", "Price"])
        sheet.write_row(1, 0, ["T-1", "Ida", "boat"])
        sheet.write_number(1, 3, 46000, dated)
        sheet.write_formula(1, 4, "=12*2", None, 24)
        sheet.write_row(2, 0, ["T-2", "Bo", "boat"])
        sheet.write_rich_string(3, 1, "Ann", bold, "a", " rich")
        sheet.insert_textbox(5, 5, "a note in a box")
        sheet.write_comment("B2", "asked for a shell")
        sheet.data_validation("C2:C99", {"validate": "list", "source": ["boat", "lantern"]})
        sheet.conditional_format("E2:E9", {"type": "data_bar", "data_bar_2010": True})
        sheet.add_sparkline("F2", {"range": "Orders!E2:E9"})
        chart = book.add_chart({"type": "column"})
        chart.add_series({"values": "=Orders!$E$2:$E$3"})
        book.add_worksheet("More").insert_chart("B2", chart)
        book.define_name("Season", "=Orders!$A$1")
    return path


def plain_book(path: Path) -> Path:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Orders"
    for row in (["Order", "Name"], ["T-1", "Ida"], ["T-2", "Bo"]):
        sheet.append(row)
    sheet["B2"].comment = Comment("x", "y")
    sheet.add_data_validation(DataValidation(type="list", formula1='"a,b"', sqref="B2:B9"))
    rule = CellIsRule(
        operator="equal", formula=['"x"'], fill=PatternFill("solid", fgColor="FF0000")
    )
    sheet.conditional_formatting.add("A2:A9", rule)
    book.save(path)
    return path


def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


def sheet_of(path: Path) -> Worksheet:
    with warnings.catch_warnings():
        # They tell what openpyxl would lose if it saved.
        warnings.simplefilter("ignore", UserWarning)
        return openpyxl.load_workbook(io.BytesIO(path.read_bytes())).worksheets[0]


def cells(path: Path) -> dict[str, object]:
    sheet = sheet_of(path)
    return {c.coordinate: c.value for row in sheet.iter_rows() for c in row if c.value is not None}


@pytest.mark.parametrize("make", [rich_book, plain_book])
def test_only_our_columns_change(tmp_path: Path, make) -> None:
    book = make(tmp_path / "orders.xlsx")
    before, had = parts(book), cells(book)
    original = book.read_bytes()
    backup = write_back(book, Target("Orders", 1, ROWS))
    assert backup.read_bytes() == original
    after, has = parts(book), cells(book)
    assert list(after) == list(before)
    assert [name for name in before if before[name] != after[name]] == [SHEET]
    assert {at: value for at, value in has.items() if at in had} == had
    ours = [value for at, value in has.items() if at not in had]
    assert ours == [*COLUMNS, "ready", "GEHY-MQE5", "stop", ROWS[3][1]]
    # What was there is still there, byte for byte, in its order.
    sheet = iter(after[SHEET])
    assert all(byte in sheet for byte in before[SHEET] if byte not in b'0123456789:"ABCDEFGHI')


def test_a_second_time_uses_the_same_columns_and_stays_text(tmp_path: Path) -> None:
    book = rich_book(tmp_path / "orders.xlsx")
    write_back(book, Target("Orders", 1, ROWS))
    first = cells(book)
    write_back(book, Target("Orders", 1, {**ROWS, 2: ("look", "=1+1", "1E5")}))
    second = cells(book)
    assert set(second) - set(first) == {"G2"}
    sheet = sheet_of(book)
    assert [sheet[at].data_type for at in ("F2", "G2", "H2")] == ["s", "s", "s"]
    assert [sheet[at].value for at in ("F2", "G2", "H2")] == ["look", "=1+1", "1E5"]
    assert len(list(tmp_path.glob("orders-backup-*.xlsx"))) == 2


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(text=st.text(st.characters(exclude_categories=["Cs"]), max_size=40))
@example(text="_x005F_")
def test_any_text_comes_back(tmp_path: Path, text: str) -> None:
    from proofgen.results.cell_edit import edited

    book = tmp_path / "any.xlsx"
    if not book.exists():
        plain_book(book)
    whole = parts(book)
    changed = edited(whole[SHEET], {(2, 3): text})
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as package:
        for name, data in whole.items():
            package.writestr(name, changed if name == SHEET else data)
    value = openpyxl.load_workbook(stream)["Orders"]["C2"].value or ""
    allowed = "".join(c for c in text if c in "\t\n\r" or c >= " ")
    allowed = allowed.replace("\ufffe", "").replace("\uffff", "")
    # An XML parser makes line feeds of carriage returns (XML 1.0, section 2.11).
    lines = allowed.replace("\r\n", "\n").replace("\r", "\n")
    assert unescape(value) == lines


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (b'<c r="C2"', b'<c r="C2" vm="1"', "holds a picture"),
        (b"<f>", b"<f>", "holds a formula"),
    ],
)
def test_special_cells_are_left_alone(tmp_path: Path, old: bytes, new: bytes, says: str) -> None:
    book = tmp_path / "orders.xlsx"
    made = openpyxl.Workbook()
    sheet = made.worksheets[0]
    sheet.title = "Orders"
    sheet.append(["Order", "Name", *COLUMNS])
    sheet.append(["T-1", "Ida", "ready", "=1+1" if b"f" in old else "x", ""])
    made.save(book)
    edit(book, SHEET, old, new)
    whole = book.read_bytes()
    with pytest.raises(UnusableError, match=says):
        write_back(book, Target("Orders", 1, {2: ROWS[2]}))
    assert book.read_bytes() == whole
    assert list(tmp_path.iterdir()) == [book]


def test_merged_signed_locked_and_read_only_books_are_left_alone(tmp_path: Path) -> None:
    book = plain_book(tmp_path / "orders.xlsx")
    made = openpyxl.load_workbook(book)
    made["Orders"].merge_cells("C1:D3")
    made.save(book)
    target = Target("Orders", 1, ROWS)
    with pytest.raises(UnusableError, match="merged area"):
        write_back(book, target)
    plain_book(book)
    with zipfile.ZipFile(book, "a") as package:
        package.writestr("_xmlsignatures/sig1.xml", "<x/>")
    with pytest.raises(UnusableError, match="is signed"):
        write_back(book, target)
    plain_book(book)
    lock = tmp_path / ".~lock.orders.xlsx#"
    lock.touch()
    with pytest.raises(UnusableError, match="open elsewhere"):
        write_back(book, target)
    lock.unlink()
    if os.geteuid() != 0:
        book.chmod(0o444)
        with pytest.raises(UnusableError, match="read-only"):
            write_back(book, target)
    assert [path.name for path in tmp_path.iterdir()] == ["orders.xlsx"]


WRITER = """
import sys
from pathlib import Path
from proofgen.results.write_back import Target, write_back
book = Path(sys.argv[1])
print("ready", flush=True)
for i in range(1000):
    rows = {2: ("look", "x" * (i % 50), str(i)), 3: ("ready", "", "")}
    write_back(book, Target("Orders", 1, rows))
"""


def test_a_kill_at_any_moment_leaves_a_whole_book(tmp_path: Path) -> None:
    book = rich_book(tmp_path / "orders.xlsx")
    had = cells(book)
    for turn in range(int(os.environ.get("PROOFGEN_KILLS", "8"))):
        process = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(book)], stdout=subprocess.PIPE
        )
        assert process.stdout
        process.stdout.readline()
        process.stdout.close()
        time.sleep(0.02 + 0.037 * (turn % 11))
        process.send_signal(signal.SIGKILL)
        assert process.wait() == -signal.SIGKILL  # it was still writing
        assert {at: value for at, value in cells(book).items() if at in had} == had
        for backup in tmp_path.glob("orders-backup-*.xlsx"):
            backup.unlink()


def clear_row(book: Path, number: int, add: dict[str, object]) -> None:
    """What the maker typed in the row goes, what proofgen wrote stays; a row more follows."""
    whole = openpyxl.load_workbook(book)
    sheet = whole.active
    for index, (column, value) in enumerate(add.items(), start=1):
        assert sheet.cell(1, index).value.casefold() == column
        sheet.cell(number, index).value = None
        sheet.cell(number + 1, index).value = value
    whole.save(book)


def test_the_option_writes_and_falls_back(tmp_path: Path) -> None:
    from books import write_book

    row = {"order": "T-1", "name": "Ida", "design": "boat", "year": 2027}
    book = write_book(tmp_path / "orders.xlsx", [row])
    options = pipeline.Options(write_back=True)
    run = pipeline.check(book, options, lambda *_: None)
    assert run.backup and run.backup.exists()
    again = pipeline.check(book, options, lambda *_: None)
    assert again.rows[0].code == run.rows[0].code
    sheet = sheet_of(book)
    assert [cell.value for cell in sheet[2]][-3:] == ["ready", None, run.rows[0].code]
    clear_row(book, 2, add={**row, "order": "T-2"})
    pipeline.check(book, pipeline.Options(write_back=True, orders=("T-2",)), lambda *_: None)
    assert [[c.value for c in sheet_of(book)[n]][-3] for n in (2, 3)] == ["ready", "ready"]
    pipeline.check(book, options, lambda *_: None)
    assert [[c.value for c in sheet_of(book)[n]][-3] for n in (2, 3)] == [None, "ready"]
    (tmp_path / "~$orders.xlsx").touch()
    fallen = pipeline.proof(book, options, lambda *_: None)
    assert "open elsewhere" in fallen.not_written
    assert fallen.results and fallen.results.exists()
