"""Proof pages, opened by PDFium: true size, nothing that needs a font, nothing of other buyers."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path as File

import numpy as np
import pypdfium2
import pytest
from pdf_paths import MM, Points, drawn
from proof_pieces import lantern, plaque

from proofgen.artwork.artwork import Artwork, Made
from proofgen.day.sets import write_pages
from proofgen.day.superseded import Shown
from proofgen.designs.design import Mark
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.path import Path, circle, polygon
from proofgen.geometry.polygons import area
from proofgen.orders.order import Source
from proofgen.proofs.page import PAPERS, SIDE, fitted, proof_pdf
from proofgen.workshop.contrast import luminance, ratio
from proofgen.workshop.gone import PLAIN
from proofgen.workshop.read import load

WORKSHOP = load(None)
FINE = 20  # pixels a millimetre


def opened(pieces: list[Made], workshop=WORKSHOP) -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(proof_pdf(pieces, workshop))


def corner(page: pypdfium2.PdfPage, width: float, height: float) -> Points:
    """The top left of the first path of that size; StopIteration where there is none."""
    boxes = ((points.min(axis=0), np.ptp(points, axis=0)) for points in drawn(page))
    return next(at for at, size in boxes if np.abs(size - (width, height)).max() < 0.01)


def astray(page: pypdfium2.PdfPage, path: Path, origin: Points) -> float:
    """How far, in mm, the points that a path passes through are from any that the page draws."""
    there = np.concatenate(list(drawn(page)))
    ends = [e for c in path.contours for e in (c.start, *(s[-1] for s in c.segments))]
    wanted = np.array(ends) + origin
    return max(float(np.hypot(*(there - point).T).min()) for point in wanted)


@cache
def rendered(data: bytes, page: int = 0) -> Points:
    """The page as (height, width, 3) at FINE pixels a millimetre."""
    opened_page = pypdfium2.PdfDocument(data)[page]
    return opened_page.render(scale=FINE / MM).to_numpy()[..., 2::-1].astype(float)


def piece(made: Made) -> Artwork:
    assert made.artwork is not None
    return made.artwork


def with_marks(made: Made, *marks: Mark) -> Made:
    """The plaque with these marks alone."""
    (layer,) = piece(made).layers
    return replace(made, artwork=replace(piece(made), layers=(replace(layer, marks=marks),)))


def of_size(made: Made, width: float, height: float) -> Made:
    return replace(made, artwork=replace(piece(made), size=(width, height)))


def test_everything_is_where_it_is_made_to_a_hundredth_of_a_millimetre() -> None:
    made = plaque()
    page = opened([made])[0]
    origin = corner(page, 120, 60)
    for mark in piece(made).layers[0].marks:
        assert astray(page, mark.path, origin) < 0.01
    assert astray(page, circle((60, 30), 4.0), origin) > 0.1


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_has_the_paper_of_the_workshop_and_rulers(paper: str) -> None:
    workshop = replace(WORKSHOP, proofs=replace(WORKSHOP.proofs, paper=paper))
    document = opened([lantern(), plaque()], workshop)
    assert len(document) == 2
    for page in document:
        size = np.array(page.get_size()) / MM
        assert size == pytest.approx(PAPERS[paper], abs=0.01)
        assert corner(page, 100, 4)[0] == pytest.approx(SIDE, abs=0.01)
        assert corner(page, 101.6, 4)[0] == pytest.approx(SIDE, abs=0.01)


def test_engraving_is_filled_with_its_own_area() -> None:
    made = plaque()
    name, outside = (piece(made).layers[0].marks[i] for i in (0, 2))
    data = proof_pdf([with_marks(made, name, outside)], WORKSHOP)
    left, top = corner(pypdfium2.PdfDocument(data)[0], 120, 60)
    inside = np.s_[int(top * FINE) : int((top + 60) * FINE), int(left * FINE) + 99 :]
    finish = WORKSHOP.finish("natural")
    wood, floor = np.array(finish.wood[2]), np.array(finish.engraving)
    share = (rendered(data)[inside][:, : 108 * FINE] - wood) @ (floor - wood)
    share /= ((floor - wood) ** 2).sum()
    dark = share[(share > 0.05) & (share < 1.05)].sum() / FINE**2
    assert dark == pytest.approx(area(name.path, 1e-4), rel=0.01)


def test_openings_are_open_and_engraving_stays_on_the_wood() -> None:
    made = plaque()
    outside = piece(made).layers[0].marks[2]
    across = Mark("engrave-area", polygon([(50, -5), (70, -5), (70, 65), (50, 65)]))
    hole = Mark("cut-inside", circle((60, 30), 5.0))
    data = proof_pdf([with_marks(made, across, hole, outside)], WORKSHOP)
    left, top = corner(pypdfium2.PdfDocument(data)[0], 120, 60)

    def colour(x: float, y: float) -> list[float]:
        return rendered(data)[round((top + y) * FINE), round((left + x) * FINE)].tolist()

    finish = WORKSHOP.finish("natural")
    assert colour(60, -2) == colour(60, 30) == [255, 255, 255]
    assert colour(60, 20) == list(finish.engraving)
    assert colour(30, 20) == list(finish.wood[2])


def test_the_back_has_a_page_of_its_own_as_seen_from_behind() -> None:
    made = plaque()
    name, _, outside = piece(made).layers[0].marks
    hole = Mark("cut-inside", circle((20, 40), 3.0))
    document = opened([with_marks(made, replace(name, side="back"), hole, outside)])
    assert len(document) == 2
    front, back = ((page, corner(page, 120, 60)) for page in document)
    assert astray(back[0], name.path, back[1]) < 0.01 < astray(front[0], name.path, front[1])
    mirrored = circle((100, 40), 3.0)
    assert astray(back[0], mirrored, back[1]) < 0.01 < astray(front[0], mirrored, front[1])
    assert astray(front[0], hole.path, front[1]) < 0.01


def test_no_font_is_named_and_only_order_and_codes_are_said() -> None:
    data = proof_pdf([lantern(), lantern(), plaque()], WORKSHOP)
    assert b"/BaseFont" not in data
    assert pypdfium2.PdfDocument(data)[0].get_textpage().get_text_bounded() == ""
    said = pypdfium2.PdfDocument(data).get_metadata_dict()
    assert said["Title"] == "Order 1042"
    assert said["Subject"] == "K7MQ-42TX, AB3D-9XYZ x 3"
    assert said["Author"] == ""
    assert re.fullmatch("[0-9a-f]{16}", said["Keywords"])


def test_only_the_artwork_is_drawn_and_always_the_same() -> None:
    made = lantern()
    order = replace(made.order, fields=(("name", "Somebody else"),), buyer="Ida", due="2027-06-01")
    data = proof_pdf([made], WORKSHOP)
    assert proof_pdf([replace(made, order=order)], WORKSHOP) == data
    assert proof_pdf([lantern("Ida")], WORKSHOP) != proof_pdf([lantern("Ada")], WORKSHOP)


def test_a_larger_piece_lies_or_is_drawn_smaller() -> None:
    a4 = PAPERS["a4"]
    assert fitted((180, 200), 90, a4) == ((210, 297), 100)
    assert fitted((230, 120), 90, a4) == ((297, 210), 100)
    assert fitted((308, 120), 90, a4) == ((297, 210), 86)
    assert fitted((180, 414), 90, a4) == ((210, 297), 50)
    for paper, percent in (("a4", 89), ("letter", 83)):
        workshop = replace(WORKSHOP, proofs=replace(WORKSHOP.proofs, paper=paper))
        page = opened([of_size(plaque(), 300, 60)], workshop)[0]
        size = sorted(np.array(page.get_size()) / MM)
        assert size == pytest.approx(sorted(PAPERS[paper]), abs=0.01)
        share = percent / 100
        assert corner(page, 120 * share, 60 * share)[0] > SIDE
        # What the print is measured by stays.
        assert corner(page, 100, 4)[0] == pytest.approx(SIDE, abs=0.01)


def test_a_smaller_drawing_says_so() -> None:
    large, lying = (opened([of_size(plaque(), width, 60)])[0] for width in (300, 200))
    shapes = [[points.shape for points in drawn(page)] for page in (large, lying)]
    # All words but those on the scale are the same.
    assert len(set(shapes[0]) ^ set(shapes[1])) > 0
    assert shapes[0][-1] == shapes[1][-1]


def test_layers_of_one_finish_are_told_apart() -> None:
    made = lantern(finishes=("natural", "natural"))
    data = proof_pdf([made], WORKSHOP)
    left, top = corner(pypdfium2.PdfDocument(data)[0], 78, 95.8)
    at = rendered(data)
    front, back = (at[round((top + y) * FINE), round((left + 39) * FINE)] for y in (91.3, 97.8))
    assert front.tolist() == list(WORKSHOP.finish("natural").wood[2])
    assert ratio(luminance(tuple(front)), luminance(tuple(back))) > 1.3


@pytest.mark.parametrize("name", ["W" * 90, "Bartholomew " * 8, "Ж" * 40, "אבגדה " * 12])
def test_nothing_that_is_said_leaves_the_page_or_meets_the_piece(name: str) -> None:
    said = piece(lantern("A")).lettering[0]
    line = replace(said.lines[0], text=name.strip())
    texts = tuple(replace(said, field=field, lines=(line,)) for field in ("name", "inscription"))
    tall = replace(piece(plaque()), lettering=texts, size=(120.0, 120.0))
    page = opened([replace(plaque(), artwork=tall)])[0]
    every = np.concatenate(list(drawn(page)))
    assert every.min() >= SIDE - 3
    assert every[:, 0].max() <= 210 - SIDE + 0.1
    assert every[:, 1].max() <= page.get_height() / MM - 9
    top = corner(page, 120, 60)[1]
    above = [points for points in drawn(page) if points[:, 1].min() < top - 0.2]
    assert max(points[:, 1].max() for points in above) < top - 3


def test_a_finish_that_is_gone_is_shown_plain() -> None:
    made = plaque(finish="moss")
    data = proof_pdf([made], WORKSHOP)
    left, top = corner(pypdfium2.PdfDocument(data)[0], 120, 60)
    assert rendered(data)[round((top + 8) * FINE), round((left + 60) * FINE)].tolist() == list(
        PLAIN[2]
    )


def test_orders_whose_numbers_look_alike_in_file_names_stay_apart(tmp_path: File) -> None:
    def numbered(number: str, row: int, made: Made) -> Made:
        return replace(made, order=replace(made.order, number=number, source=Source("b", "", row)))

    stopped = replace(plaque(), artwork=None, flags=(Flag(kinds.NAME_MISSING, "row 2"),))
    rows = [
        numbered("7.1", 2, stopped),
        numbered("7-1", 3, plaque()),
        numbered("7.1", 4, lantern()),
        numbered("8", 5, stopped),
        numbered("7.1", 6, lantern()),
    ]
    told: list[tuple[int, int]] = []
    written = Shown(tmp_path)
    paths = write_pages(rows, written, WORKSHOP, lambda done, total: told.append((done, total)))
    assert [path.name for path in paths] == ["order-7-1_x772444.pdf", "order-7-1.pdf"]
    assert [len(pypdfium2.PdfDocument(path)) for path in paths] == [2, 1]
    assert told == [(3, 5), (4, 5), (5, 5)]
