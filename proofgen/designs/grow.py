"""A design that grows across a line: what lies beyond moves, what crosses it straight is longer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from proofgen.designs.design import Design, DesignLayer, Growth, Mark, Slot
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Contour, Path

# Ends of a crossing segment may differ by this across the direction of growth, mm.
STRAIGHT = 1e-3
# What is placed by its middle moves as a whole.
WHOLE = ("hanger", "symbol")

AXES = {"x": 0, "y": 1}
Move = Callable[[Point], Point]


def grown(design: Design, by: tuple[float, ...]) -> Design:
    """The design with each of its growths drawn out by so many millimetres.

    Holes, symbols, corner radii and margins keep their size: holes and symbols move as a whole,
    and of the rest only what crosses the line straight is longer. For a design that has not
    grown yet.
    """
    width, height = design.size
    for growth, amount in zip(design.growth, by, strict=True):
        width, height = _moved((width, height), growth, amount)

    def move(side: str) -> Move:
        """Every growth at once, from where things were drawn."""
        lines = [seen_from(growth, side, design.size[0]) for growth in design.growth]

        def moved(point: Point) -> Point:
            to = point
            for growth, amount in zip(lines, by, strict=True):
                if point[AXES[growth.axis]] > growth.at:
                    to = _moved(to, growth, amount)
            return to

        return moved

    moves = {side: move(side) for side in ("front", "back")}
    return replace(
        design,
        size=(width, height),
        layers=tuple(_layer(layer, moves) for layer in design.layers),
        slots=tuple(_slot(slot, moves[slot.side]) for slot in design.slots),
        grown=by,
    )


def seen_from(growth: Growth, side: str, width: float) -> Growth:
    """The line of growth as it lies in a drawing of that side, `width` mm wide."""
    mirrored = side == "back" and growth.axis == "x"
    return replace(growth, at=width - growth.at) if mirrored else growth


def crosses_askew(path: Path, growth: Growth) -> bool:
    """Whether something crosses the line of growth other than straight, along its axis."""
    along = AXES[growth.axis]
    across = 1 - along
    for contour in path.contours:
        closing = ((contour.start,),) if contour.closed else ()
        segments = (*contour.segments, *closing)
        starts = (contour.start, *(segment[-1] for segment in segments[:-1]))
        for start, segment in zip(starts, segments, strict=True):
            sides = {point[along] > growth.at for point in (start, *segment)}
            askew = len(segment) > 1 or abs(start[across] - segment[-1][across]) > STRAIGHT
            if len(sides) > 1 and askew:
                return True
    return False


def _moved(point: Point, growth: Growth, amount: float) -> Point:
    x, y = point
    return (x + amount, y) if growth.axis == "x" else (x, y + amount)


def _layer(layer: DesignLayer, moves: Mapping[str, Move]) -> DesignLayer:
    return replace(layer, marks=tuple(_mark(mark, moves[mark.side]) for mark in layer.marks))


def _mark(mark: Mark, move: Move) -> Mark:
    if mark.field not in WHOLE or not mark.path:
        return replace(mark, path=_path(mark.path, move))
    centre = mark.path.bounds().centre
    x, y = move(centre)
    return replace(mark, path=mark.path.moved(Affine.shift(x - centre[0], y - centre[1])))


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
