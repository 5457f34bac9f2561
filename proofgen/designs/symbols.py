"""The row's symbol, as large as its place takes, held against the limits of the material."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from proofgen.designs.design import Mark, SymbolDrawing, SymbolSlot, Template
from proofgen.designs.fill_rule import signed_area
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.affine import Affine, Point
from proofgen.geometry.path import Path
from proofgen.geometry.region import Region
from proofgen.workshop.making import limits_as_made
from proofgen.workshop.workshop import Limits, Workshop

FIELD = "symbol"
TOLERANCE = 0.01  # mm
HALVINGS = 24  # of the scale: to a millionth


def place_symbol(
    drawing: SymbolDrawing, slot: SymbolSlot, template: Template, workshop: Workshop, where: str
) -> tuple[Mark | None, tuple[Flag, ...]]:
    """The symbol in its zone, or a flag where it comes out too fine or falls apart."""
    layer = next(layer for layer in template.layers if layer.name == slot.layer)
    limits = workshop.material(layer.material).limits
    path = _fitted(drawing.path, slot.zone)
    flags = (
        *_too_fine(drawing, path, slot.made, limits, workshop, where),
        *_falls_apart(drawing, path, slot.made, where),
    )
    if flags:
        return None, flags
    operation = "engrave-area" if slot.made == "engrave" else "cut-inside"
    return Mark(operation, path, FIELD, slot.side), ()


@lru_cache(maxsize=256)
def _fitted(path: Path, zone: tuple[Point, ...]) -> Path:
    """The path with its middle on the zone's middle, as large as fits around it."""
    corners = np.array(zone)
    centre = _centroid(corners)
    region = Region(corners)
    box = path.bounds()
    home = Affine.shift(-box.centre[0], -box.centre[1])
    size = max(box.width, box.height)
    centred = path.moved(home)
    # A chord error that stays within the tolerance at any scale that can fit.
    span = float(np.ptp(corners, axis=0).max())
    lines = centred.flatten(TOLERANCE * size / span)
    edges = np.concatenate([np.hstack([line[:-1], line[1:]]) for line in lines])
    low, high = 0.0, span / size
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        fits = region.holds(edges * middle + np.array([*centre, *centre]))
        low, high = (middle, high) if fits else (low, middle)
    return centred.moved(Affine.scale(low).then(Affine.shift(*centre)))


def _centroid(corners: np.ndarray) -> Point:
    """The middle of a simple polygon's area."""
    x, y = corners.T
    after_x, after_y = np.roll(x, -1), np.roll(y, -1)
    cross = x * after_y - after_x * y
    area = cross.sum() * 3
    return float(((x + after_x) * cross).sum() / area), float(((y + after_y) * cross).sum() / area)


def _too_fine(
    drawing: SymbolDrawing, path: Path, made: str, limits: Limits, workshop: Workshop, where: str
) -> tuple[Flag, ...]:
    """Strokes and gaps as they come out: engraving grows by a dot, an opening by the kerf."""
    least, apart, grows = limits_as_made(made, limits, workshop.machine)
    stroke, gap = _widths(path)
    found = (("stroke", stroke + grows, least), ("gap", max(gap - grows, 0.0), apart))
    return tuple(
        Flag(kinds.SYMBOL_TOO_FINE, where, measured, limit, f"{part} of the {drawing.title}")
        for part, measured, limit in found
        if measured < limit
    )


@lru_cache(maxsize=256)
def _widths(path: Path) -> tuple[float, float]:
    """Thinnest stroke and narrowest gap, mm; the same for every row with that symbol."""
    from proofgen.geometry.strokes import narrowest_gap, thinnest_stroke

    box = path.bounds()
    unit = max(box.width, box.height)
    return thinnest_stroke(path, unit), narrowest_gap(path, unit)


def _falls_apart(drawing: SymbolDrawing, path: Path, made: str, where: str) -> tuple[Flag, ...]:
    """Wood inside an opening has nothing to hold to: a hole in the symbol would drop out."""
    from proofgen.geometry.weld import weld

    if made != "cut":
        return ()
    turns = {signed_area(outline) > 0 for outline in weld([path]).flatten(TOLERANCE)}
    return (Flag(kinds.SYMBOL_FALLS_OUT, where, drawing.title),) if len(turns) > 1 else ()
