"""Pins and clamps stay where they are when a board is turned over."""

from __future__ import annotations

from pathlib import Path

import svgelements
from test_sheets import approved, outlines

from proofgen.cli.program import main
from proofgen.day import rows

SIDE = 60.0  # mm, of the kept place in the corner
BOAT = {"design": "boat", "dedication": "Happy birthday from all of us"}


def keeping_out(folder: Path, count: int, side: float = SIDE) -> Path:
    book = approved(folder, [{**BOAT, "order": "K-1", "name": "Ada", "quantity": count}])
    file = folder / "workshop.toml"
    file.write_text(file.read_text() + f"keep_out = [[0, 0, {side:g}, {side:g}]]\n")
    rows._open.clear()
    return book


def test_neither_side_is_worked_on_in_a_kept_place(tmp_path: Path, told) -> None:
    found = told("sheets", keeping_out(tmp_path, 4))["sheets"]
    assert sum(len(sheet["layers"]) for sheet in found) == 4
    for sheet in found:
        front, back = map(Path, sorted(sheet["files"], key=len))
        assert back.name == f"{sheet['id']}-back.svg"
        for cut in outlines(front):
            left, top, right, _ = cut.bounds
            assert top > SIDE or (left > SIDE and right < 260 - SIDE)
        engraved = [e for e in svgelements.SVG.parse(back).elements() if hasattr(e, "d")]
        boxes = [path.bbox() for path in engraved]
        # The drawing is in millimetres, but is read in pixels.
        scale = 25.4 / 96
        assert boxes
        assert all(left * scale > SIDE or top * scale > SIDE for left, top, _, _ in boxes)


def test_what_a_kept_place_bars_once_the_board_is_turned_is_said(tmp_path: Path, capsys) -> None:
    # Beside the place there are 117 mm, but nothing where its other side is kept out too.
    book = keeping_out(tmp_path, 1, side=130.0)
    capsys.readouterr()
    assert main(["sheets", str(book)]) == 1
    assert "not beside its keep_out on both sides, as it is turned over" in capsys.readouterr().out
