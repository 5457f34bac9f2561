"""What is left of a board."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings, strategies as st

from proofgen.geometry.path import circle, polygon
from proofgen.geometry.rect import Rect
from proofgen.nesting.part import Board
from proofgen.nesting.remainder import remainder


def box(left: int, top: int, right: int, bottom: int) -> list[tuple[float, float]]:
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def test_the_strip_beside_what_was_cut_is_left_and_keeps_its_gap() -> None:
    board = Board(300, 200, 3, 2)
    found = remainder(board, [circle((50, 100), 48)], (40, 60))
    assert found is not None
    assert abs(found.left - 100) < 0.01
    assert (found.top, found.right, found.bottom) == (0, 300, 200)
    assert remainder(board, [circle((50, 100), 48)], (201, 201)) is None
    warped = Board(300, 200, 3, 2, (Rect(290, 0, 300, 200),))
    found = remainder(warped, [circle((50, 100), 48)], (40, 60))
    assert found is not None and abs(found.right - 288) < 0.01


cuts = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 9), st.integers(1, 9), st.integers(1, 9)),
    min_size=1,
    max_size=3,
)


@settings(max_examples=60, deadline=None)
@given(cuts)
def test_no_free_rectangle_along_an_edge_is_larger(boxes: list[tuple[int, int, int, int]]) -> None:
    size = 12
    boxes = [(x, y, min(x + w, size), min(y + h, size)) for x, y, w, h in boxes]
    found = remainder(Board(size, size, 0, 0), [polygon(box(*each)) for each in boxes], (2, 4))
    best = 0
    sides = [(a, b) for a, b in product(range(size + 1), repeat=2) if a < b]
    for (left, right), (top, bottom) in product(sides, sides):
        edge = left == 0 or top == 0 or right == size or bottom == size
        short, long = sorted((right - left, bottom - top))
        free = all(
            right <= x0 or x1 <= left or bottom <= y0 or y1 <= top for x0, y0, x1, y1 in boxes
        )
        if edge and free and short >= 2 and long >= 4:
            best = max(best, short * long)
    assert (found.width * found.height if found else 0) == best
