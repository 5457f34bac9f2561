"""What is done at the bench: trays, boards, sessions, orders, glue maps and slips as data."""

from __future__ import annotations

import io
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from functools import reduce
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
import resvg_py
import shapely
from bench_day import BIRCH, BUYERS, DAY, ROWS, WAITING, WALNUT, cut, cuts, day, rows, run, workshop
from PIL import Image

from proofgen.artwork.artwork import Layer
from proofgen.geometry.affine import Affine
from proofgen.geometry.overlap import glued, widest
from proofgen.geometry.path import Path as Outline, circle, join, polygon
from proofgen.jobsheet.blocks import Document, Drawing, Section, Table, Text
from proofgen.jobsheet.build import job_sheet
from proofgen.jobsheet.data import BEFORE, NOWHERE, STOCK, Board
from proofgen.jobsheet.document import document
from proofgen.jobsheet.drawings import ENGRAVED, board_drawing
from proofgen.jobsheet.drawn import svg
from proofgen.jobsheet.joints import joints
from proofgen.jobsheet.pdf import document_pdf
from proofgen.jobsheet.sessions import to_stain
from proofgen.jobsheet.steps import waits
from proofgen.sheets.want import Wood

FINE = 0.001  # mm


def test_every_approved_copy_is_in_one_tray_and_every_layer_in_one_place() -> None:
    sheet = day()
    waiting = {made.code for made in rows() if (made.order.number, made.order.line) == WAITING}
    assert len(waiting) == 1
    wanted = Counter(
        (made.code, copy)
        for made in rows()
        for copy in range(1, made.order.quantity + 1)
        if made.code not in waiting
    )
    assert Counter((tray.code, tray.copy) for tray in sheet.trays) == wanted
    on_boards = Counter(
        (piece.tray, piece.layer.name) for board in sheet.boards for piece in board.pieces
    )
    places = [
        (tray.number, each.layer.name, each.whence, each.number)
        for tray in sheet.trays
        for each in tray.layers
    ]
    cut_now = Counter((tray, layer) for tray, layer, whence, _ in places if whence != STOCK)
    assert on_boards == cut_now
    # The number that a tray says is the one that the board says.
    boards = {board.job.id: board for board in sheet.boards}
    for tray, layer, whence, number in places:
        if whence != STOCK:
            piece = boards[whence].pieces[number - 1]
            assert (piece.number, piece.tray, piece.layer.name) == (number, tray, layer)
    assert sheet.pull == (("Harbour lantern, back", 1),)


def test_a_tray_tells_of_a_layer_that_was_cut_before_or_cannot_be_cut() -> None:
    birch = run(cut("S-0001", Wood("birch-3"), BIRCH))
    left = [
        want for want in birch.wants.values() if (want.number, want.layer.name) == ("LR-2", "back")
    ]
    for too_large, whence in ((), BEFORE), (tuple(left), NOWHERE):
        told = job_sheet(replace(birch, too_large=too_large), {}, workshop(), DAY)
        back = next(tray for tray in told.trays if tray.order == "LR-2").layers[0]
        assert (back.layer.name, back.whence, back.number) == ("back", whence, 0)
    only = replace(run(cut("S-0001", Wood("birch-3"), BIRCH[:1])), pulled=(), too_large=tuple(left))
    assert [tray.order for tray in job_sheet(only, {}, workshop(), DAY).trays] == ["LR-3"]


def test_pieces_are_numbered_as_they_come_free_and_not_as_they_lie() -> None:
    sheet = day()
    for board, planned in zip(sheet.boards, cuts(), strict=True):
        assert board.job.lies != planned.order
        assert [piece.number for piece in board.pieces] == [1, 2, 3]
        assert [(p.order, p.layer.name) for p in board.pieces] == [
            (lies.number, lies.layer) for lies in planned.order
        ]


def test_a_number_stands_on_its_piece_or_leads_to_it() -> None:
    led = 0
    for board in day().boards:
        outlines = {
            piece.number: shapely.affinity.affine_transform(
                _area(piece.layer).buffer(0), _matrix(piece.at)
            )
            for piece in board.pieces
        }
        for piece in board.pieces:
            at, to = piece.tag.at, piece.tag.leads_to
            on = [n for n, body in outlines.items() if body.contains(shapely.Point(at))]
            assert on == ([] if to else [piece.number])
            if to:
                led += 1
                assert outlines[piece.number].boundary.distance(shapely.Point(to)) < 0.2
    assert 0 < led < 6


def test_no_label_covers_what_is_engraved_on_paper_or_on_a_screen() -> None:
    for board in day().boards:
        drawing = board_drawing(board)
        bare = replace(drawing, labels=())
        for picture in (_on_paper, _on_screen):
            with_labels, without = (_engraved(picture(each)) for each in (drawing, bare))
            assert without > 500
            # Hairs under a plate's edge, from smoothing, are no engraving.
            assert with_labels >= without - 3
    # A label on a name would be seen.
    board = day().boards[0]
    drawing = board_drawing(board)
    label = replace(drawing.labels[0], at=_on_name(board))
    counts = [_engraved(_on_paper(replace(drawing, labels=each))) for each in ((), (label,))]
    assert counts[1] < counts[0] - 50


def _engraved(picture: Image.Image) -> int:
    """How many pixels have the colour of engraving."""
    return int((np.asarray(picture.convert("RGB")) == ENGRAVED).all(axis=2).sum())


def _on_paper(drawing: Drawing) -> Image.Image:
    paper = Document("", "", (Section("board", "", (drawing,)),))
    page = pypdfium2.PdfDocument(document_pdf(paper, "a4"))[0]
    return page.render(scale=4).to_pil()


def _on_screen(drawing: Drawing) -> Image.Image:
    drawn = svg(drawing).replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ')
    data = bytes(resvg_py.svg_to_bytes(svg_string=drawn, zoom=2))
    return Image.open(io.BytesIO(data))


def _on_name(board: Board) -> tuple[float, float]:
    piece = board.pieces[0]
    marks = [m.path for m in piece.layer.marks if m.field == "name"]
    return join(marks).moved(piece.at).bounds().centre


def test_a_finish_comes_before_engraving_where_the_workshop_says_so() -> None:
    sheet = day()
    first = sheet.sessions[0]
    assert first.before and first.title == "Walnut stain, before engraving"
    assert [task.where for task in first.tasks] == ["S-0002"]
    assert first.wait == "dries 4 h before it is engraved"
    for work in sheet.orders:
        steps = [title for title, _ in work.steps]
        stained = [title.startswith("Stain board") for title in steps]
        assert stained == sorted(stained, reverse=True)
        assert any(stained) == (work.number != "LR-3")
    weathered = replace(workshop(), finishes=tuple(map(_after, workshop().finishes)))
    bare = run(cut("S-0001", Wood("birch-3"), BIRCH), cut("S-0002", Wood("birch-3"), WALNUT))
    later = job_sheet(bare, {}, weathered, DAY)
    assert [session.title for session in later.sessions][:2] == ["Walnut stain", "Glue"]
    order = later.orders[0]
    steps = [title for title, _ in order.steps if title != "Clean"]
    assert steps[:4] == ["Engrave and cut", "Engrave and cut", "Walnut stain", "Glue"]


def test_a_remainder_of_a_stained_board_is_not_stained_again() -> None:
    wood = Wood("birch-3", "walnut")
    new, old = (
        job_sheet(run(cut("S-0002", wood, WALNUT, uses)), {}, workshop(), "")
        for uses in ("", "R-0001")
    )
    assert to_stain(new.boards[0]) and new.sessions[0].before
    assert not to_stain(old.boards[0]) and not any(each.before for each in old.sessions)


def test_sessions_take_each_piece_once_and_leave_out_what_it_does_not_need() -> None:
    sessions = {session.title: session for session in day().sessions}
    everything = [f"{tray.number}" for tray in day().trays]
    layered = [f"{tray.number}" for tray in day().trays if len(tray.layers) > 1]
    assert [task.where for task in sessions["Lacquer"].tasks] == everything
    assert [task.where for task in sessions["Pack"].tasks] == everything
    assert [task.where for task in sessions["Glue"].tasks] == layered == ["1", "2", "3"]
    assert sessions["Glue"].wait == "stays clamped 30 min"
    bare = replace(workshop(), steps=replace(workshop().steps, lacquer_dries=0.0))
    assert "Lacquer" not in [session.title for session in day(shop=bare).sessions]
    own = replace(workshop().steps, finishes=(("walnut", 720.0),))
    slow = day(shop=replace(workshop(), steps=own))
    assert slow.sessions[0].wait == "dries 12 h before it is engraved"


@pytest.mark.parametrize(
    ("minutes", "says"),
    [(0, ""), (30, "dries 30 min"), (60, "dries 1 h"), (90, "dries 1 h 30 min")],
)
def test_waiting_is_said_in_hours_and_minutes(minutes: float, says: str) -> None:
    assert waits("dries", minutes) == says


@pytest.mark.parametrize("inset", [1.0, 3.0, 5.0])
def test_glue_keeps_away_from_every_edge(inset: float) -> None:
    found = list(joints(day().trays, inset))
    assert [joint.trays for joint in found] == [(1, 2), (3,)]
    for joint in found:
        tray = next(tray for tray in day().trays if tray.number == joint.trays[0])
        # Rings in one another are holes.
        glue = reduce(
            shapely.symmetric_difference,
            (shapely.Polygon(c.flatten(FINE)) for c in joint.glue.contours),
        )
        assert not glue.is_empty and 0 < joint.share < 1
        for each in tray.layers:
            wood = _area(each.layer)
            assert wood.contains(glue)
            assert wood.boundary.distance(glue) >= inset - FINE
    assert next(joints(day().trays, 60.0)).share == 0


def test_glue_of_two_squares_is_the_square_that_is_left() -> None:
    lower, upper = _square(0, 0, 40), _square(10, 0, 40)
    glue, covered, touching = glued(lower, upper, 3.0)
    box = glue.bounds()
    found = (box.left, box.top, box.right, box.bottom)
    assert found == pytest.approx((13, 3, 37, 37), abs=0.05)
    assert (covered, touching) == pytest.approx((24 * 34, 30 * 40), rel=0.01)
    assert glued(lower, _square(50, 0, 40), 3.0) == (Outline(), 0, 0)


def test_the_widest_place_is_that_of_the_largest_part() -> None:
    middle, radius = widest(join((circle((0, 0), 5), circle((30, 10), 8))))
    assert (*middle, radius) == pytest.approx((30, 10, 8), abs=0.2)
    with pytest.raises(ValueError, match="nothing"):
        widest(Outline())


def test_a_slip_adds_up_its_own_order_and_tells_what_is_not_there() -> None:
    slips = {slip.number: slip for slip in day().slips}
    two = slips["LR-2"]
    assert (two.price, two.paid, two.balance) == ("$49.00", "$10.00", "$39.00")
    assert [(item.name, item.trays) for item in two.items] == [("Liv", (3,)), ("Mara", ())]
    assert (slips["LR-3"].price, slips["LR-3"].balance) == ("", "")
    listed = job_sheet(
        replace(run(), prices={"LR-3": Decimal(22), "LR-2": Decimal(1)}), {}, workshop(), DAY
    )
    slips = {slip.number: slip for slip in listed.slips}
    assert (slips["LR-3"].price, slips["LR-3"].balance) == ("$22.00", "$22.00")
    assert slips["LR-2"].price == "$49.00"
    for number, slip in slips.items():
        assert slip.buyer == BUYERS[number]
        names = {name for order, name, *_ in ROWS if order == number}
        assert {item.name for item in slip.items} == names


def test_a_picture_is_found_by_order_and_line() -> None:
    pictures = {("LR-2", 2): Path("mara.png")}
    found = [item.picture for slip in day(pictures).slips for item in slip.items]
    assert found == [None, None, Path("mara.png"), None]


def _after(finish):
    return replace(finish, when="after") if finish.id == "walnut" else finish


def _square(x: float, y: float, side: float) -> Outline:
    return polygon([(x, y), (x + side, y), (x + side, y + side), (x, y + side)])


def _area(layer: Layer) -> shapely.Geometry:
    """The wood that is left, by the drawn marks."""
    bodies, holes = (
        shapely.union_all(
            [
                shapely.Polygon(contour.flatten(FINE)).buffer(0)
                for mark in layer.marks
                if mark.operation == operation
                for contour in mark.path.contours
            ]
        )
        for operation in ("cut-outside", "cut-inside")
    )
    return bodies.difference(holes)


def _matrix(at: Affine) -> list[float]:
    return [at.a, at.c, at.b, at.d, at.e, at.f]


def test_letters_that_no_font_here_has_are_named_with_their_order() -> None:
    usual = document(day())
    known = run()
    rows = tuple(
        replace(made, order=replace(made.order, buyer="\u738b\u82b3"))
        if made.order.number == "LR-3"
        else made
        for made in known.rows
    )
    foreign = document(job_sheet(replace(known, rows=rows), {}, workshop(), DAY))
    said = [b.text for b in foreign.sections[0].blocks if isinstance(b, Text)]
    assert [t for t in said if "no font here" in t] == [
        "Order LR-3: no font here has \u738b \u82b3, so boxes stand for them on paper; print its "
        "slip from the page for a screen."
    ]
    # The Greek buyer of LR-2 is written.
    assert not any(isinstance(b, Text) and "no font" in b.text for b in usual.sections[0].blocks)


def test_a_slip_says_what_lies_elsewhere_and_what_is_not_settled() -> None:
    known = run()
    rows = tuple(
        replace(made, order=replace(made.order, quantity=made.order.quantity + 1))
        for made in known.rows
    )
    slips = job_sheet(replace(known, rows=rows, unclear=("LR-1",)), {}, workshop(), DAY).slips
    table = next(b for b in document(day()).sections[-1].blocks if isinstance(b, Table))
    assert table.rows[0][4].isdigit()
    first = next(slip for slip in slips if slip.number == "LR-1")
    assert (first.price, first.balance) == ("still to be settled", "")
    paper = document(job_sheet(replace(known, rows=rows), {}, workshop(), DAY))
    (row,) = next(
        b.rows
        for section in paper.sections
        if section.id.startswith("slip-") and section.title == "Order LR-1"
        for b in section.blocks
        if isinstance(b, Table)
    )
    assert row[2] == "3" and row[4].endswith("; 1 not in this run")
