"""Proof pages, opened by PDFium: true size, nothing that needs a font, nothing of other buyers."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import replace

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from proof_pieces import lantern, plaque

from proofgen.artwork.artwork import Made
from proofgen.proofs.page import proof_pdf
from proofgen.workshop.read import load

WORKSHOP = load(None)
MM = 72 / 25.4  # points


def boxes(page: pypdfium2.PdfPage) -> Iterator[tuple[float, float]]:
    """Width and height in mm of the points of every path; there is nothing else on the page."""
    for item in page.get_objects():
        assert item.type == pdfium.FPDF_PAGEOBJ_PATH
        matrix = item.get_matrix()
        x, y = ctypes.c_float(), ctypes.c_float()
        points = []
        for number in range(pdfium.FPDFPath_CountSegments(item)):
            segment = pdfium.FPDFPath_GetPathSegment(item, number)
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            points.append(matrix.on_point(x.value, y.value))
        across, down = zip(*points, strict=True)
        yield (max(across) - min(across)) / MM, (max(down) - min(down)) / MM


def has(page: pypdfium2.PdfPage, width: float, height: float) -> bool:
    return any(found == pytest.approx((width, height), abs=0.01) for found in boxes(page))


def opened(pieces: list[Made], workshop=WORKSHOP) -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(proof_pdf(pieces, workshop))


def test_each_piece_has_a_page_at_true_size_with_rulers() -> None:
    document = opened([lantern(), plaque()])
    assert len(document) == 2
    assert has(document[1], 120, 60)
    for page in document:
        assert page.get_size() == pytest.approx((210 * MM, 297 * MM), abs=0.01)
        assert has(page, 100, 4)
        assert has(page, 101.6, 4)


def test_no_font_is_needed_and_only_order_and_codes_are_said() -> None:
    document = opened([lantern()])
    assert b"/FontFile" not in proof_pdf([lantern()], WORKSHOP)
    assert document[0].get_textpage().get_text_bounded() == ""
    said = document.get_metadata_dict()
    assert (said["Title"], said["Subject"], said["Author"]) == ("Order 1042", "K7MQ-42TX", "")


def test_the_same_piece_gives_the_same_bytes() -> None:
    assert proof_pdf([lantern()], WORKSHOP) == proof_pdf([lantern()], WORKSHOP)
    assert proof_pdf([lantern("Ida")], WORKSHOP) != proof_pdf([lantern("Ada")], WORKSHOP)


def test_a_piece_larger_than_the_paper_gets_a_larger_page() -> None:
    made = plaque()
    assert made.artwork is not None
    wide = replace(made, artwork=replace(made.artwork, size=(300.0, 60.0)))
    assert opened([wide])[0].get_size()[0] == pytest.approx(330 * MM, abs=0.01)
    letter = replace(WORKSHOP, proofs=replace(WORKSHOP.proofs, paper="letter"))
    assert opened([made], letter)[0].get_size() == pytest.approx((612, 792), abs=0.01)


def test_the_back_has_a_page_of_its_own() -> None:
    made = plaque()
    assert made.artwork is not None
    (layer,) = made.artwork.layers
    marks = tuple(replace(m, side="back") if m.field == "name" else m for m in layer.marks)
    turned = replace(made.artwork, layers=(replace(layer, marks=marks),))
    document = opened([replace(made, artwork=turned)])
    assert len(document) == 2
    front, back = (len(list(page.get_objects())) for page in document)
    assert back == front + 1
