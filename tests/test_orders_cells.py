"""What cells become. Books are written by openpyxl and by xlsxwriter and read from disk."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter
from orders_package import edit

from proofgen.orders.order import Line
from proofgen.orders.read import read_book
from proofgen.workshop.read import load

HEADERS = ("Order", "Name", "Year", "Design", "Quantity", "Inscription", "Buyer", "Due")
GOOD = {"Order": "A-1", "Name": "Ida", "Year": "2027", "Design": "boat"}
# Spelled with a zero-width non-joiner, which belongs there.
PERSIAN = "\u0645\u0647\u200c\u0633\u0627"
SHOP = replace(load(None), edition_year=2027)


def read_row(path: Path, column: str, value: Any, number_format: str = "General") -> Line:
    """Write one good row but for one cell, and read it back."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.append(HEADERS)
    sheet.append([GOOD.get(header) for header in HEADERS])
    cell = sheet.cell(2, HEADERS.index(column) + 1)
    cell.value = value
    if number_format != "General":
        cell.number_format = number_format
    book.save(path)
    (line,), _ = read_book(path, SHOP)
    return line


def value_of(line: Line, column: str) -> str:
    order = line.order
    plain = {
        "Order": order.number,
        "Design": order.design,
        "Quantity": str(order.quantity),
        "Buyer": order.buyer,
        "Due": order.due,
    }
    return plain[column] if column in plain else order.field(column.lower())


# column, what is written, its number format, what it is read as, flags
CASES = [
    ("Name", "June", "", "June", []),
    ("Name", "Infinity", "", "Infinity", []),
    ("Name", "NaN", "", "NaN", []),
    ("Name", "None", "", "None", []),
    ("Name", "NA", "", "NA", []),
    ("Name", "1E5", "", "1E5", []),
    ("Name", "TRUE", "", "TRUE", ["case-unusual"]),
    ("Name", "Mr & Mrs <Ash>", "", "Mr & Mrs <Ash>", []),
    ("Name", datetime(2027, 5, 5), "d-mmm", "", ["text-became-date"]),
    ("Name", date(2027, 1, 3), "d-mmm", "", ["text-became-date"]),
    ("Name", time(3, 4), "h:mm", "", ["text-became-date"]),
    ("Name", True, "", "", ["text-became-truth"]),
    ("Name", 100000, "", "", ["text-became-number"]),
    ("Name", 0, "", "", ["text-became-number"]),
    ("Name", "=A2", "", "", ["formula-without-result"]),
    ("Name", "#N/A", "", "", ["cell-error"]),
    ("Name", None, "", "", ["name-missing"]),
    ("Name", "  \u00a0\n", "", "", ["name-missing"]),
    ("Name", "Anna_x000D_\nBen", "", "Anna\nBen", []),
    ("Name", "Anna\r\nBen", "", "Anna\nBen", []),
    ("Name", "Mary\u00a0Ann", "", "Mary Ann", ["spaces-tidied"]),
    ("Name", "Mary\u2009 Ann", "", "Mary Ann", ["spaces-tidied"]),
    ("Name", "\ufeffIda\u200b", "", "Ida", ["spaces-tidied"]),
    ("Name", "Ro\u00adsa", "", "Rosa", ["spaces-tidied"]),
    ("Name", PERSIAN, "", PERSIAN, []),
    ("Name", "Zoe\u0308", "", "Zoë", []),
    ("Name", "Ida_x0007_", "", "Ida", ["control-characters"]),
    ("Name", "RenÃ©e", "", "RenÃ©e", ["text-garbled"]),
    ("Name", "Ren\ufffde", "", "Ren\ufffde", ["text-garbled"]),
    ("Name", "Renée", "", "Renée", []),
    ("Inscription", 1974, "", "1974", ["text-from-number"]),
    ("Inscription", date(2027, 3, 4), "", "", ["text-became-date"]),
    ("Year", 2031, "", "2031", []),
    ("Year", 2031.0, "", "2031", []),
    ("Year", "2031 ", "", "2031", ["spaces-tidied"]),
    ("Year", None, "", "2027", ["year-blank"]),
    ("Year", "None", "", "", []),
    ("Year", 31, "", "", ["year-not-a-year"]),
    ("Year", 2031.5, "", "", ["year-not-a-year"]),
    ("Year", 3000, "", "", ["year-not-a-year"]),
    ("Year", "٢٠٢٧", "", "", ["year-not-a-year"]),
    ("Year", True, "", "", ["year-not-a-year"]),
    ("Year", 2031, "yyyy-mm-dd", "", ["year-not-a-year"]),
    ("Year", date(2031, 7, 1), "yyyy", "2031", ["year-from-date"]),
    ("Year", date(2031, 7, 1), "[$-409]yyyy;@", "2031", ["year-from-date"]),
    ("Year", "=B2", "", "", ["formula-without-result"]),
    ("Order", 123, "", "123", []),
    ("Order", 123, "00000", "00123", ["order-zeros"]),
    ("Order", "00123", "", "00123", []),
    ("Order", "A.b_c-d #1", "", "A.b_c-d #1", []),
    ("Order", "../x", "", "../x", ["order-unsafe"]),
    ("Order", "a/b", "", "a/b", ["order-unsafe"]),
    ("Order", "..", "", "..", ["order-unsafe"]),
    ("Order", "A" * 61, "", "A" * 61, ["order-unsafe"]),
    ("Order", 1234567890123456, "", "1234567890123456", ["order-digits-lost"]),
    ("Order", date(2027, 5, 5), "", "", ["text-became-date"]),
    ("Order", None, "", "", ["order-missing"]),
    ("Design", None, "", "", ["design-missing"]),
    ("Design", " Boat ", "", "Boat", []),
    ("Quantity", None, "", "1", []),
    ("Quantity", "3", "", "3", []),
    ("Quantity", 999, "", "999", []),
    ("Quantity", 0, "", "1", ["quantity-not-whole"]),
    ("Quantity", 1000, "", "1", ["quantity-not-whole"]),
    ("Quantity", 2.5, "", "1", ["quantity-not-whole"]),
    ("Quantity", True, "", "1", ["quantity-not-whole"]),
    ("Due", date(2027, 6, 12), "", "2027-06-12", []),
    ("Due", "12.06.2027", "", "2027-06-12", []),
    ("Due", "Sat, 12th of June 2027", "", "2027-06-12", []),
    ("Due", "June 12, 2027", "", "2027-06-12", []),
    ("Due", "6/13/2027", "", "2027-06-13", []),
    ("Due", "13/6/2027", "", "2027-06-13", []),
    ("Due", "6/6/2027", "", "2027-06-06", []),
    ("Due", "6/12/2027", "", "6/12/2027", ["day-unread"]),
    ("Due", "30.02.2027", "", "30.02.2027", ["day-unread"]),
    ("Due", time(12, 30), "h:mm", "12:30:00", ["day-unread"]),
    ("Due", timedelta(days=3), "[h]:mm", "3 days, 0:00:00", ["day-unread"]),
    ("Due", 46010, "", "46010", ["day-unread"]),
    ("Quantity", "2.0", "", "2", []),
    ("Quantity", "1.000", "", "1", ["quantity-not-whole"]),
    ("Due", "before the regatta", "", "before the regatta", ["day-unread"]),
    ("Buyer", "=A2", "", "", ["cell-not-taken"]),
]


@pytest.mark.parametrize(("column", "written", "number_format", "read", "flags"), CASES)
def test_a_cell(
    tmp_path: Path, column: str, written: Any, number_format: str, read: str, flags: list[str]
) -> None:
    line = read_row(tmp_path / "orders.xlsx", column, written, number_format or "General")
    assert value_of(line, column) == read
    assert [flag.kind.id for flag in line.flags] == flags
    letter = "ABCDEFGH"[HEADERS.index(column)]
    assert all(f"row 2, {column.lower()} ({letter}2): " in flag.text for flag in line.flags)


def test_garbled_text_is_given_back_as_it_was_meant(tmp_path: Path) -> None:
    (flag,) = read_row(tmp_path / "orders.xlsx", "Name", "RenÃ©e").flags
    assert '"Renée"' in flag.text


@pytest.mark.parametrize(
    ("serial", "epoch_1904", "read"),
    [
        # Microsoft's support page on DATEVALUE and DATE: serial 1 is 1900-01-01 and 39448 is
        # 2008-01-01; 45292 follows by counting the days to 2024-01-01.
        (39448, False, "2008-01-01"),
        (45292, False, "2024-01-01"),
        (45292.75, False, "2024-01-01"),
        # ECMA-376 Part 1, 18.17.4.1: the other base date is 1904-01-01, 1,462 days later.
        (45292 - 1462, True, "2024-01-01"),
    ],
)
def test_date_serials(tmp_path: Path, serial: float, epoch_1904: bool, read: str) -> None:
    path = tmp_path / "orders.xlsx"
    book = xlsxwriter.Workbook(path, {"date_1904": epoch_1904})
    sheet = book.add_worksheet()
    sheet.write_row(0, 0, HEADERS)
    sheet.write_row(1, 0, [GOOD.get(header, "") for header in HEADERS])
    sheet.write_number(1, HEADERS.index("Due"), serial, book.add_format({"num_format": 14}))
    book.close()
    (line,), _ = read_book(path, SHOP)
    assert line.order.due == read


@pytest.mark.parametrize(
    ("result", "read", "flags"),
    [
        ("Ida", "Ida", []),
        (7, "", ["text-became-number"]),
        (True, "", ["text-became-truth"]),
        ("#REF!", "", ["cell-error"]),
    ],
)
def test_a_formula_counts_as_its_saved_result(
    tmp_path: Path, result: Any, read: str, flags: list[str]
) -> None:
    path = tmp_path / "orders.xlsx"
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet()
    sheet.write_row(0, 0, HEADERS)
    sheet.write_row(1, 0, [GOOD.get(header, "") for header in HEADERS])
    sheet.write_formula(1, 1, "=Z1", None, result)
    sheet.write_formula(1, 2, '=IF(Z1="","",Z1)', None, "nothing")
    book.close()
    # An empty text is a result, so this year is blank; it is not "never computed".
    edit(path, "xl/worksheets/sheet1.xml", b"<v>nothing</v>", b"<v></v>")
    (line,), _ = read_book(path, SHOP)
    assert line.order.field("name") == read
    assert [flag.kind.id for flag in line.flags] == [*flags, "year-blank"]


@pytest.mark.parametrize("name", ["=1+1", "+Ida", "-Ida", "@Ida", "=Hyperlink(1)"])
def test_text_that_looks_like_a_formula_is_text(tmp_path: Path, name: str) -> None:
    path = tmp_path / "orders.xlsx"
    book = xlsxwriter.Workbook(path, {"strings_to_formulas": False})
    sheet = book.add_worksheet()
    sheet.write_row(0, 0, HEADERS)
    sheet.write_row(1, 0, [name if header == "Name" else GOOD.get(header) for header in HEADERS])
    book.close()
    (line,), _ = read_book(path, SHOP)
    assert (line.order.field("name"), line.flags) == (name, ())
