"""Production SVG: one layer of one piece in millimetres, paths only, grouped in the order of work.

SVG 1.1: width and height in mm with a viewBox of the same numbers make one user unit a millimetre.
"""

from __future__ import annotations

from itertools import groupby
from xml.sax.saxutils import escape, quoteattr

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.designs.design import Mark
from proofgen.geometry.path import Contour, Path
from proofgen.workshop.workshop import OPERATIONS, Colour, Workshop

# Lines are drawn this wide so that they show on a screen; the machine follows their middle.
HAIRLINE = 0.1
LETTERS = {1: "L", 2: "Q", 3: "C"}


def layer_svg(
    artwork: Artwork, layer: Layer, code: str, workshop: Workshop, side: str = "front"
) -> str:
    """The drawing of one side of a layer, ready to be written as UTF-8.

    The back is drawn as it is seen once the layer has been turned about its upright middle.
    """
    order = artwork.order
    times = f" \u00d7 {order.quantity}" if order.quantity > 1 else ""
    turned = ", back" if side == "back" else ""
    title = f"Order {order.number} line {order.line}, {layer.name}{turned}, {code}{times}"
    return drawing(title, artwork.size, layer, workshop, side)


def drawing(
    title: str, size: tuple[float, float], layer: Layer, workshop: Workshop, side: str = "front"
) -> str:
    """The drawing of one side of a layer of that size, under any title."""
    width, height = size
    own = (mark for mark in layer.marks if mark.side == side)
    marks = sorted(own, key=lambda mark: OPERATIONS.index(mark.operation))
    groups = [
        _group(layer, operation, field, tuple(found), workshop)
        for (operation, field), found in groupby(marks, key=lambda m: (m.operation, m.field))
    ]
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1"'
        f' width="{as_number(width)}mm" height="{as_number(height)}mm"'
        f' viewBox="0 0 {as_number(width)} {as_number(height)}">'
    )
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', head, f"<title>{escape(title)}</title>"]
    return "\n".join([*lines, *groups, "</svg>", ""])


def path_data(path: Path) -> str:
    """The `d` of a path, curves kept, to a tenth of a micrometre."""
    return " ".join(_contour(contour) for contour in path.contours)


def as_number(value: float) -> str:
    """A number to a tenth of a micrometre, without needless zeros."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def as_hex(colour: Colour) -> str:
    """A colour as "#rrggbb"."""
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _group(
    layer: Layer, operation: str, field: str, marks: tuple[Mark, ...], workshop: Workshop
) -> str:
    group = workshop.group(operation)
    colour = as_hex(group.colour)
    paint = (
        f'fill="{colour}" fill-rule="nonzero" stroke="none"'
        if operation == "engrave-area"
        else f'fill="none" stroke="{colour}" stroke-width="{HAIRLINE}"'
    )
    data = {"layer": layer.name, "operation": operation, "field": field, "name": group.name}
    said = " ".join(f"data-{key}={quoteattr(value)}" for key, value in data.items() if value)
    paths = [f"<path d={quoteattr(path_data(mark.path))}/>" for mark in marks if mark.path]
    return "\n".join([f"<g {said} {paint}>", *paths, "</g>"])


def _contour(contour: Contour) -> str:
    start = f"M{_pair(contour.start)}"
    drawn = (LETTERS[len(s)] + " ".join(map(_pair, s)) for s in contour.segments)
    return start + "".join(drawn) + ("Z" if contour.closed else "")


def _pair(point: tuple[float, float]) -> str:
    return f"{as_number(point[0])},{as_number(point[1])}"
