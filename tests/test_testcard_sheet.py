"""The page to read the card by, opened by PDFium; and what the command writes."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import numpy as np
import openpyxl
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from pdf_paths import MM, drawn

from proofgen.cli.program import main
from proofgen.resources import folder
from proofgen.testcard.reading import questions
from proofgen.testcard.series import SERIES
from proofgen.workshop.read import load


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that a card of maple and its sheets were written into, on letter paper."""
    out = tmp_path_factory.mktemp("card")
    (out / "own.toml").write_text('format = 1\n[proofs]\npaper = "letter"\n', encoding="utf-8")
    own = ["--workshop", str(out / "own.toml")]
    assert main(["testcard", "--material", "maple-3", "--out", str(out), *own]) == 0
    return out


def boxes(page: pypdfium2.PdfPage) -> list[tuple[float, float, float, float]]:
    """The boxes of all paths in mm from the top left, by their own points; besides them there is
    only text on the page.
    """
    return [(*points.min(axis=0), *points.max(axis=0)) for points in drawn(page, texts=True)]


def test_one_page_of_the_workshops_paper_at_true_size(written: Path) -> None:
    document = pypdfium2.PdfDocument(written / "testcard-maple-3.pdf")
    assert len(document) == 1
    assert document[0].get_size() == pytest.approx((612, 792), abs=0.01)
    root = (written / "testcard-maple-3.svg").read_text(encoding="utf-8")
    width, height = map(float, re.findall(r' (?:width|height)="([\d.]+)mm"', root))
    found = boxes(document[0])
    cards = [
        b for b in found if (b[2] - b[0], b[3] - b[1]) == pytest.approx((width, height), abs=0.01)
    ]
    assert len(cards) == 1
    rulers = [b for b in found if b[2] - b[0] == pytest.approx(100, abs=0.01)]
    # The line of 100 mm and its eleven ticks.
    assert len(rulers) == 2
    # All of it is where a printer prints.
    edges = np.array(found)
    assert edges.min() > 6
    assert (edges[:, 2].max(), edges[:, 3].max()) < (612 / MM - 6, 792 / MM - 6)


def test_it_brings_its_fonts_and_asks_every_question(written: Path) -> None:
    document = pypdfium2.PdfDocument(written / "testcard-maple-3.pdf")
    page = document[0]
    for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
        assert pdfium.FPDFFont_GetIsEmbedded(pdfium.FPDFTextObj_GetFont(item)) == 1
    # It can be searched and read aloud: every question stands there as text, with what is now.
    said = " ".join(page.get_textpage().get_text_range().split())
    asked = questions(load(None), load(None).material("maple-3"))
    for question in asked:
        assert question.good or question.text in said
    blanks = [b for b in boxes(page) if b[2] - b[0] == pytest.approx(15, abs=0.01) and b[3] == b[1]]
    assert len(blanks) == len(asked)
    letters = page.get_textpage()
    high = page.get_height() / MM
    for (left, foot, right, _), question in zip(
        sorted(blanks, key=lambda b: (b[1], b[0])), asked, strict=True
    ):
        box = (left * MM, (high - foot) * MM, right * MM, (high - foot + 3.6) * MM)
        assert letters.get_text_bounded(*box).strip() == question.until_now


def test_the_workbook_asks_what_the_card_has(written: Path) -> None:
    sheet = openpyxl.load_workbook(written / "testcard-maple-3.xlsx").worksheets[0]
    rows = {row[0]: row for row in sheet.iter_rows(min_row=2, values_only=True) if row[0]}
    assert rows["material"][3] == "maple-3"
    for series in SERIES:
        assert tuple(map(float, rows[series.id][2].split())) == series.sizes
    # The limits that ship, as they are drawn: 0.35 and 0.5 less a dot; a lot of ten less 1.8.
    assert rows["stroke"][5] == "0.25 / 0.4"
    assert rows["kerf"][5] == "58.2"


def test_a_material_that_is_not_there_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["testcard", "--material", "oak-9"]) == 2
    assert "birch-3, maple-3" in capsys.readouterr().err


@pytest.mark.parametrize("command", [["testcard"], ["testcard", "read"]])
def test_of_wood_that_must_not_be_cut_there_is_no_card(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: list[str]
) -> None:
    own = tmp_path / "workshop.toml"
    foil = "format = 1\n[materials.foil]\ntitle = 'PVC foil'\nthickness = 1\n"
    own.write_text(foil, encoding="utf-8")
    call = [*command, "--material", "foil", "--workshop", str(own)]
    assert main(call + ([] if "read" in command else ["--out", str(tmp_path)])) == 2
    assert "foil must not be cut (hydrogen chloride)" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["workshop.toml"]
    assert own.read_text(encoding="utf-8") == foil


def test_faces_of_ones_own_stand_on_the_card_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The card and its page are as large as they have to be, on the workshop's paper if it fits."""
    fonts = tmp_path / "fonts"
    fonts.mkdir()
    shutil.copy(folder("fonts") / "Vollkorn-wght.ttf", fonts)
    faces = [
        f'[[face]]\nid = "own-{n}"\ntitle = "Own {n}"\nfile = "Vollkorn-wght.ttf"'
        for n in range(12)
    ]
    (fonts / "faces.toml").write_text("\n".join(["format = 1", *faces]), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert main(["testcard"]) == 0
    root = (tmp_path / "testcard-birch-3.svg").read_text(encoding="utf-8")
    assert root.count('data-field="own-') == 12
    (page,) = pypdfium2.PdfDocument(tmp_path / "testcard-birch-3.pdf")
    width, height = page.get_size()
    tall = float(re.findall(r' height="([\d.]+)mm"', root)[0])
    assert width / MM == pytest.approx(210, abs=0.01)
    assert height / MM > max(297, tall + 60)
