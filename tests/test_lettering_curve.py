"""Text along a line: where each letter lies, and that it stays in its zone with its gaps."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path as File

import pytest
import shapely

from proofgen.artwork.rules import lettering_rules
from proofgen.designs.design import Slot
from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.geometry.path import Contour, Path
from proofgen.lettering.bench import Bench
from proofgen.lettering.bent import CurvedSeat
from proofgen.lettering.choose import choose
from proofgen.lettering.curve import Curve
from proofgen.lettering.fit import fit
from proofgen.resources import folder
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Bound

CENTRE, RADIUS = (45.0, 45.0), 28.0


def arc(radius: float, start: float, end: float) -> list[tuple[float, float]]:
    turns = [math.radians(start + (end - start) * i / 360) for i in range(361)]
    x, y = CENTRE
    return [(x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns]


def polyline(points: list[tuple[float, float]]) -> Path:
    return Path((Contour(points[0], tuple((p,) for p in points[1:]), closed=False),))


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    return Bench(Faces(folder("fonts")), MeasureCache(File(tmp_path_factory.mktemp("cache"))))


@pytest.fixture(scope="module")
def slot() -> Slot:
    """Letters stand outwards on the upper arc of a medallion."""
    zone = [*arc(RADIUS - 4, 190, 350), *reversed(arc(RADIUS + 12, 190, 350))]
    return Slot(
        field="name",
        layer="front",
        zone=tuple(zone),
        faces=("vollkorn", "roboto-flex"),
        faces_asked=(),
        cap_height=Bound(4, 8),
        narrow=0.6,
        lines=1,
        lines_asked=1,
        leading=1.25,
        align="centre",
        anchor=45.0,
        baseline=None,
        case="as-typed",
        made="engrave",
        path=polyline(arc(RADIUS, 200, 340)),
    )


@pytest.mark.parametrize("name", ["Ann", "Maximiliana", "Bartholomew Featherstone"])
def test_inside_the_zone(name, slot, bench):
    workshop = load(None)
    rules = lettering_rules("engrave", workshop.materials[0], workshop)
    lettering, _ = fit(name, slot, rules, bench, "row 1")
    assert lettering is not None
    zone = shapely.Polygon(slot.zone)
    assert all(zone.covers(shapely.LineString(line)) for line in lettering.outline.flatten(1e-3))
    rings = [shapely.Polygon(line) for line in lettering.outline.flatten(1e-3)]
    letters = [a for a in rings if not any(b is not a and b.contains(a) for b in rings)]
    gaps = [a.distance(b) for a, b in combinations(letters, 2)]
    assert lettering.narrowest_gap <= min(gaps) + 1e-3
    assert lettering.narrowest_gap >= rules.drawn_gap - 1e-6


def test_every_letter_has_its_middle_on_the_line(slot, bench):
    """Turned back by the direction of the circle there, the ink's box has its middle on the arc."""
    workshop = load(None)
    rules = lettering_rules("engrave", workshop.materials[0], workshop)
    choice = choose("Wilhelm", slot, rules, bench)
    assert choice is not None
    seat = bench.seat(slot)
    assert isinstance(seat, CurvedSeat)
    layout, size = choice.trial.layout, choice.trial.largest
    curve = Curve(slot.path)
    start = (curve.length - (layout.ink[1] - layout.ink[0]) * size) / 2
    _, (whole,) = seat.place(layout, size)
    drawn = iter(whole.contours)
    for unit in layout.lines[0]:
        contours = [next(drawn) for _ in layout.cut.outline(unit.key).contours]
        along = start + (unit.x + layout.shifts[0] + layout.middle(unit)) * size
        x, y = CENTRE
        turn = math.radians(200) + along / RADIUS
        foot = (x + RADIUS * math.cos(turn), y + RADIUS * math.sin(turn))
        upright = shapely.affinity.rotate(
            shapely.MultiLineString([c.flatten(1e-4) for c in contours]),
            -math.degrees(turn) - 90,
            origin=foot,
        )
        left, _, right, _ = upright.bounds
        assert (left + right) / 2 == pytest.approx(foot[0], abs=0.01)
    assert next(drawn, None) is None


def test_a_tight_inside_curve_asks_for_more_tracking(slot, bench):
    """Feet of letters inside a bend come closer than on a straight line."""
    workshop = load(None)
    rules = lettering_rules("engrave", workshop.materials[0], workshop)
    lower = replace(
        slot,
        zone=(*arc(14, 170, 10), *reversed(arc(30, 170, 10))),
        path=polyline(arc(25, 165, 15)),
    )
    bent = choose("Lantern", lower, rules, bench)
    straight = choose(
        "Lantern",
        replace(lower, path=None, zone=((0, 0), (90, 0), (90, 40), (0, 40))),
        rules,
        bench,
    )
    assert bent is not None and straight is not None
    assert bent.trial.tracking > straight.trial.tracking
