"""The card laid out: marks and the kerf comb on the left, faces on the right, an edge below."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from proofgen.artwork.artwork import Layer
from proofgen.designs.design import Mark
from proofgen.designs.order_of_work import in_order_of_work
from proofgen.faces.face import Face
from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path, join
from proofgen.lettering.bench import Bench
from proofgen.testcard import shapes
from proofgen.testcard.lettered import lettered
from proofgen.testcard.letters import Label, label, sample, title
from proofgen.testcard.part import AIR, BELOW, NUMBER, TITLE, Part
from proofgen.testcard.series import (
    AT_EDGE,
    HOLE_TO_EDGE,
    INNER,
    LOT,
    PIECE,
    PIECES,
    STANDING,
    Series,
    as_printed,
)
from proofgen.workshop.workshop import Material

MARGIN = 5.0
APART = 2.2  # between a row and the next title
ROW = TITLE + BELOW + shapes.TALL + AIR + NUMBER + APART
BLOCK = 9 * shapes.CELL  # width of a series
BESIDE = 6.0  # between the two blocks
COMB = 12.0  # height of the kerf comb
EDGE = 18.5  # height of what stands along the lower edge

ENGRAVED: dict[str, Callable[[Point, float], Path]] = {
    "stroke": shapes.stroke,
    "gap": shapes.gap,
    "engraving-to-cut": shapes.near_cut,
}
CUT: dict[str, Callable[[Point, float], Path]] = {
    "web": shapes.web,
    "opening": shapes.opening,
    "hole": shapes.hole,
    "hole-to-edge": shapes.hole_to_edge,
}


@dataclass(frozen=True, slots=True)
class Card:
    """A test card: its size in mm, the one layer that it is, what is written beside its marks."""

    material: Material
    size: tuple[float, float]
    layer: Layer
    labels: tuple[Label, ...]
    faces: tuple[Face, ...]


def test_card(material: Material, bench: Bench) -> Card:
    """The card of a material, with every face that the workshop has."""
    faces = tuple(face for face in map(bench.faces.__getitem__, bench.faces) if sample(face))
    beside = MARGIN + BLOCK + BESIDE
    rows = [_inner(each, MARGIN + number * ROW, bench) for number, each in enumerate(INNER)]
    rightmost = lettered(faces, (beside, MARGIN), bench)
    comb = _comb((MARGIN, rows[-1].foot + APART), bench)
    foot = math.ceil(max(rightmost.foot, comb.foot) + EDGE)
    edge = [
        _at_edge(each, x, foot, bench) for each, x in zip(AT_EDGE, (MARGIN, beside), strict=True)
    ]
    corner = (beside + BLOCK + 4, float(foot) - APART)
    which = title(material.id, TITLE * 1.4, corner, "", bench)
    parts = (*rows, rightmost, comb, *edge, Part((), (which,), which.outline.bounds().right))
    width = math.ceil(max(part.right for part in parts) + MARGIN)
    labels = tuple(each for part in parts for each in part.labels)
    marks = [mark for part in parts for mark in part.marks]
    marks.append(Mark("engrave-area", join(each.outline for each in labels), "writing"))
    marks.append(Mark("cut-outside", shapes.box((0.0, 0.0), (width, foot)), "card"))
    layer = Layer("card", material.id, "natural", 0, True, (0,), in_order_of_work(marks))
    return Card(material, (float(width), float(foot)), layer, labels, faces)


def _inner(series: Series, top: float, bench: Bench) -> Part:
    """A series within the card: title, marks, numbers."""
    marks_top = top + TITLE + BELOW
    baseline = marks_top + shapes.TALL + AIR + NUMBER
    places = [(x, marks_top) for x in _cells(series, MARGIN)]
    if series is STANDING:
        marks = [Mark("cut-inside", shapes.fingers(places, series.sizes), series.id)]
    else:
        marks = _marks(series, places)
    return Part(
        tuple(marks),
        (
            title(series.title, TITLE, (MARGIN, top + TITLE), "", bench),
            *_numbers(series, MARGIN, baseline, bench),
        ),
        MARGIN + BLOCK,
        baseline,
    )


def _at_edge(series: Series, left: float, edge: float, bench: Bench) -> Part:
    """A series along the lower edge, which its sizes are measured from."""
    reach = max(series.sizes) + (shapes.HOLE if series is HOLE_TO_EDGE else shapes.PATCH)
    baseline = edge - reach - AIR
    above = baseline - NUMBER - BELOW
    marks = _marks(series, [(x, edge) for x in _cells(series, left)])
    return Part(
        tuple(marks),
        (
            title(series.title, TITLE, (left, above), "", bench),
            *_numbers(series, left, baseline, bench),
        ),
        left + BLOCK,
        edge,
    )


def _marks(series: Series, places: list[Point]) -> list[Mark]:
    engraved = ENGRAVED.get(series.id)
    draw = engraved or CUT[series.id]
    operation = "engrave-area" if engraved else "cut-inside"
    return [
        Mark(operation, draw(at, size), series.id)
        for at, size in zip(places, series.sizes, strict=True)
    ]


def _cells(series: Series, left: float) -> list[float]:
    """The middles of a series' cells."""
    return [left + (number + 0.5) * shapes.CELL for number in range(len(series.sizes))]


def _numbers(series: Series, left: float, baseline: float, bench: Bench) -> list[Label]:
    return [
        label(as_printed(size), NUMBER, (x, baseline), series.id, bench)
        for x, size in zip(_cells(series, left), series.sizes, strict=True)
    ]


def _comb(corner: Point, bench: Bench) -> Part:
    """The lot of loose pieces."""
    x, top = corner
    head = top + TITLE
    lines, outline = shapes.comb((x, head + BELOW), PIECES, PIECE, COMB)
    said = f"kerf: {PIECES} pieces of {as_printed(PIECE)} are {as_printed(LOT)} less {PIECES} kerfs"
    return Part(
        (Mark("cut-inside", lines, "kerf"), Mark("cut-inside", outline, "kerf")),
        (title(said, TITLE, (x, head), "", bench),),
        x + LOT,
        head + BELOW + COMB,
    )
