"""The order of work: from the inside out at any depth, nothing engraved on what is loose."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import given, settings, strategies as st
from sheets import artwork, layer, lone, nine, square, tile, turned, workshop

from proofgen.designs.design import Mark
from proofgen.geometry.affine import Affine
from proofgen.geometry.along import length
from proofgen.geometry.path import Contour, Path, circle, join
from proofgen.geometry.polygons import area
from proofgen.geometry.rect import Rect
from proofgen.production.plan import MANNERS, plan
from proofgen.production.steps import Laid, Plan, SheetArt, Step, over_finished
from proofgen.workshop.motion import Cutting
from proofgen.workshop.workshop import OPERATIONS, Workshop

PLAIN = Cutting(compensate=False, overcut=0.0, lead_in=0.0, tabs=0, tab_width=0.4)


def shop(**said) -> Workshop:
    return replace(workshop(), cutting=replace(PLAIN, **said))


def ring(path: Path) -> shapely.Polygon:
    return shapely.Polygon(path.contours[0].flatten(0.01))


def cuts(found: Plan) -> list[Step]:
    return [step for step in found.steps if step.operation.startswith("cut-")]


@st.composite
def nestings(draw) -> SheetArt:
    """Pieces whose squares lie in one another to any depth, and pieces in others' openings."""

    def fill(left: float, top: float, side: float, depth: int) -> list[Mark]:
        inside = "cut-outside" if depth % 2 == 0 else "cut-inside"
        marks = [Mark(inside, square(left, top, side))]
        if draw(st.booleans()):
            marks.append(
                Mark("engrave-area", square(left + 0.02 * side, top + 0.02 * side, 0.05 * side))
            )
        if depth < 4:
            half = side / 2
            for i in range(2):
                for j in range(2):
                    if draw(st.booleans()):
                        spot = left + i * half + 0.1 * side, top + j * half + 0.1 * side
                        marks += fill(*spot, 0.35 * side, depth + 1)
        return marks

    laid = []
    for number in range(draw(st.integers(1, 3))):
        marks = draw(st.permutations(fill(0, 0, 100, 0)))
        laid.append(Laid(layer(*marks), Affine.shift(110 * number, 0), str(number)))
    if draw(st.booleans()):
        laid.append(Laid(layer(*fill(0, 0, 12, 2)), Affine.shift(46.5, 46.5), "guest"))
    return SheetArt(400, 110, tuple(draw(st.permutations(laid))))


@settings(max_examples=60, deadline=None)
@given(nestings(), st.sampled_from(MANNERS))
def test_inner_contours_come_first_and_nothing_is_engraved_once_loose(sheet, manner):
    found = plan(sheet, manner, shop())
    made = sum(len(each.layer.marks) for each in sheet.laid)
    assert len(found.steps) == made
    rings = [ring(step.path) for step in found.steps]
    for number, step in enumerate(found.steps):
        if step.operation.startswith("cut-"):
            later = found.steps[number + 1 :]
            inner = [
                other
                for other, own in zip(later, rings[number + 1 :], strict=True)
                if rings[number].contains(own) and own.area < rings[number].area
            ]
            assert inner == [], "cut round what is still to be done"


@pytest.mark.parametrize("manner", MANNERS)
def test_manners(manner):
    found = plan(nine("lantern", "front"), manner, workshop())
    order = [OPERATIONS.index(step.operation) for step in found.steps]
    if manner == "operation":
        assert order == sorted(order)
    else:
        pieces = [step.piece for step in found.steps]
        assert sum(a != b for a, b in pairwise(pieces)) == 8
        for piece in range(9):
            own = [o for o, step in zip(order, found.steps, strict=True) if step.piece == piece]
            assert own == sorted(own)
            assert set(own) == {0, 1, 2, 3}


@pytest.mark.parametrize(
    ("design", "layer_name"), [("lantern", "front"), ("medallion", "medallion")]
)
def test_marks_are_made_as_they_are_drawn(design, layer_name):
    """Each with its own length and area, moved and turned and nothing else."""
    sheet = nine(design, layer_name, degrees=30)
    for manner in MANNERS:
        found = plan(sheet, manner, shop())
        for number, laid in enumerate(sheet.laid):
            for operation in OPERATIONS:
                drawn = join(m.path for m in laid.layer.marks if m.operation == operation)
                steps = [s for s in found.steps if (s.piece, s.operation) == (number, operation)]
                made = join(step.path for step in steps)
                assert len(made.contours) == len(drawn.contours)
                assert length(made) == pytest.approx(length(drawn), rel=1e-5)
                if operation != "engrave-line":
                    each = sum(area(step.path) for step in steps)
                    marks = (m.path for m in laid.layer.marks if m.operation == operation)
                    assert each == pytest.approx(sum(map(area, marks)), rel=1e-3)


@pytest.mark.parametrize("degrees", [0, 40, 180])
@pytest.mark.parametrize("manner", MANNERS)
def test_moves_are_short_and_off_loose_pieces(manner, degrees):
    sheet = nine("lantern", "back", degrees)
    found = plan(sheet, manner, workshop())
    assert over_finished(found) == 0
    as_laid = replace(
        found,
        steps=tuple(
            sorted(
                found.steps,
                key=lambda s: (
                    (s.piece, OPERATIONS.index(s.operation))
                    if manner == "piece"
                    else (OPERATIONS.index(s.operation), s.piece)
                ),
            )
        ),
    )
    assert travel(found) < travel(as_laid)


def travel(found: Plan) -> float:
    return sum(math.dist(*move) for move in found.rapids())


def test_a_move_over_a_loose_piece_is_seen():
    sheet = SheetArt(
        100, 30, tuple(Laid(tile(), Affine.shift(25 * i, 0), str(i)) for i in range(3))
    )
    found = plan(sheet, "piece", shop())
    assert over_finished(found) == 0
    # The middle one first: the way from the left piece to the right one leads over it.
    by_piece = sorted(found.steps, key=lambda step: (1, 0, 2).index(step.piece))
    assert over_finished(replace(found, steps=tuple(by_piece))) > 0


@pytest.mark.parametrize("degrees", [0, 90, 180, 217])
def test_outlines_begin_at_the_lower_edge_off_the_tab(degrees):
    laid = Laid(tile(60), turned(degrees, 50, 50), "one")
    found = plan(SheetArt(200, 200, (laid,)), "piece", shop())
    x, y = found.steps[-1].begin
    below = [laid.at((0, 60)), laid.at((60, 60))]
    away = shapely.LineString(below).distance(shapely.Point(x, y))
    assert away <= 6.0 + 1e-6
    hung_below = replace(
        tile(60),
        marks=(Mark("cut-inside", circle((30, 57), 1), field="hanger"), *tile(60).marks[3:]),
    )
    found = plan(SheetArt(200, 200, (replace(laid, layer=hung_below),)), "piece", shop())
    assert math.dist(found.steps[-1].begin, laid.at((30, 57))) > 12


def test_overcut_goes_on_past_the_start():
    found = plan(lone(Mark("cut-outside", square(10, 10, 30))), "piece", shop(overcut=0.5))
    (contour,) = found.steps[0].path.contours
    assert not contour.closed
    assert length(found.steps[0].path) == pytest.approx(120.5)
    assert math.dist(contour.start, contour.segments[-1][-1]) == pytest.approx(0.5)


def test_tabs_leave_gaps():
    disc = circle((50, 50), 20)
    found = plan(lone(Mark("cut-outside", disc)), "piece", shop(tabs=3))
    contours = found.steps[0].path.contours
    assert len(contours) == 4
    assert length(found.steps[0].path) == pytest.approx(length(disc) - 3 * 0.4, abs=5e-3)
    ends = [contour.segments[-1][-1] for contour in contours]
    gaps = [math.dist(end, c.start) for end, c in zip(ends, contours[1:], strict=False)]
    assert gaps == pytest.approx([0.4] * 3, abs=2e-3)


def test_lead_in_comes_from_the_waste_where_there_is_room():
    marks = Mark("cut-inside", circle((50, 50), 5)), Mark("cut-outside", square(30, 30, 40))
    hole, outline = cuts(plan(lone(*marks), "piece", shop(lead_in=2)))
    assert math.dist(hole.begin, (50, 50)) < 4
    assert not shapely.box(30, 30, 70, 70).covers(shapely.Point(outline.begin))
    tight = Mark("cut-inside", circle((50, 50), 1)), marks[1]
    hole, _ = cuts(plan(lone(*tight), "piece", shop(lead_in=2)))
    assert math.dist(hole.begin, (50, 50)) == pytest.approx(1, rel=1e-3)


@pytest.mark.parametrize("reach", [1, 3, 6, 10])
def test_a_lead_in_stays_in_the_waste_of_its_board(reach: float):
    """Beside an edge, a pin, and a piece so near that a lead-in would end in that or beyond it."""
    pin = Rect(40, 59, 60, 70)
    laid = [
        Laid(layer(Mark("cut-outside", square(0, 0, side))), Affine.shift(x, y), name)
        for side, x, y, name in ((55, 2, 2, "a"), (38, 59, 2, "b"), (30, 2, 68, "c"))
    ]
    sheet = SheetArt(100, 100, tuple(laid), keep_out=(pin,))
    found = cuts(plan(sheet, "piece", shop(lead_in=reach)))
    bodies = [ring(piece.outline) for piece in plan(sheet, "piece", shop()).pieces]
    shut = [*bodies, shapely.box(pin.left, pin.top, pin.right, pin.bottom)]
    led = 0
    for step in found:
        points = step.path.contours[0].flatten(0.01)[:2]
        on_line = bodies[step.piece].exterior.distance(shapely.Point(points[0])) < 1e-6
        led += not on_line
        way = shapely.LineString(points)
        assert on_line or all(way.intersection(each).length < 1e-6 for each in shut)
        assert shapely.box(0, 0, 100, 100).covers(way)
    assert led


def test_doubled_lines_are_cut_once():
    left, right = square(10, 10, 20), square(30, 10, 20)
    twice = plan(
        lone(Mark("cut-inside", left), Mark("cut-inside", Path((left.contours[0].reversed(),)))),
        "piece",
        shop(),
    )
    assert sum(length(step.path) for step in cuts(twice)) == pytest.approx(80, abs=0.1)
    beside = plan(lone(Mark("cut-inside", left), Mark("cut-inside", right)), "piece", shop())
    assert sum(length(step.path) for step in cuts(beside)) == pytest.approx(140, abs=0.1)
    crossing = Path((Contour((5.0, 20.0), (((70.0, 20.0),),), closed=False),))
    crossed = plan(lone(Mark("cut-inside", left), Mark("cut-inside", crossing)), "piece", shop())
    assert sum(length(step.path) for step in cuts(crossed)) == pytest.approx(80 + 65, abs=0.1)


def test_kerf_by_side():
    """Steiner: a convex outline grown by d has A + P d + pi d²; a shrunk square has (s - 2d)²."""
    wide = replace(shop(compensate=True), machine=replace(workshop().machine, kerf=2.0))
    marks = Mark("cut-inside", square(20, 20, 6)), Mark("cut-outside", square(10, 10, 40))
    hole, outline = cuts(plan(lone(*marks), "piece", wide))
    assert area(outline.path) == pytest.approx(40**2 + 4 * 40 + math.pi, rel=1e-5)
    assert area(hole.path) == pytest.approx(16, rel=1e-6)
    hole, outline = cuts(plan(lone(*marks), "piece", shop()))
    assert (area(hole.path), area(outline.path)) == pytest.approx((36, 1600))


def test_a_hole_narrower_than_the_kerf_stays():
    wide = replace(shop(compensate=True), machine=replace(workshop().machine, kerf=2.0))
    marks = Mark("cut-inside", square(20, 20, 1.5)), Mark("cut-outside", square(10, 10, 40))
    hole, _ = cuts(plan(lone(*marks), "piece", wide))
    assert area(hole.path) == pytest.approx(2.25)


def test_only_the_side_that_lies_up():
    back = Mark("engrave-area", square(5, 5, 5), side="back")
    sheet = replace(lone(*tile().marks, back))
    front = plan(sheet, "piece", shop())
    assert [step.operation for step in front.steps] == list(OPERATIONS)
    behind = plan(replace(sheet, side="back"), "piece", shop())
    assert [step.operation for step in behind.steps] == ["engrave-area"]
    assert len(artwork("lantern").layers) == 2


@pytest.mark.parametrize("manner", MANNERS)
def test_many_small_pieces_close_together_are_not_passed_over(manner):
    laid = tuple(Laid(tile(), Affine.shift(22 * (i % 6), 22 * (i // 6)), str(i)) for i in range(36))
    assert over_finished(plan(SheetArt(140, 140, laid), manner, workshop())) == 0
