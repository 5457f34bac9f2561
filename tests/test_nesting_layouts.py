"""Parts on boards: laid once each, apart, within the margins, urgent ones first."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from nested import faults, placed_points

from proofgen.geometry.path import circle, join, polygon
from proofgen.geometry.rect import Rect
from proofgen.nesting import engine, fill, nest as nesting
from proofgen.nesting.engine import Effort, Search, Strip, strips
from proofgen.nesting.nest import nest
from proofgen.nesting.part import FAILURE, Board, Layout, Part, Placed, Supply
from proofgen.nesting.saved import from_json, to_json
from proofgen.nesting.shape import Shape
from proofgen.nesting.turns import HALF, TILTED, UPRIGHT
from proofgen.nesting.verify import verify

SHEET = Board(304.8, 304.8, 3, 2)
Corners = tuple[tuple[float, float], ...]

# A lantern of 88 x 110 mm, and other outlines of straight sides, so that nothing is flattened.
LANTERN = ((36, 0), (52, 0), (88, 55), (88, 75), (58, 110), (30, 110), (0, 75), (0, 55))
PLATE = ((0, 0), (140, 0), (140, 60), (0, 60))
BOAT = ((0, 60), (45, 0), (50, 0), (55, 60), (97, 60), (80, 91), (17, 91))
DISC = tuple(
    (45 + 45 * math.cos(i * math.pi / 24), 45 + 45 * math.sin(i * math.pi / 24)) for i in range(48)
)
OUTLINES: dict[str, Corners] = {"lantern": LANTERN, "plate": PLATE, "boat": BOAT, "disc": DISC}


def parts_of(
    names: Sequence[str], turns: tuple[float, ...] | None = (0.0, 180.0), urgency: int = 0
) -> list[Part]:
    return [
        Part(f"{name} {i} {urgency}", polygon(OUTLINES[name]), turns, urgency)
        for i, name in enumerate(names)
    ]


def corners(key: str) -> Corners:
    return OUTLINES[key.split()[0]]


def wrong(layout: Layout, parts: Sequence[Part]) -> list[str]:
    """By the second opinion: each part once, and nothing at fault on any board."""
    keys = sorted([*(each.key for each in layout.placed), *layout.left])
    found = [] if keys == sorted(part.key for part in parts) else ["not every part once"]
    for number, board in enumerate(layout.boards):
        polygons = [
            placed_points(corners(each.key), each.turn, each.x, each.y)
            for each in layout.placed
            if each.board_index == number
        ]
        kept = [(r.left, r.top, r.right, r.bottom) for r in board.keep_out]
        found += faults(polygons, (board.width, board.height), board.margin, board.gap, kept)
    return found


def test_a_mixed_order_is_laid_soundly_and_the_same_twice() -> None:
    parts = parts_of(["lantern", "plate", "boat", "disc"] * 4)
    told: list[tuple[int, int]] = []
    first = nest(parts, Supply(SHEET), progress=lambda done, total: told.append((done, total)))
    assert wrong(first, parts) == []
    # Their area is 1.15 of a sheet.
    assert len(first.boards) == 2
    assert told[-1] == (16, 16)
    assert to_json(nest(parts, Supply(SHEET))) == to_json(first)


def test_the_engine_fills_more_than_the_plain_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    parts = parts_of(["lantern", "boat", "disc"] * 6)
    searched = nest(parts, Supply(SHEET))
    monkeypatch.setattr(nesting, "available", lambda: False)
    plain = nest(parts, Supply(SHEET))
    assert wrong(plain, parts) == wrong(searched, parts) == []
    assert len(searched.boards) < len(plain.boards)


def test_one_common_tilt_takes_a_ninth_lantern(monkeypatch: pytest.MonkeyPatch) -> None:
    # Common practice, no source: nine pieces of 88 x 110 mm on a sheet of 12 x 12 in, tilted.
    monkeypatch.setattr(nesting, "available", lambda: False)
    upright = nest(parts_of(["lantern"] * 9, (0.0,)), Supply(SHEET))
    assert [len(upright.on(0)), len(upright.on(1))] == [8, 1]
    parts = parts_of(["lantern"] * 9, None)
    tilted = nest(parts, Supply(SHEET))
    assert (len(tilted.boards), tilted.rotation) == (1, TILTED)
    assert wrong(tilted, parts) == []
    assert {each.turn for each in tilted.placed} <= {40.0, 45.0, 50.0}


def test_nothing_is_turned_that_fits_upright_and_only_so_far_as_needed() -> None:
    assert nest(parts_of(["boat", "disc", "plate"], None), Supply(SHEET)).rotation == UPRIGHT
    narrow = Board(100, 200, 3, 2)
    turned = nest(parts_of(["plate"], (0.0, 90.0)), Supply(narrow))
    assert [each.turn for each in turned.placed] == [90.0]
    # Two of these side by side, one head down, need 149 mm; both upright 184 mm.
    strip = Board(160, 112, 3, 2)
    wedge = polygon([(0, 0), (90, 0), (45, 104), (40, 104)])
    pair = [Part(str(i), wedge, (0.0, 90.0, 180.0)) for i in range(2)]
    assert nest(pair, Supply(strip)).rotation == HALF


def test_the_last_sheet_is_drawn_in_so_that_the_rest_is_of_use() -> None:
    parts = parts_of(["boat", "disc", "plate"] * 2)
    layout = nest(parts, Supply(SHEET))
    assert wrong(layout, parts) == []
    ends = [placed_points(corners(e.key), e.turn, e.x, e.y)[:, 0].max() for e in layout.placed]
    # Their area is .39 of the sheet's; laid as they first fit they reach to 242 mm.
    assert max(ends) < 215


def test_urgent_parts_lie_on_earlier_boards() -> None:
    parts = [*parts_of(["plate"] * 9, urgency=5), *parts_of(["boat"] * 9, urgency=1)]
    layout = nest(parts, Supply(SHEET))
    last = {
        urgency: max(e.board_index for e in layout.placed if e.key.endswith(str(urgency)))
        for urgency in (1, 5)
    }
    assert last[1] < last[5]
    assert wrong(layout, parts) == []


def test_remainders_go_first_the_smallest_that_serves() -> None:
    small = Board(90, 90, 3, 2, id="R1")
    fair = Board(200, 120, 3, 2, id="R2")
    large = Board(260, 200, 3, 2, id="R3")
    parts = parts_of(["lantern"] * 10)
    layout = nest(parts, Supply(SHEET, (large, small, fair)))
    assert [board.id for board in layout.boards][:3] == ["R2", "R3", ""]
    assert wrong(layout, parts) == []


def test_what_is_kept_out_is_taken_off_once_however_it_lies() -> None:
    board = Board(100, 60, 10, 2)
    overlapping = (Rect(20, 0, 40, 30), Rect(30, 20, 50, 60), Rect(0, 0, 10, 60))
    # Of 80 by 40 mm: 20 by 20 less what both have, 20 by 30, and nothing of the margin.
    assert replace(board, keep_out=overlapping).usable == 80 * 40 - (20 * 20 + 20 * 30 - 10 * 10)
    assert replace(board, keep_out=(Rect(0, 0, 100, 60),) * 2).usable == 0
    once = replace(SHEET, keep_out=(Rect(0, 0, 304.8, 210),))
    twice = replace(SHEET, keep_out=(Rect(0, 0, 304.8, 200), Rect(0, 150, 304.8, 210)))
    plates = parts_of(["plate"] * 2)
    for each in (once, twice):
        assert len(nest(plates, Supply(each)).boards) == 1


def test_what_is_too_big_is_left() -> None:
    parts = [*parts_of(["disc"]), Part("gate", polygon([(0, 0), (310, 0), (310, 9), (0, 9)]))]
    layout = nest(parts, Supply(SHEET))
    assert layout.left == ("gate",)
    assert [each.key for each in layout.placed] == ["disc 0 0"]


def test_a_place_kept_out_that_is_in_no_way_changes_nothing() -> None:
    parts = parts_of(["boat", "disc", "lantern"] * 2, (0.0, 180.0))
    pins = (Rect(0, 0, 1.5, 1.5), Rect(0, 100, 1, 120))
    plain = nest(parts, Supply(SHEET))
    pinned = nest(parts, Supply(replace(SHEET, keep_out=pins)))
    assert pinned.placed == plain.placed
    # A corner pin nearer than the gap to where pieces may lie.
    near = nest(parts, Supply(replace(SHEET, keep_out=(Rect(0, 0, 2, 2),))))
    assert (near.rotation, len(near.boards)) == (plain.rotation, len(plain.boards)) == (UPRIGHT, 1)
    assert wrong(near, parts) == []


def test_a_clamp_along_an_edge_is_laid_round_as_a_smaller_board_would_be() -> None:
    parts = parts_of(["boat", "disc", "plate"], None)
    clamp = replace(SHEET, keep_out=(Rect(0, 0, 40, 304.8),))
    layout = nest(parts, Supply(clamp))
    assert (layout.rotation, wrong(layout, parts)) == (UPRIGHT, [])


@pytest.mark.parametrize("searched", [True, False])
def test_kept_out_places_stay_free(searched: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if not searched:
        monkeypatch.setattr(nesting, "available", lambda: False)
    pins = (Rect(0, 0, 12, 12), Rect(140, 150, 160, 170), Rect(290, 100, 304.8, 304.8))
    parts = parts_of(["boat", "disc", "plate"] * 3)
    layout = nest(parts, Supply(replace(SHEET, keep_out=pins)))
    assert wrong(layout, parts) == []


@pytest.mark.parametrize("after", [0, 2])
def test_an_interruption_keeps_what_is_found(after: int, monkeypatch: pytest.MonkeyPatch) -> None:
    known, calls = fill.strips, []

    def interrupted(*given: object) -> object:
        calls.append(given)
        if len(calls) > after:
            raise KeyboardInterrupt
        return known(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(fill, "strips", interrupted)
    parts = parts_of(["boat", "disc", "plate"] * 7)
    layout = nest(parts, Supply(SHEET))
    assert len(calls) == after + 1
    assert wrong(layout, parts) == []


def test_in_a_hurry_all_is_laid_too() -> None:
    parts = parts_of(["boat", "disc", "plate"] * 6)
    assert wrong(nest(parts, Supply(SHEET), Effort(seconds=0.5)), parts) == []


def test_a_part_in_two_pieces_keeps_its_gap_and_curves_are_followed() -> None:
    rings = join([circle((20, 20), 20), circle((70, 20), 18)])
    parts = [Part(str(i), rings, (0.0, 90.0)) for i in range(12)]
    layout = nest(parts, Supply(SHEET))
    for number in range(len(layout.boards)):
        discs = [
            (p.affine()(centre), radius, p.key)
            for p in layout.on(number)
            for centre, radius in (((20.0, 20.0), 20.0), ((70.0, 20.0), 18.0))
        ]
        for (x, y), radius, key in discs:
            assert 3 + radius - 0.01 < min(x, y) and max(x, y) < 301.8 - radius + 0.01
            for (u, v), other, another in discs:
                assert key == another or math.hypot(x - u, y - v) > radius + other + 2 - 0.02


def test_a_layout_that_fails_its_check_is_never_given(monkeypatch: pytest.MonkeyPatch) -> None:
    sound = nesting._named

    def pushed(*given: object) -> Layout:
        layout = sound(*given)  # type: ignore[arg-type]
        first, *rest = layout.placed
        return replace(layout, placed=(replace(first, x=first.x - 4), *rest))

    monkeypatch.setattr(nesting, "_named", pushed)
    with pytest.raises(RuntimeError, match="a layout is wrong: board 1: disc 0 0 is"):
        nest(parts_of(["disc"]), Supply(SHEET))


@pytest.mark.parametrize(
    ("second", "says"),
    [
        (Placed("disc 1 0", 0, 0.0, 94.9, 3.0), "1.900 mm apart; at least 2 mm"),
        (Placed("disc 1 0", 0, 0.0, 50.0, 50.0), "0.000 mm apart"),
        (Placed("disc 1 0", 0, 0.0, 150.0, 2.5), "0.500 mm into the margin"),
        (Placed("disc 1 0", 0, 0.0, 206.5, 115.0), "nearer than 2 mm to a place"),
        (Placed("disc 1 0", 0, 90.0, 250.0, 3.0), "turned by 90 degrees"),
        (Placed("disc 1 0", 1, 0.0, 150.0, 3.0), "lies on no board"),
        (Placed("disc 0 0", 0, 0.0, 150.0, 3.0), "laid 2 times"),
        (Placed("disc 2 0", 0, 0.0, 150.0, 3.0), "no part"),
    ],
)
def test_the_check_says_what_is_wrong(second: Placed, says: str) -> None:
    board = replace(SHEET, keep_out=(Rect(298, 150, 304.8, 170),))
    first, parts = Placed("disc 0 0", 0, 180.0, 93.0, 93.0), parts_of(["disc"] * 2)
    good = Placed("disc 1 0", 0, 0.0, 95.1, 3.0)
    assert verify(Layout((board,), (first, good), HALF), parts) == ()
    assert any(says in said for said in verify(Layout((board,), (first, second), HALF), parts))


def test_a_layout_is_saved_and_read_back() -> None:
    board = replace(SHEET, keep_out=(Rect(0.1, 0.2, 0.3, 1 / 3),), id="R7 é")
    layout = Layout((SHEET, board), (Placed("a", 1, 45.0, 1 / 3, -2e-9),), TILTED, ("b",))
    assert from_json(to_json(layout)) == layout
    for text in ("{", "[]", '{"format": 2}', to_json(layout).replace('"turn"', '"twist"')):
        assert from_json(text) is None


def test_a_part_that_just_fits_is_laid() -> None:
    plate = polygon([(5, 5), (105, 5), (105, 65), (5, 65)])
    for parts in ([Part("a", plate)], [Part("a", plate), Part("b", circle((0, 0), 9))]):
        layout = nest(parts, Supply(SHEET, (Board(106, 66, 3, 2, id="R1"),)))
        assert [each.key for each in layout.on(0)] == ["a"]
        assert layout.boards[0].id == "R1"


def test_an_outline_that_the_engine_chokes_on_ends_its_search_alone() -> None:
    knot = Shape(((0, 0), (50, 50), (50, 0), (0, 50)), (0.0,))
    disc = Shape(DISC, (0.0,))
    searches = [Search((each, each), SHEET, 304.8) for each in (knot, disc)]
    first, second = strips(searches, Effort(), None)
    assert first is None
    assert isinstance(second, Strip) and len(second.lying) == 2


def test_what_lies_in_the_working_folder_is_no_module_of_the_search(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "json.py").write_text("raise RuntimeError\n")
    monkeypatch.chdir(tmp_path)
    disc = Shape(DISC, (0.0,))
    (found,) = strips([Search((disc, disc), SHEET, 304.8)], Effort(), None)
    assert isinstance(found, Strip)


@pytest.mark.parametrize("ends", ["raise SystemExit(1)", "import os; os.abort()", ""])
def test_a_search_whose_process_fails_is_told_from_one_that_finds_nothing(
    ends: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    child = tmp_path / "child.py"
    child.write_text(f"{ends}\n")
    parts = parts_of(["boat", "disc", "plate"] * 7)
    searched = nest(parts, Supply(SHEET))
    monkeypatch.setattr(engine, "CHILD", child)
    failed = nest(parts, Supply(SHEET))
    assert (searched.ended, failed.ended) == ("", FAILURE)
    assert wrong(failed, parts) == []
