"""Sheets and pieces for the tests of plans and their formats."""

from __future__ import annotations

import math
from functools import cache

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.day.shop import make_row, open_shop
from proofgen.designs.design import Mark
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, circle, polygon
from proofgen.orders.order import Line, Order, Source
from proofgen.production.steps import Laid, SheetArt
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Workshop


@cache
def workshop() -> Workshop:
    return load(None)


@cache
def artwork(design: str, name: str = "Josephine") -> Artwork:
    order = Order("1", 1, Source("", "", 2), design, (("name", name), ("year", "2027")))
    made = make_row(Line(order), open_shop())
    assert made.artwork is not None, [flag.text for flag in made.flags]
    return made.artwork


def turned(degrees: float, x: float, y: float) -> Affine:
    """A turn about the piece's corner, which comes to lie at (x, y)."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Affine(c, s, -s, c, x, y)


def nine(design: str, layer: str, degrees: float = 0.0) -> SheetArt:
    """Nine of a layer, three by three, 2 mm apart, the whole grid turned."""
    art = artwork(design)
    own = next(each for each in art.layers if each.name == layer)
    width, height = art.size
    laid = tuple(
        Laid(
            own,
            Affine.shift(i * (width + 2), j * (height + 2)).then(turned(degrees, 6, 6)),
            f"{i}{j}",
        )
        for j in range(3)
        for i in range(3)
    )
    return SheetArt(304.8, 350, laid)


def square(x: float, y: float, side: float) -> Path:
    return polygon([(x, y), (x + side, y), (x + side, y + side), (x, y + side)])


def layer(*marks: Mark) -> Layer:
    return Layer("one", "birch-3", "natural", 0, False, (0, 180), marks)


def tile(side: float = 20.0) -> Layer:
    """A square with a hole at the top, an area in the middle and a line below it."""
    third = side / 3
    return layer(
        Mark("engrave-area", square(third, third, third)),
        Mark("engrave-line", polygon([(third, 0.8 * side), (2 * third, 0.8 * side)])),
        Mark("cut-inside", circle((side / 2, 2), 1), field="hanger"),
        Mark("cut-outside", square(0, 0, side)),
    )


def lone(*marks: Mark) -> SheetArt:
    """One piece on a sheet of 100 mm."""
    return SheetArt(100, 100, (Laid(layer(*marks), Affine(), "lone"),))
