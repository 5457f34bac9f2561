"""The job sheet on paper, opened by PDFium, and on a screen, in a real Chromium."""

from __future__ import annotations

import re
from pathlib import Path

import axe_core_python.base
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from bench_day import BUYERS, DAY, ROWS, WAITING, day, paper
from browser import CHROMIUM, Tab
from PIL import Image

from proofgen.faces.static import CHARACTERS
from proofgen.jobsheet.blocks import Document, Section, Table, Text
from proofgen.jobsheet.document import CAUTIONS
from proofgen.jobsheet.drawings import BOARD_MOST
from proofgen.jobsheet.html import document_html
from proofgen.jobsheet.pdf import document_pdf, paged
from proofgen.jobsheet.strips import Strip
from proofgen.proofs.page_type import width, wrapped

MM = 72 / 25.4  # points
AXE = Path(axe_core_python.base.__file__).with_name("axe.min.js")
SIZES = pytest.mark.parametrize("size", [(390, 844), (1280, 900)], ids=["phone", "desk"])
NEEDS_CHROMIUM = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium on this machine")


@pytest.fixture(scope="module")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, int], Path]:
    """Stand-ins as large as real ones, each of one colour."""
    folder = tmp_path_factory.mktemp("pictures")
    found = {}
    for key, colour in (("LR-1", 1), "#a04030"), (("LR-3", 1), "#305080"):
        found[key] = folder / f"{key[0]}.png"
        Image.new("RGB", (1080, 1350), colour).save(found[key])
    return found


@pytest.fixture(scope="module")
def pdf(pictures: dict[tuple[str, int], Path]) -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(document_pdf(paper(pictures), "a4"))


def said(page: pypdfium2.PdfPage) -> str:
    return " ".join(page.get_textpage().get_text_range().split())


def test_pages_are_of_the_workshops_paper(pdf: pypdfium2.PdfDocument) -> None:
    letter = pypdfium2.PdfDocument(document_pdf(paper(), "letter"))
    for book, size in ((pdf, (210, 297)), (letter, (215.9, 279.4))):
        sizes = {tuple(round(side / MM, 1) for side in page.get_size()) for page in book}
        assert sizes == {size}
    # The day and each board and slip begin pages of their own.
    heads = [said(page) for page in pdf]
    slips = [f"Order {slip.number} {day().title} For" for slip in day().slips]
    for head in ("The day's work", "Board S-0001", "Board S-0002", *slips):
        assert sum(text.startswith(head) for text in heads) == 1, head


def test_all_that_is_to_be_known_is_there_as_text(pdf: pypdfium2.PdfDocument) -> None:
    text = " ".join(said(page) for page in pdf)
    for tray in day().trays:
        assert f"{tray.order} {tray.name}" in text
    for caution in CAUTIONS:
        assert caution in text
    for wanted in ("S-0001 no. 2", "from stock", "clamped 30 min", "$39.00", BUYERS["LR-2"]):
        assert wanted in text, wanted


def test_every_font_goes_along_and_nothing_is_set_that_it_lacks(pdf: pypdfium2.PdfDocument) -> None:
    for page in pdf:
        for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
            font = pdfium.FPDFTextObj_GetFont(item)
            assert pdfium.FPDFFont_GetIsEmbedded(font) == 1
        letters = page.get_textpage()
        assert not {"\x00", "\ufffd", "\ufffe"} & set(letters.get_text_range())
    assert not set(BUYERS["LR-2"]) & set(CHARACTERS)


def test_greek_is_seen_though_the_font_lacks_it(pdf: pypdfium2.PdfDocument) -> None:
    page = next(
        page for page in pdf if said(page).startswith("Order LR-2") and "To pay" in said(page)
    )
    letters = page.get_textpage()
    index = letters.search(BUYERS["LR-2"]).get_next()[0]
    boxes = [letters.get_charbox(index + i) for i in range(len(BUYERS["LR-2"]))]
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    bottom, top = min(box[1] for box in boxes), max(box[3] for box in boxes)
    scale = 8
    grey = page.render(scale=scale).to_pil().convert("L")
    high = page.get_height()
    crop = grey.crop(tuple(int(v * scale) for v in (left, high - top, right, high - bottom)))
    dark = sum(crop.histogram()[:128]) / (crop.width * crop.height)
    assert 0.08 < dark < 0.6


def test_a_board_is_drawn_at_its_proportions(pdf: pypdfium2.PdfDocument) -> None:
    board = day().boards[0]
    page = next(page for page in pdf if said(page).startswith("Board S-0001"))
    boxes = [item.get_bounds() for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH])]
    scale = BOARD_MOST / 300
    side = BOARD_MOST * MM
    frame = next(b for b in boxes if b[2] - b[0] == pytest.approx(side, abs=2))
    assert frame[3] - frame[1] == pytest.approx(side, abs=2)
    for piece in board.pieces:
        box = piece.layer.marks[-1].path.moved(piece.at).bounds()
        wanted = (
            frame[0] + box.left * scale * MM,
            frame[3] - box.bottom * scale * MM,
            frame[0] + box.right * scale * MM,
            frame[3] - box.top * scale * MM,
        )
        assert any(found == pytest.approx(wanted, abs=1.5) for found in boxes), piece.name


def test_a_slip_bears_its_picture_and_nobody_elses_name(pdf: pypdfium2.PdfDocument) -> None:
    slips = [page for page in pdf if "Code" in said(page) and "Piece" in said(page)]
    assert len(slips) == len(day().slips)
    for page, slip in zip(slips, day().slips, strict=True):
        text = said(page)
        assert text.startswith(f"Order {slip.number}") and slip.buyer in text
        strangers = [n for o, n, *_ in ROWS if o != slip.number] + [
            each for o, buyer in BUYERS.items() if o != slip.number for each in (o, buyer)
        ]
        assert [each for each in strangers if re.search(rf"\b{each}\b", text)] == []
        images = list(page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE]))
        assert len(images) == (slip.number != "LR-2")
        for image in images:
            left, bottom, right, top = image.get_bounds()
            assert (top - bottom) / (right - left) == pytest.approx(1.25, rel=0.01)


def test_the_same_day_is_the_same_file() -> None:
    assert document_pdf(paper(), "a4") == document_pdf(paper(), "a4")


def test_what_somebody_typed_is_never_markup() -> None:
    typed = '<img src=x onerror=alert(1)> & "$title"'
    blocks = (Text(typed), Table((typed,), (1.0,), ((typed,),)))
    page = document_html(Document(typed, DAY, (Section("day", typed, blocks),)))
    assert "<img" not in page and page.count("&lt;img src=x onerror=alert(1)&gt;") >= 6
    assert "&quot;$title&quot;" in page


def test_what_is_kept_together_is_not_parted() -> None:
    def strip(height: float, keep: bool = False) -> Strip:
        return Strip(height, lambda *_: None, keep)

    found = [strip(60), strip(30, keep=True), strip(20), strip(90)]
    assert [[each.height for each in page] for page in paged(found, 100)] == [[60], [30, 20], [90]]
    # More than a page of it is broken all the same, and nothing reaches below the page.
    long = paged([strip(40, keep=True)] * 7, 100)
    assert [len(page) for page in long] == [2, 2, 2, 1]


def test_text_is_broken_where_it_must_be_and_never_lost() -> None:
    text = "Bartholomew-Maximilian Featherstonehaugh-Winterbourne of the harbour"
    lines = wrapped(text, 3.5, 25.0)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(width(line, 3.5) <= 25.0 for line in lines) and len(lines) > 3


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory, pictures: dict[tuple[str, int], Path]) -> Path:
    path = tmp_path_factory.mktemp("page") / "jobs.html"
    path.write_text(document_html(paper(pictures)), encoding="utf-8")
    return path


@NEEDS_CHROMIUM
@SIZES
def test_the_page_fits_a_phone_and_a_desk(tab: Tab, page: Path, size: tuple[int, int]) -> None:
    tab.size(*size)
    tab.open(page)
    assert (
        tab.run("document.documentElement.scrollWidth - document.documentElement.clientWidth") == 0
    )
    assert tab.run("innerWidth") == size[0], "a page that does not fit is laid out wider"
    least = "(e) => Math.min(e.getBoundingClientRect().width, e.getBoundingClientRect().height)"
    targets = "[...document.querySelectorAll('nav a, td label')]"
    assert tab.run(f"Math.min(...{targets}.map({least}))") >= 40
    drawings = tab.run(
        "[...document.querySelectorAll('svg')].map((e) => e.getBoundingClientRect())"
        ".map((r) => [r.width, r.height])"
    )
    assert len(drawings) == 4 and all(min(each) > 60 and max(each) < size[0] for each in drawings)
    board = drawings[0]
    assert board[0] == pytest.approx(board[1], rel=0.01)
    assert tab.run("[...document.images].every((i) => i.complete && i.naturalWidth > 0)") is True
    tab.run(AXE.read_text(encoding="utf-8") + "; 1")
    found = tab.run("axe.run().then((r) => r.violations.map((v) => v.id + ' ' + v.nodes[0].html))")
    assert found == []


@NEEDS_CHROMIUM
def test_ticks_stay_when_the_page_is_opened_again(tab: Tab, page: Path) -> None:
    tab.size(1280, 900)
    tab.open(page)
    ticked = "document.querySelectorAll('input:checked').length"
    box = "document.querySelector('#s-0001 input')"
    assert tab.run(ticked) == 0
    tab.run(f"{box}.click()")
    tab.go("about:blank")
    tab.open(page)
    assert tab.run(ticked) == 1 and tab.run(f"{box}.checked") is True
    # Another run begins with nothing ticked, and leaves this one's ticks alone for two months.
    other = page.with_name("other.html")
    text = page.read_text(encoding="utf-8")
    other.write_text(re.sub(r'data-run="\w+"', 'data-run="other"', text), encoding="utf-8")
    tab.open(other)
    assert tab.run(ticked) == 0
    tab.run(f"{box}.click()")
    tab.open(page)
    assert tab.run(ticked) == 1
    old = "JSON.stringify({at: Date.now() - 61 * 864e5, ticked: []})"
    tab.run(f"localStorage.setItem('job sheet old', {old})")
    tab.open(other)
    assert tab.run("localStorage.getItem('job sheet old')") is None
    assert tab.run("Object.keys(localStorage).length") == 2


@NEEDS_CHROMIUM
def test_the_page_can_be_printed_a_slip_a_page(tab: Tab, page: Path) -> None:
    tab.open(page)
    printed = [said(each) for each in pypdfium2.PdfDocument(tab.print())]
    assert WAITING[0] in {slip.number for slip in day().slips}
    for slip in day().slips:
        own = [text for text in printed if f"Packing slip: Order {slip.number}" in text]
        assert len(own) == 1 and own[0].count("Packing slip") == 1
