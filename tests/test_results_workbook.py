"""The results workbook, read back."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from openpyxl import Workbook

from proofgen.artwork.artwork import Made
from proofgen.errors import UnusableError
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.orders.order import Order, Source
from proofgen.results.thumbnail import Thumbnails
from proofgen.results.workbook import write_results


def quiet(_done: int, _total: int) -> None:
    """Tests show no progress."""


def made(name: str, row: int, *flags: Flag, number: str = "A-1", code: str = "") -> Made:
    source = Source("orders.xlsx", "S", row)
    return Made(Order(number, 1, source, "boat", (("name", name),), quantity=3), None, flags, code)


def test_every_row_is_told(tmp_path: Path) -> None:
    path = tmp_path / "out" / "results.xlsx"
    rows = [
        made("Ida", 2, code="BOKO-3"),
        made(
            "Anna\nBen",
            9,
            Flag(kinds.YEAR_BLANK, "row 9, year", "2027"),
            Flag(kinds.NAME_MISSING, "row 9, name"),
        ),
    ]
    picture = tmp_path / "out" / "proofs of may" / "Idä #1.png"
    write_results(path, rows, {2: picture}, Thumbnails(path.parent), quiet)
    sheet = openpyxl.load_workbook(path)["Results"]
    header, ida, ben = list(sheet.iter_rows())
    assert [cell.value for cell in header][:4] == ["Order", "Row", "Name", "Verdict"]
    assert [cell.value for cell in ida] == [
        "A-1", 2, "Ida", "ready", None, "BOKO-3", 3, "Idä #1.png", None, None, None, None,
    ]  # fmt: skip
    # RFC 3986: "#" would start a fragment, spaces and letters beyond ASCII are percent-encoded.
    assert ida[7].hyperlink.target == "proofs%20of%20may/Id%C3%A4%20%231.png"
    assert [cell.value for cell in ben][1:4] == [9, "Anna\nBen", "stop"]
    assert [line[:11] for line in ben[4].value.split("\n")] == ["row 9, name", "row 9, year"]
    assert ida[3].fill.fgColor.rgb != ben[3].fill.fgColor.rgb
    assert (sheet.freeze_panes, sheet.auto_filter.ref) == ("A2", "A1:L3")


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\t=1", "#N/A", "2027-05-05", "00123"])
def test_everything_typed_stays_text(tmp_path: Path, text: str) -> None:
    path = tmp_path / "results.xlsx"
    write_results(path, [made(text, 2, number=text)], {}, Thumbnails(path.parent), quiet)
    sheet = openpyxl.load_workbook(path)["Results"]
    for cell in (sheet["A2"], sheet["C2"]):
        assert (cell.value, cell.data_type, cell.number_format) == (text, "s", "@")


def test_characters_that_xml_cannot_hold_do_not_stop_the_batch(tmp_path: Path) -> None:
    path = tmp_path / "results.xlsx"
    write_results(path, [made("I\x07da" + "x" * 40_000, 2)], {}, Thumbnails(path.parent), quiet)
    assert openpyxl.load_workbook(path)["Results"]["C2"].value.startswith("Ida")


@pytest.mark.parametrize("lock", ["~$results.xlsx", ".~lock.results.xlsx#"])
def test_an_open_workbook_is_named_and_kept(tmp_path: Path, lock: str) -> None:
    path = tmp_path / "results.xlsx"
    path.write_bytes(b"old")
    (tmp_path / lock).write_bytes(b"")
    with pytest.raises(UnusableError, match=r"results\.xlsx is open elsewhere"):
        write_results(path, [made("Ida", 2)], {}, Thumbnails(path.parent), quiet)
    assert path.read_bytes() == b"old"


def test_a_workbook_of_the_persons_is_kept(tmp_path):
    path = tmp_path / "orders-results.xlsx"
    own = Workbook()
    own.worksheets[0].append(["Runner", "Time"])
    own.save(path)
    before = path.read_bytes()
    with pytest.raises(UnusableError, match="no results workbook of ours"):
        write_results(path, [], {}, Thumbnails(path.parent), quiet)
    assert path.read_bytes() == before


def test_one_of_ours_is_replaced(tmp_path):
    path = tmp_path / "orders-results.xlsx"
    for _ in range(2):
        write_results(path, [], {}, Thumbnails(path.parent), quiet)
    assert path.exists()
