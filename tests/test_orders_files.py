"""Files that are no ordinary workbook: text in every dialect, and books that would do harm."""

from __future__ import annotations

import io
import resource
import subprocess
import sys
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from books import write_book

from proofgen.errors import UnusableError
from proofgen.orders.order import Line
from proofgen.orders.package import MOST_UNPACKED, look
from proofgen.orders.read import read_book
from proofgen.orders.xlsx import read_sheets
from proofgen.workshop.read import load

SHOP = replace(load(None), edition_year=2027)
TEXT = 'Order;Name;Design;Year\nT-1;Zoë;boat;2027\nT-2;"Ida\nBo; ""B""";plaque;2027\n'


def kinds(lines: tuple[Line, ...]) -> list[str]:
    return [flag.kind.id for line in lines for flag in line.flags]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
@pytest.mark.parametrize("delimiter", [";", ",", "\t", "|"])
def test_text_in_any_dialect(tmp_path: Path, encoding: str, delimiter: str) -> None:
    book = tmp_path / "orders.csv"
    text = TEXT.replace(";", delimiter).replace(f"Bo{delimiter}", "Bo;")
    book.write_bytes(text.replace("\n", "\r\n").encode(encoding))
    (zoe, ida), flags = read_book(book, SHOP)
    assert flags == ()
    assert zoe.order.field("name") == "Zoë"
    assert ida.order.field("name") == 'Ida\nBo; "B"'
    assert (zoe.order.source.row, ida.order.source.row) == (2, 3)
    assert zoe.order.where("name") == "row 2, name (B2)"


def test_commas_in_messages_do_not_part_a_book_of_semicolons(tmp_path: Path) -> None:
    path = tmp_path / "orders.csv"
    message = "Hello, a boat, please, for Ida, in walnut, by Friday, thank you, Mo"
    rows = "".join(f"T-{i};Ida;boat;{message}\n" for i in range(4))
    path.write_text(f"Order;Name;Design;Message\n{rows}", encoding="utf-8")
    lines, _ = read_book(path, SHOP)
    assert [line.order.message for line in lines] == [message] * 4


def test_a_lone_cell_far_to_the_right_costs_nothing(tmp_path: Path) -> None:
    """Reading is bounded by the columns that are read, not by where a cell lies."""
    book = openpyxl.Workbook()
    for row in (("Order", "Name", "Design"), ("T-1", "Ida", "boat")):
        book.active.append(row)
    book.active["XFD2"] = "x"
    book.save(tmp_path / "orders.xlsx")
    (sheet,) = read_sheets("orders.xlsx", (tmp_path / "orders.xlsx").read_bytes())
    assert [len(row.cells) for row in sheet.rows] == [3, 3]


def test_a_year_that_the_message_does_not_name(tmp_path: Path) -> None:
    def flagged(message: str, year: object) -> bool:
        row = {"order": "T-1", "name": "Ida", "design": "boat", "year": year, "message": message}
        (line,), _ = read_book(write_book(tmp_path / "o.xlsx", [row]), SHOP)
        return any(f.kind.id == "not-in-message" and "year" in f.where for f in line.flags)

    assert flagged("Ida, with 2027 on it please", 2026)
    assert flagged("Ida, with 2031 on it please", None)
    assert not flagged("Ida, born 2020, with 2027 on it", 2027)
    assert not flagged("Ida please, call 012027555", 2026)


def test_a_line_that_says_the_delimiter_and_windows_letters(tmp_path: Path) -> None:
    book = tmp_path / "orders.csv"
    book.write_bytes(("sep=|\n" + TEXT.replace(";", "|").replace("Bo|", "Bo ")).encode("cp1252"))
    (zoe, _), (guessed,) = read_book(book, SHOP)
    assert zoe.order.field("name") == "Zoë"
    assert zoe.order.source.row == 3
    assert guessed.kind.id == "encoding-guessed"


def test_a_row_of_another_width_is_told(tmp_path: Path) -> None:
    book = tmp_path / "orders.csv"
    book.write_text("Order,Name,Design,Year\nT-1,Ida, the cat,boat,2027\n", encoding="utf-8")
    (line,), _ = read_book(book, SHOP)
    assert "row-width" in [flag.kind.id for flag in line.flags]
    book.write_text('Order,Name,Design\nT-1,"Ida"x,boat\n', encoding="utf-8")
    with pytest.raises(UnusableError, match="line 2"):
        read_book(book, SHOP)


def test_a_text_file_is_told_from_a_damaged_book_and_a_long_text_from_an_open_quote(
    tmp_path: Path,
) -> None:
    (tmp_path / "orders.xlsx").write_text(TEXT, encoding="utf-8")
    with pytest.raises(UnusableError, match=r"is a text file; name it \.csv"):
        read_book(tmp_path / "orders.xlsx", SHOP)
    book = tmp_path / "orders.csv"
    book.write_text(f"Order,Name,Design\nT-1,{'a' * 140_000},boat\n", encoding="utf-8")
    with pytest.raises(UnusableError, match=r"line 2: a cell has more than 131072 .* shorten"):
        read_book(book, SHOP)


def book_of(**parts: bytes) -> bytes:
    """An ordinary book with some of its parts replaced or added."""
    whole = io.BytesIO()
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.append(["Order", "Name", "Design"])
    sheet.append(["T-1", "Ida", "boat"])
    sheet.merge_cells("E1:F2")
    book.save(whole)
    with zipfile.ZipFile(whole) as package:
        content = {name: package.read(name) for name in package.namelist()} | parts
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in content.items():
            package.writestr(name, data)
    return made.getvalue()


SHEET = "xl/worksheets/sheet1.xml"


def part_with(part: str, old: bytes, new: bytes) -> bytes:
    with zipfile.ZipFile(io.BytesIO(book_of())) as package:
        data = package.read(part)
    assert old in data
    return book_of(**{part: data.replace(old, new)})


def sheet_with(old: bytes, new: bytes) -> bytes:
    return part_with(SHEET, old, new)


def in_rows(more: bytes) -> bytes:
    return sheet_with(b"</sheetData>", more + b"</sheetData>")


NAMES = b"<definedNames>" + b'<definedName name="a">A</definedName>' * 200_000 + b"</definedNames>"
MERGES = b'<mergeCell ref="A2:A900000"/>' * 2
WIDE = '<?xml version="1.0" encoding="UTF-16"?><worksheet/>'
HARMFUL = {
    "row": (sheet_with(b'<row r="2"', b'<row r="99999999"'), "has a row 99999999"),
    "row-hidden": (sheet_with(b'<row r="2"', b'<row r="&#57;9999999"'), "has a row &#57;9"),
    "merge": (sheet_with(b'ref="E1:F2"', b'ref="A1:XFD1048576"'), "merges 17179869184 cells"),
    "merges": (sheet_with(b"</mergeCells>", MERGES + b"</mergeCells>"), "merges 1800002 cells"),
    "entities": (
        sheet_with(b"<worksheet", b'<!DOCTYPE x [<!ENTITY e "e">]><worksheet'),
        "has a DOCTYPE",
    ),
    "bomb": (book_of(**{SHEET: b" " * (MOST_UNPACKED + 1)}), "would unpack to"),
    "twice": (book_of(**{"xl/Workbook.xml": b"<x/>"}), "same part twice"),
    "ods": (book_of(mimetype=b"application/vnd.oasis.opendocument.spreadsheet"), "OpenDocument"),
    "names": (
        part_with("xl/workbook.xml", b"</sheets>", b"</sheets>" + NAMES),
        "holds more in one place",
    ),
    "styles": (
        part_with("xl/styles.xml", b"</cellXfs>", b"<xf/>" * 200_000 + b"</cellXfs>"),
        "holds more in one place",
    ),
    "styles-between": (
        part_with("xl/styles.xml", b"</cellXfs>", b"<xf/><row/>" * 200_000 + b"</cellXfs>"),
        "more than 100000 styles",
    ),
    "cells": (in_rows(b"<row>" + b"<c/>" * 200_000 + b"</row>"), "holds more in one place"),
    "nested": (in_rows(b"<row><c/><row/></row>"), "rows or texts in one another"),
    "nested-prefix": (in_rows(b"<row><c/><x-y:si></x-y:si></row>"), "rows or texts in one another"),
    "nested-sly": (in_rows(b'<row x="/>"><c/><row><c/></row></row>'), "in one another"),
    "rows": (in_rows(b"<row/>" * 1_100_000), "more than 1048576 rows"),
    "text": (in_rows(b"<row><c><is><t>" + b"a" * 900_000), "a text that no cell can hold"),
    "strings": (
        book_of(**{"xl/sharedStrings.xml": b"<si><t/></si>" * 800_001}),
        "more than 800000 texts",
    ),
    "utf-16": (book_of(**{SHEET: WIDE.encode("utf-16")}), "is not written in UTF-8"),
    "utf-16-bare": (book_of(**{SHEET: WIDE.encode("utf-16-be")}), "is not written in UTF-8"),
    "latin": (
        book_of(**{SHEET: WIDE.replace("UTF-16", "cp037").encode()}),
        "is not written in UTF-8",
    ),
}


@pytest.mark.parametrize("harm", HARMFUL)
def test_a_book_that_would_do_harm_is_refused(tmp_path: Path, harm: str) -> None:
    data, says = HARMFUL[harm]
    book = tmp_path / "orders.xlsx"
    book.write_bytes(data)
    with pytest.raises(UnusableError, match=says):
        read_book(book, SHOP)
    look("ordinary.xlsx", book_of())


def test_a_reader_opens_no_part_that_was_not_looked_at(tmp_path: Path) -> None:
    book = tmp_path / "orders.xlsx"
    with zipfile.ZipFile(io.BytesIO(book_of())) as package:
        sheet = package.read(SHEET)
    rels = "xl/_rels/workbook.xml.rels"
    moved = part_with(rels, b"worksheets/sheet1.xml", b"media/sheet1.xml")
    with zipfile.ZipFile(io.BytesIO(moved)) as package:
        links = package.read(rels)
    book.write_bytes(book_of(**{rels: links, "xl/media/sheet1.xml": sheet}))
    with pytest.raises(UnusableError, match="is damaged"):
        read_book(book, SHOP)


def test_a_flipped_bit_is_found(tmp_path: Path) -> None:
    data = bytearray(book_of())
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        at = package.getinfo(SHEET).header_offset + 80
    data[at] ^= 1
    book = tmp_path / "orders.xlsx"
    book.write_bytes(data)
    with pytest.raises(UnusableError, match="damaged"):
        read_book(book, SHOP)


LOOK = """
import sys, resource
from proofgen.orders.package import look
from proofgen.errors import UnusableError
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
try:
    look("b.xlsx", open(sys.argv[1], "rb").read())
except UnusableError:
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="ru_maxrss is in kB on Linux only")
def test_a_bomb_costs_no_memory(tmp_path: Path) -> None:
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss > 0
    book = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(book, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr(SHEET, b"<row><c/></row>" * 12_000_000)
    told = subprocess.run([sys.executable, "-c", LOOK, str(book)], capture_output=True, check=True)
    assert int(told.stdout) < 300_000


def test_macros_and_several_sheets(tmp_path: Path) -> None:
    book = tmp_path / "orders.xlsm"
    with xlsxwriter.Workbook(book) as made:
        for name in ("May", "Guide", "Stock", "June"):
            sheet = made.add_worksheet(name)
            sheet.write_row(0, 0, ["Order", "Name", "Design"])
            sheet.write_row(1, 0, ["T-1", name, "boat"])
    with pytest.raises(UnusableError, match=r'"May", "June".*--sheet'):
        read_book(book, SHOP)
    (line,), _ = read_book(book, SHOP, (), "june")
    assert line.order.field("name") == "June"
    with pytest.raises(UnusableError, match='no sheet "July"'):
        read_book(book, SHOP, (), "July")


@pytest.mark.parametrize(
    ("name", "flags"),
    [
        ("Ida", []),
        ("Mi1a", ["letters-alike"]),
        ("lda", ["letters-alike"]),
        *((name, ["letters-alike"]) for name in ("B0b", "T0m", "O1e", "PauI", "IIse", "AI1")),
        *(
            (name, [])
            for name in ("R2D2", "Louis XIV", "Elisabeth II", "hIfearn\u00e1in", "Six at 10pm")
        ),
        *((name, ["word-doubled"]) for name in ("Ann-Ann", "Anna \u2013 Anna")),
        ("Jo-Jo", []),
        *((name, ["case-unusual"]) for name in ("AnnA", "aNNA")),
        *((name, ["character-stray"]) for name in ('Anna""', "Anna (Bo")),
        *(
            (name, ["text-garbled"])
            for name in ("Jos\u00c3\u00a9s \u00d1and\u00fa", "Ren\u221a\u00a9")
        ),
        *(
            (name, [])
            for name in ("\u00c9\u00e9\u00f1", "L\u2019\u00c9cureuil", "\u65e5\u672c\u306e\u30a2")
        ),
        ("\u65e5\u672c Anna", ["scripts-mixed"]),
        ("WiIma", ["letters-alike"]),
        ("MacIntyre", []),
        ("Llewellyn", []),
        ("Kate & the 1st Mate", []),
        ("Anna Anna", ["word-doubled"]),
        ("ANNA", ["case-unusual"]),
        ("JB", []),
        ("B D I J O P S", []),
        ("anna", ["case-unusual"]),
        ("Ann_a", ["character-stray"]),
        ("\u0410nna", ["scripts-mixed"]),
        ("Анна", []),
        ("O'Hara", ["typography-tidied"]),
        ("J. P. de Vries-Ames", []),
    ],
)
def test_slips_are_pointed_out_and_never_mended(
    tmp_path: Path, name: str, flags: list[str]
) -> None:
    book = tmp_path / "orders.csv"
    book.write_text(f'Order,Name,Design,Year\nT-1,"{name}",boat,2027\n', encoding="utf-8")
    (line,), _ = read_book(book, SHOP)
    assert [flag.kind.id for flag in line.flags] == flags
    as_typed = name.replace('""', '"')  # RFC 4180, section 2.7
    assert line.order.field("name").replace("\u2019", "'") == as_typed.replace("\u2019", "'")


@pytest.mark.parametrize(
    ("name", "odd"), [("\u0391nna", "\u0391"), ("Ann\u0430", "\u0430"), ("\u0416AN", "\u0416")]
)
def test_the_odd_letters_are_the_fewer_ones(tmp_path: Path, name: str, odd: str) -> None:
    row = {"order": "T-1", "name": name, "design": "boat"}
    (line,), _ = read_book(write_book(tmp_path / "o.xlsx", [row]), SHOP)
    assert [f.subject for f in line.flags if f.kind.id == "scripts-mixed"] == [odd]


def test_a_garbled_part_is_given_back_as_it_was_meant(tmp_path: Path) -> None:
    row = {"order": "T-1", "name": "Jos\u00c3\u00a9s \u00d1and\u00fa", "design": "boat"}
    (line,), _ = read_book(write_book(tmp_path / "o.xlsx", [row]), SHOP)
    assert [f.to_do for f in line.flags if f.kind.id == "text-garbled"] == [
        'Type it again; it was probably "Jos\u00e9s \u00d1and\u00fa".'
    ]


def test_typography_can_be_left_as_typed(tmp_path: Path) -> None:
    book = tmp_path / "orders.csv"
    book.write_text(
        "Order,Name,Design,Inscription\nT-1,O'Hara,boat,1941 - 2026\n", encoding="utf-8"
    )
    (line,), _ = read_book(book, SHOP)
    assert line.order.field("name") == "O\u2019Hara"
    assert line.order.field("inscription") == "1941 \u2013 2026"
    plain = replace(SHOP, typography=False)
    (line,), _ = read_book(book, plain)
    assert line.order.field("name") == "O'Hara"
    assert line.order.field("inscription") == "1941 - 2026"


@pytest.mark.parametrize(
    ("message", "flags"),
    [
        ("hi, a boat for Katarina O'Hara   please", []),
        ("a boat for Katarina O\u2019Hara", []),
        ("a boat for Katharina O'Hara", ["not-in-message"]),
        ("a boat for katarina o'hara", ["not-in-message"]),
        ("Katarina O'Haras boat", ["not-in-message"]),
        ("(Katarina O'Hara)", []),
        ("", []),
    ],
)
def test_a_name_is_looked_up_in_what_the_buyer_wrote(
    tmp_path: Path, message: str, flags: list[str]
) -> None:
    book = tmp_path / "orders.csv"
    row = f'T-1,Katarina O\'Hara,boat,2027,"{message}"\n'
    book.write_text(f"Order,Name,Design,Year,Message\n{row}", encoding="utf-8")
    (line,), _ = read_book(book, SHOP)
    assert [f.kind.id for f in line.flags if f.kind.id != "typography-tidied"] == flags


@pytest.mark.parametrize(("name", "flagged"), [("Ann", True), ("Anna", False), ("\u82b1", False)])
def test_only_whole_words_of_the_message_count(tmp_path: Path, name: str, flagged: bool) -> None:
    book = tmp_path / "orders.csv"
    row = f"T-1,{name},boat,2027,for Anna and \u82b1\u5b50\n"
    book.write_text(f"Order,Name,Design,Year,Message\n{row}", encoding="utf-8")
    (line,), _ = read_book(book, SHOP)
    told = [flag for flag in line.flags if flag.kind.id == "not-in-message"]
    assert bool(told) is flagged
    assert all("Anna" in flag.to_do for flag in told)


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        *(("24.50", "24.50"), ("$24", "24.00"), ("24,5 $", "24.50"), ("0", "0.00"), ("", None)),
        ("$ 1250.00", "1250.00"),
    ],
)
def test_money_is_read_to_the_cent(tmp_path: Path, typed: str, read: str | None) -> None:
    book = tmp_path / "orders.csv"
    book.write_text(f'Order;Name;Design;Quoted\nT-1;Ida;boat;"{typed}"\n', encoding="utf-8")
    (line,), _ = read_book(book, SHOP)
    assert line.order.quoted is None if read is None else str(line.order.quoted) == read
    assert "money-unread" not in kinds((line,))


def test_a_sum_that_a_formula_gave_is_rounded_and_the_currency_is_the_workshops(
    tmp_path: Path,
) -> None:
    workshop = replace(SHOP, selling=replace(SHOP.selling, currency="Kr"))
    row = {"order": "T-1", "name": "Ida", "design": "boat", "quoted": 73.5 / 9, "paid": "8 kr"}
    (line,), _ = read_book(write_book(tmp_path / "o.xlsx", [row]), workshop)
    assert (str(line.order.quoted), str(line.order.paid)) == ("8.17", "8.00")
    (line,), _ = read_book(tmp_path / "o.xlsx", SHOP)
    assert line.order.paid is None
    assert [f.to_do for f in line.flags if f.kind.id == "money-unread"] == [
        'Type a number alone, such as 24.50; the workshop file\'s currency is "$".'
    ]


MISREAD = ("1,250", "1.250", "5k", "(24)", "5%", "~24", "24-", "'24", "24.5.", "1'200", "$$24")


@pytest.mark.parametrize("typed", ["twenty", "-5", "1,234.50", "24.50 + 3", *MISREAD])
def test_what_is_no_money_is_told(tmp_path: Path, typed: str) -> None:
    book = tmp_path / "orders.csv"
    book.write_text(f'Order;Name;Design;Quoted\nT-1;Ida;boat;"{typed}"\n', encoding="utf-8")
    (line,), _ = read_book(book, SHOP)
    assert line.order.quoted is None
    assert "money-unread" in [flag.kind.id for flag in line.flags]


@pytest.mark.parametrize(
    "row",
    ["<row r='900000000'>", '<row r = "900000000">', f'<row spans="{"1 " * 300}" r="900000000">'],
)
def test_an_absurd_row_is_refused_however_it_is_written(row: str) -> None:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("xl/worksheets/sheet1.xml", f"<sheetData>{row}</row></sheetData>")
    with pytest.raises(UnusableError, match="row 900000000"):
        look("orders.xlsx", data.getvalue())
