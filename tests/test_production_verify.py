"""Cuts are looked at once more as they are written, whatever they were made from."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sheets import layer, square, workshop

from proofgen.designs.design import Mark
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import polygon
from proofgen.geometry.rect import Rect
from proofgen.production.plan import plan
from proofgen.production.steps import Laid, SheetArt
from proofgen.production.verify import faults
from proofgen.workshop.motion import Cutting
from proofgen.workshop.workshop import Workshop


def shop(kerf: float, lead_in: float = 0.0) -> Workshop:
    cutting = Cutting(compensate=True, overcut=0.0, lead_in=lead_in, tabs=0, tab_width=0.4)
    machine = replace(workshop().machine, kerf=kerf)
    return replace(workshop(), machine=machine, cutting=cutting)


def sheet(gap: float, **more) -> SheetArt:
    """Two squares side by side, a third in the opening of the first, 5 mm from the left edge."""
    first = layer(Mark("cut-outside", square(0, 0, 30)), Mark("cut-inside", square(5, 5, 20)))
    second, guest = (layer(Mark("cut-outside", square(0, 0, side))) for side in (30, 10))
    laid = (
        Laid(first, Affine.shift(5, 5), "a"),
        Laid(second, Affine.shift(35 + gap, 5), "b"),
        Laid(guest, Affine.shift(15, 15), "c"),
    )
    return SheetArt(100, 40, laid, **more)


@pytest.mark.parametrize(
    ("kerf", "said"), [(0.8, []), (1.0, ["cuts of 'a' and 'b' meet"]), (1.5, ["'a' and 'b' meet"])]
)
def test_cuts_that_meet_once_they_are_moved_are_named(kerf: float, said: list[str]) -> None:
    found = list(faults(plan(sheet(1.0), "piece", shop(kerf)), ()))
    assert len(found) == len(said)
    assert all(part in each for part, each in zip(said, found, strict=True))


def test_cuts_off_the_board_and_in_places_kept_out_are_named() -> None:
    found = plan(sheet(3.0), "operation", shop(0.2, 2.0))
    assert list(faults(found, ())) == []
    assert list(faults(found, [Rect(0, 0, 4.8, 40)])) == []
    assert list(faults(found, [Rect(0, 20, 5, 21)])) == [
        "a cut of 'a' enters a place that is kept out"
    ]
    narrow = replace(found, width=68.0)
    assert list(faults(narrow, ())) == ["a cut of 'b' runs 0.10 mm off the board"]


def test_engraving_in_places_kept_out_is_named_on_either_side() -> None:
    marks = [
        Mark("engrave-area", square(5, 5, 10)),
        Mark("engrave-line", polygon([(5, 18), (15, 18)]), side="back"),
        Mark("cut-outside", square(0, 0, 20)),
    ]
    art = SheetArt(100, 40, (Laid(layer(*marks), Affine.shift(10, 10), "a"),))
    front = plan(art, "piece", shop(0.0))
    back = plan(replace(art, side="back"), "piece", shop(0.0))
    inner, line = Rect(18, 18, 19, 19), Rect(22, 27, 23, 29)
    assert list(faults(front, [line])) == list(faults(back, [inner])) == []
    assert list(faults(front, [inner])) == ["engraving of 'a' enters a place that is kept out"]
    assert list(faults(back, [line])) == [
        "engraving of 'a' on the back enters a place that is kept out"
    ]
