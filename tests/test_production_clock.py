"""The clock, its formulas and its fit to timed jobs."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from sheets import lone, nine, square, workshop

from proofgen.designs.design import Mark
from proofgen.errors import UnusableError
from proofgen.geometry.path import Contour, Path
from proofgen.production.calibrate import Timed, calibrate
from proofgen.production.clock import CONTOUR, PIECE, SHEET, Times, clock, recommended
from proofgen.production.hatch import hatched
from proofgen.production.motion import corner_speed, follow, rapid, row
from proofgen.production.plan import plan
from proofgen.workshop.motion import Cutting, Motion

MOTION = workshop().motion
PLAIN = replace(workshop(), cutting=Cutting(False, 0.0, 0.0, 0, 0.4))


@pytest.mark.parametrize(("distance", "seconds"), [(100, 0.7), (40, 0.4), (10, 0.2), (0, 0)])
def test_rapid(distance, seconds):
    """Worked values for a = 1000 mm/s², v = 200 mm/s (derived from the trapezoidal profile)."""
    assert rapid(distance, 200, 1000) == pytest.approx(seconds)


@pytest.mark.parametrize(
    ("turn", "speed"), [(60, 3.1623), (90, 4.9135), (120, 8.0400), (150, 16.8368)]
)
def test_corner_speed(turn, speed):
    """Worked values for a deviation of 0.01 mm and a = 1000 mm/s² (derived)."""
    assert corner_speed(turn, 0.01, 1000) == pytest.approx(speed, abs=5e-5)


def test_straight_lines_take_as_long_as_rapids():
    for distance in (100.0, 40.0, 10.0):
        run = np.array([(0, 0), (distance / 3, 0), (distance, 0)])
        assert float(follow([run], 200, 0.01, 1000)[0]) == pytest.approx(
            rapid(distance, 200, 1000), rel=1e-4
        )


def test_a_corner_is_slowed_down_for():
    """Two legs of 50 mm at a right angle, each from rest to 4.9135 mm/s or back (by hand)."""
    run = np.array([(0, 0), (50, 0), (50, 50)])
    v, a, corner = 100.0, 1000.0, 4.9135
    ramps = (v**2 + v**2 - corner**2) / (2 * a)
    leg = v / a + (v - corner) / a + (50 - ramps) / v
    assert float(follow([run], v, 0.01, a)[0]) == pytest.approx(2 * leg, rel=1e-5)


def test_a_short_leg_never_reaches_the_speed():
    """1 mm from rest to rest, the long way round by a full turn back: each as a rapid."""
    run = np.array([(0, 0), (1, 0), (0, 0)])
    assert float(follow([run], 200, 1e-9, 1000)[0]) == pytest.approx(
        2 * rapid(1, 200, 1000), rel=1e-3
    )


def test_row():
    """v = 100, a = 1000: 5 mm to stop, 0.1 s each; 80 mm of ink take 0.8 s."""
    assert row(80, 0, 100, 1000) == pytest.approx(1.0)
    assert row(80, 10, 100, 1000) == pytest.approx(1.1)


def test_a_square_by_hand():
    """40 rows of 4 mm at 0.1 mm; a cut of 160 mm at 4 mm/s; one pierce."""
    marks = Mark("engrave-area", square(20.05, 20.05, 3.9)), Mark("cut-outside", square(10, 10, 40))
    motion = replace(MOTION, passes=2)
    sheet, piece, contour = clock(plan(lone(*marks), "operation", PLAIN), motion)
    rows = 39 * (0.2 + 0.039) + 38 * 2 * math.sqrt(0.1 / 1000)
    assert sheet.engraving == pytest.approx(rows, rel=0.03)
    assert sheet.engraving == piece.engraving > contour.engraving
    assert (sheet.cutting, sheet.pierce) == pytest.approx((80.0, 0.6))
    assert sheet.travel > 0


def test_rows_leave_out_what_is_white():
    """Two squares one above the other: no rows between them; side by side: rows across both."""
    small = square(10, 10, 4)
    above = plan(
        lone(Mark("engrave-area", small), Mark("engrave-area", square(10, 80, 4))),
        "operation",
        PLAIN,
    )
    beside = plan(
        lone(Mark("engrave-area", small), Mark("engrave-area", square(80, 10, 4))),
        "operation",
        PLAIN,
    )
    one = plan(lone(Mark("engrave-area", small)), "operation", PLAIN)
    seconds = [clock(found, MOTION)[0].engraving for found in (one, above, beside)]
    assert seconds[1] == pytest.approx(2 * seconds[0], rel=0.1)
    assert seconds[2] == pytest.approx(40 * (0.2 + 0.74 + 0.02), rel=0.06)


# As they ship, and near them. Slower engraving makes the white cost more, slower turning less.
CONSTANTS = [MOTION, replace(MOTION, acceleration=2000.0), replace(MOTION, engraving_speed=75.0)]


@pytest.mark.parametrize("motion", CONSTANTS)
def test_not_sweeping_across_the_white(motion: Motion):
    """Common practice, no source: on nine pieces, 41 min became about 34 (.83)."""
    found = plan(nine("lantern", "back"), "operation", workshop())
    sheet, piece, _ = clock(found, motion)
    assert (sheet.way, piece.way) == (SHEET, PIECE)
    assert 0.73 <= piece.total / sheet.total <= 0.90


def test_tilting_costs_rows():
    upright, tilted = (
        clock(plan(nine("lantern", "back", degrees), "operation", workshop()), MOTION)
        for degrees in (0, 40)
    )
    assert tilted[0].engraving > 1.2 * upright[0].engraving
    assert tilted[2].engraving == pytest.approx(upright[2].engraving, rel=1e-3)


def test_the_raster_across_the_sheet_is_none_for_loose_pieces():
    times = clock(plan(nine("lantern", "back"), "piece", workshop()), MOTION)
    assert [each.acceptable for each in times] == [False, True, True]
    assert recommended(times).way == CONTOUR
    slow = (Times(PIECE, 50, 0, 0, 0), Times(CONTOUR, 60, 0, 0, 0))
    assert recommended((replace(times[0], engraving=1.0), *slow)).way == PIECE


def test_the_hatch_takes_as_long_as_reckoned():
    """Its own lines followed one by one, with the moves between them, within a fifth."""
    (laid, *_) = nine("medallion", "medallion").laid
    name = [mark for mark in laid.layer.marks if mark.field == "name"]
    found = plan(lone(*name), "piece", PLAIN)
    (step,) = hatched(found, "contour", MOTION.pitch).steps
    speed, deviation, a = MOTION.engraving_speed, MOTION.corner_deviation, MOTION.acceleration
    seconds = float(follow(step.path.flatten(0.02), speed, deviation, a).sum())
    here = step.begin
    for contour in step.path.contours:
        seconds += rapid(math.dist(here, contour.start), MOTION.rapid_speed, a)
        here = contour.start if contour.closed else contour.segments[-1][-1]
    assert clock(found, MOTION)[2].engraving == pytest.approx(seconds, rel=0.2)


def test_the_clock_wants_areas():
    found = plan(lone(Mark("engrave-area", square(0, 0, 5))), "piece", PLAIN)
    with pytest.raises(ValueError, match="areas"):
        clock(hatched(found, "scan", 0.5), MOTION)


def timed(name: str, engraving: float, cutting: float, factors: tuple[float, float]) -> Timed:
    times = Times(PIECE, engraving, cutting, 20, 10)
    return Timed(name, times, engraving * factors[0] + (cutting + 10) * factors[1] + 20)


def test_two_jobs_give_both_factors():
    jobs = timed("names", 1200, 300, (1.3, 0.8)), timed("stars", 100, 900, (1.3, 0.8))
    fit = calibrate(jobs)
    assert (fit.engraving, fit.cutting) == pytest.approx((1.3, 0.8))
    assert not fit.common and fit.worst < 1e-9


def test_jobs_that_contradict_each_other_are_met_in_the_middle():
    jobs = [timed("a", 1000, 300, (1.2, 1)), timed("b", 100, 900, (1.2, 1))]
    jobs.append(replace(jobs[0], name="c", seconds=jobs[0].seconds * 1.1))
    fit = calibrate(jobs)
    assert 1.2 < fit.engraving < 1.35
    assert 0.02 < fit.worst < 0.1


def test_jobs_that_are_alike_give_one_factor():
    jobs = timed("a", 1000, 490, (1.2, 1.2)), timed("b", 1010, 492, (1.2, 1.2))
    fit = calibrate(jobs)
    assert fit.common
    assert (fit.engraving, fit.cutting) == pytest.approx((1.2, 1.2))


def test_the_fit_is_what_the_clock_then_says():
    found = plan(nine("lantern", "back"), "piece", workshop())
    before = clock(found, MOTION)[1]
    after = clock(found, replace(MOTION, engraving_factor=1.3, cutting_factor=0.8))[1]
    assert after.engraving == pytest.approx(1.3 * before.engraving)
    assert after.cutting + after.pierce == pytest.approx(0.8 * (before.cutting + before.pierce))
    assert after.travel == before.travel


@pytest.mark.parametrize(
    ("jobs", "said"),
    [
        ([timed("a", 100, 100, (1, 1))], "at least two"),
        ([timed("a", 100, 100, (1, 1)), Timed("b", Times(PIECE, 9, 9, 9, 9), 5)], "b: 5 s"),
        ([timed("a", 1000, 100, (9, 1)), timed("b", 100, 900, (9, 1))], "engraving 9.00"),
        ([timed("a", 1000, 100, (3, 1)), timed("b", 100, 900, (1, 0.1))], "cutting"),
        (
            [timed("a", 1000, 490, (1, 1)), timed("b", 1010, 492, (3, 3))],
            "b would still be 60% off",
        ),
    ],
)
def test_times_that_cannot_be(jobs, said):
    with pytest.raises(UnusableError, match=said):
        calibrate(jobs)


def test_open_lines_are_followed():
    line = Path((Contour((10.0, 10.0), (((60.0, 10.0),),), closed=False),))
    times = clock(plan(lone(Mark("engrave-line", line)), "piece", PLAIN), MOTION)
    assert times[0].engraving == pytest.approx(rapid(50, 100, 1000), rel=1e-6)
