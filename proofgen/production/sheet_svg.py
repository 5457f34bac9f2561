"""A sheet as SVG: millimetres, one group for each run of an operation, in the order of work.

SVG 1.1: width and height in mm with a viewBox of the same numbers make one user unit a millimetre.
Nothing is drawn of the sheet itself, so that nobody cuts it out by mistake.
"""

from __future__ import annotations

from itertools import groupby
from xml.sax.saxutils import quoteattr

from proofgen.production.steps import Plan, Step
from proofgen.production.svg import HAIRLINE, as_hex, as_number, path_data
from proofgen.workshop.workshop import Workshop


def sheet_svg(plan: Plan, workshop: Workshop, parts: str = "all") -> str:
    """The sheet's engraving ("engrave"), its cuts ("cut") or all of it, to be written as UTF-8.

    Every part has the same size and origin, the sheet's top left corner.
    """
    width, height = as_number(plan.width), as_number(plan.height)
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1"'
        f' width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
        f' data-origin="top-left" data-side={quoteattr(plan.side)}>'
    )
    runs = groupby(plan.part(parts).steps, key=lambda step: step.operation)
    groups = [_group(plan, operation, list(steps), workshop) for operation, steps in runs]
    return "\n".join(['<?xml version="1.0" encoding="UTF-8"?>', head, *groups, "</svg>", ""])


def _group(plan: Plan, operation: str, steps: list[Step], workshop: Workshop) -> str:
    group = workshop.group(operation)
    colour = as_hex(group.colour)
    paint = (
        f'fill="{colour}" fill-rule="nonzero" stroke="none"'
        if plan.filled(operation)
        else f'fill="none" stroke="{colour}" stroke-width="{HAIRLINE}"'
    )
    paths = [
        f"<path data-piece={quoteattr(plan.pieces[step.piece].label)}"
        f" d={quoteattr(path_data(step.path))}/>"
        for step in steps
    ]
    said = f"data-operation={quoteattr(operation)} data-name={quoteattr(group.name)}"
    return "\n".join([f"<g {said} {paint}>", *paths, "</g>"])
