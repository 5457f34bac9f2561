"""Headers, sheets, rows and whole books."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.chart import BarChart
from orders_package import edit

from proofgen.errors import UnusableError
from proofgen.orders.filenames import LONGEST, stem
from proofgen.orders.package import ENCRYPTED
from proofgen.orders.read import read_book
from proofgen.workshop.read import load

SHOP = replace(load(None), edition_year=2027)
HEADERS = ("Order", "Name", "Design", "Year")


def write(path: Path, *sheets: Sequence[Sequence[Any]]) -> openpyxl.Workbook:
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for number, rows in enumerate(sheets, start=1):
        sheet = book.create_sheet(f"S{number}")
        for row in rows:
            sheet.append(row)
    book.save(path)
    return book


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "orders.xlsx"


def test_headers_are_found_wherever_and_however_they_are_written(path: Path) -> None:
    rows = [
        ["Lowenhithe Lantern Regatta"],
        [],
        ["Phone", "DE SIGN", " name:", "Second-Name", "order #", "Ha_nger", "Face"],
        [555, "boat", "Ida", "Mo", "A-1", "  red \n cord ", "script"],
        ["only a remark"],
        [None, None, "Bo", None, "A-1"],
    ]
    write(path, rows, [["notes"]])
    (ida, bo), _ = read_book(path, SHOP, ("second-name",))
    assert ida.order.source.columns == (
        ("design", "B"), ("name", "C"), ("second-name", "D"), ("order", "E"),
        ("hanger", "F"), ("face", "G"),
    )  # fmt: skip
    assert ida.order.fields == (("name", "Ida"), ("year", "2027"), ("second-name", "Mo"))
    assert ida.order.options == (("hanger", "red cord"), ("face", "script"))
    assert (ida.order.line, bo.order.line, bo.order.source.row) == (1, 2, 6)
    assert "design-missing" in [flag.kind.id for flag in bo.flags]


@pytest.mark.parametrize(
    ("sheets", "says"),
    [
        ([[["Order", "Name"], ["1", "Ida"]]], r'row 1 of sheet "S1" lacks Design'),
        ([[["hello"]]], r"no row has the headers Order, Name and Design"),
        ([[[*HEADERS, "NAME "]]], r'sheet "S1": the header Name stands twice \(B1 and E1\)'),
        ([[HEADERS], [HEADERS]], r'several sheets have order headers \("S1", "S2"\)'),
    ],
)
def test_a_book_without_one_header_row_is_refused(path: Path, sheets: Any, says: str) -> None:
    write(path, *sheets)
    with pytest.raises(UnusableError, match=says) as caught:
        read_book(path, SHOP)
    assert "orders.xlsx" in str(caught.value)


def test_headers_that_may_be_meant_for_known_ones_are_told(path: Path) -> None:
    more = ("Aproved", "Date due", "Price", "Colour", "Do not asc", "Phone", "Second name", "Notes")
    write(path, [[*HEADERS, *more], ["1", "Ida", "boat", 2027, "yes"]])
    (line,), flags = read_book(path, SHOP, ("second-name",))
    assert [(flag.kind.id, flag.to_do.split('"')[1]) for flag in flags] == [
        ("header-unknown", name) for name in ("Approved", "Due", "Quoted", "Finish", "Do not ask")
    ]
    assert flags[0].where == 'orders.xlsx, sheet "S1" (E1)'
    assert (line.order.approved, line.flags) == ("", ())


def test_another_name_for_a_header_yields_to_the_header(path: Path) -> None:
    write(path, [["Customer", *HEADERS, "Buyer"], ["Shop", "1", "Ida", "boat", 2027, "Mo"]])
    (line,), flags = read_book(path, SHOP)
    assert (line.order.buyer, flags) == ("Mo", ())
    write(path, [["Order no", "Order number", "Name", "Design"]])
    says = r'"Order no" \(A1\) and "Order number" \(B1\) both stand for Order'
    with pytest.raises(UnusableError, match=says):
        read_book(path, SHOP)


def test_hidden_rows_are_counted_and_taken(path: Path) -> None:
    book = write(path, [HEADERS, ["1", "Ida", "boat", 2027], ["2", "Bo", "boat", 2027]])
    book.worksheets[0].row_dimensions[3].hidden = True
    book.save(path)
    lines, (flag,) = read_book(path, SHOP)
    assert len(lines) == 2
    assert flag.text.startswith('orders.xlsx, sheet "S1": 1 row is hidden')


def test_a_merged_order_number_counts_for_all_its_rows(path: Path) -> None:
    rows = [HEADERS, ["7", "Ida", "boat", 2027], [None, "Bo", "boat", 2027], ["8", "Al", "boat", 1]]
    book = write(path, rows)
    book.worksheets[0].merge_cells("A2:A3")
    book.save(path)
    (_, bo, al), _ = read_book(path, SHOP)
    assert (bo.order.number, bo.order.line, al.order.number) == ("7", 2, "8")
    assert [flag.kind.id for flag in bo.flags] == ["cell-merged"]
    assert "A2" in bo.flags[0].text


def test_repeated_lines_and_numbers_that_are_alike(path: Path) -> None:
    rows = (("7", "Ida"), ("7", "Bo"), ("7", "Ida"), ("007", "Cy"))
    write(path, [HEADERS, *((number, name, "boat", 2027) for number, name in rows)])
    lines, _ = read_book(path, SHOP)
    assert [line.order.line for line in lines] == [1, 2, 3, 1]
    assert [[flag.kind.id for flag in line.flags] for line in lines] == [
        [], [], ["line-repeated"], ["order-alike"],
    ]  # fmt: skip
    assert "row 2" in lines[2].flags[0].text


def test_a_wrong_dimension_drops_no_rows(path: Path) -> None:
    write(path, [HEADERS, *([str(n), "Ida", "boat", 2027] for n in range(1, 6))])
    edit(path, "xl/worksheets/sheet1.xml", b'ref="A1:D6"', b'ref="A1:B2"')
    assert len(read_book(path, SHOP)[0]) == 5


def test_a_strict_book_is_named_as_such(path: Path) -> None:
    write(path, [HEADERS])
    # The namespaces of ISO/IEC 29500-1 (Strict), Annex A.
    main = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    edit(path, "xl/workbook.xml", main, b"http://purl.oclc.org/ooxml/spreadsheetml/main")
    with pytest.raises(UnusableError, match=r"orders\.xlsx is saved as a Strict Open XML"):
        read_book(path, SHOP)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is not an xlsx book or is damaged"),
        (b"PK\x03\x04 not really", "is damaged"),
        (bytes.fromhex("D0CF11E0A1B11AE1") + b"\0" * 600, "is an old .xls book"),
        (bytes.fromhex("D0CF11E0A1B11AE1") + ENCRYPTED, "protected with a password"),
        (None, "is not there"),
    ],
)
def test_what_is_no_book_is_refused(path: Path, data: bytes | None, says: str) -> None:
    if data is not None:
        path.write_bytes(data)
    with pytest.raises(UnusableError, match=says):
        read_book(path, SHOP)


def test_a_damaged_book_never_ends_in_a_traceback(path: Path) -> None:
    write(path, [HEADERS, ["1", "Ida", "boat", 2027]])
    whole = path.read_bytes()
    for cut in range(0, len(whole) - 1, 211):
        path.write_bytes(whole[:cut])
        with pytest.raises(UnusableError):
            read_book(path, SHOP)


def test_a_book_without_a_worksheet_is_refused(path: Path) -> None:
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    book.create_chartsheet().add_chart(BarChart())
    book.save(path)
    with pytest.raises(UnusableError, match="has no worksheet"):
        read_book(path, SHOP)


def test_other_kinds_of_files_and_folders_are_refused(tmp_path: Path) -> None:
    (tmp_path / "orders.pages").write_bytes(b"PK\x05\x06" + b"\0" * 18)
    with pytest.raises(UnusableError, match=r"save the orders as \.xlsx"):
        read_book(tmp_path / "orders.pages", SHOP)
    (tmp_path / "folder.xlsx").mkdir()
    with pytest.raises(UnusableError, match="cannot be read"):
        read_book(tmp_path / "folder.xlsx", SHOP)


def test_reading_leaves_the_book_as_it_is(path: Path) -> None:
    write(path, [HEADERS, ["1", "Ida", "boat", 2027]])
    before = path.read_bytes()
    read_book(path, SHOP)
    assert path.read_bytes() == before
    assert list(path.parent.iterdir()) == [path]


HOSTILE = [
    "../../etc/passwd", "..", "CON", "nul.txt", "a:b", "C:\\x", "a" * 300, "ש" * 100, "🙂" * 50,
    "", " ", "-", ".", "con", "Con", "a\nb", "a\0b", "e\u0301", "é", "\u202egnp", "~", "$(x)", "*?",
]  # fmt: skip


def test_file_names_neither_escape_nor_collide() -> None:
    # Windows reserves names by what stands before the first dot ("Naming Files, Paths, and
    # Namespaces", Microsoft Learn), and its file systems ignore case.
    reserved = {"CON", "PRN", "AUX", "NUL", *(f"{d}{n}" for d in ("COM", "LPT") for n in range(10))}
    lines: Counter[str] = Counter()
    stems = []
    for name, number in ((n, o) for n in HOSTILE for o in HOSTILE):
        lines[number] += 1
        stems.append(stem(name, number, lines[number], "K7MT-4Q2A"))
    assert len({name.casefold() for name in stems}) == len(stems)
    for name in stems:
        assert len(name.encode()) <= LONGEST
        assert all(character.isalnum() or character in "-_" for character in name)
        assert name.upper() not in reserved
        assert name.strip("-") == name


def test_file_names_read_like_the_order() -> None:
    code = "K7MT-4Q2A"
    assert stem("Zoë & Ídá", "1042", 1, code) == "Zoe-Ida-1042-K7MT-4Q2A"
    assert stem("Zoë & Ídá", "1042", 3, code) == "Zoe-Ida-1042_3-K7MT-4Q2A"
    plain = "Yrsa-An-Dang-Lukasz-Orsted-Sigurdur-1042-K7MT-4Q2A"
    assert stem("Yrsa Ấn Đặng Łukasz Ørsted Sigurður", "1042", 1, code) == plain
    assert stem("Øystein Þóra Weiß Næss", "7", 1, code).isascii()
    assert stem("נועה", "", 1, code) == "נועה-K7MT-4Q2A"
    assert stem("Ida", "7.1", 1, code) != stem("Ida", "7-1", 1, code)
    assert stem("Ida", "7-1", 2, code) != stem("Ida", "7", 12, code)
