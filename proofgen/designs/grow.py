"""A design that grows across a line: what lies beyond moves, what crosses it straight is longer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from proofgen.designs.design import Design, DesignLayer, Growth, Slot
from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path

# Ends of a crossing segment may differ by this across the direction of growth, mm.
STRAIGHT = 1e-3

Move = Callable[[Point], Point]


def grown(design: Design, by: tuple[float, ...]) -> Design:
    """The design with each of its growths drawn out by so many millimetres.

    Holes, corner radii and margins keep their size, since each lies on one side of the line.
    """
    for growth, amount in zip(design.growth, by, strict=True):
        design = _drawn_out(design, growth, amount)
    return replace(design, grown=by)


def crosses_askew(path: Path, growth: Growth) -> bool:
    """Whether something crosses the line of growth other than straight, along its axis."""
    along, across = (0, 1) if growth.axis == "x" else (1, 0)
    for contour in path.contours:
        points = [contour.start, *(segment[-1] for segment in contour.segments), contour.start]
        for start, segment in zip(points, (*contour.segments, (contour.start,)), strict=False):
            sides = {point[along] > growth.at for point in (start, *segment)}
            askew = len(segment) > 1 or abs(start[across] - segment[-1][across]) > STRAIGHT
            if len(sides) > 1 and askew:
                return True
    return False


def _drawn_out(design: Design, growth: Growth, amount: float) -> Design:
    def move(point: Point) -> Point:
        x, y = point
        if growth.axis == "x":
            return (x + amount, y) if x > growth.at else point
        return (x, y + amount) if y > growth.at else point

    width, height = design.size
    size = (width + amount, height) if growth.axis == "x" else (width, height + amount)
    return replace(
        design,
        size=size,
        layers=tuple(_layer(layer, move) for layer in design.layers),
        slots=tuple(_slot(slot, move) for slot in design.slots),
    )


def _layer(layer: DesignLayer, move: Move) -> DesignLayer:
    marks = tuple(replace(mark, path=_path(mark.path, move)) for mark in layer.marks)
    return replace(layer, marks=marks)


def _slot(slot: Slot, move: Move) -> Slot:
    """The anchor keeps its share of the zone's width, so that what was centred stays so."""
    zone = tuple(map(move, slot.zone))
    share = (slot.anchor - _left(slot.zone)) / (_right(slot.zone) - _left(slot.zone))
    return replace(
        slot,
        zone=zone,
        anchor=_left(zone) + share * (_right(zone) - _left(zone)),
        baseline=None if slot.baseline is None else move((slot.anchor, slot.baseline))[1],
        path=_path(slot.path, move) if slot.path else None,
    )


def _path(path: Path, move: Move) -> Path:
    return Path(tuple(_contour(contour, move) for contour in path.contours))


def _contour(contour: Contour, move: Move) -> Contour:
    segments = tuple(tuple(map(move, segment)) for segment in contour.segments)
    return Contour(move(contour.start), segments, contour.closed)


def _left(zone: tuple[Point, ...]) -> float:
    return min(x for x, _ in zone)


def _right(zone: tuple[Point, ...]) -> float:
    return max(x for x, _ in zone)
