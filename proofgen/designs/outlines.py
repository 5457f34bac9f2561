"""Outlines as drawn: those within others, which are openings, and how large a piece is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from proofgen.designs.design import Mark, Template
from proofgen.geometry.path import Contour, Path, join

OUTSIDE, INSIDE = "cut-outside", "cut-inside"


def with_openings(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The marks of a layer, with each outline that lies in the wood of another as an opening.

    A ring that a drawing program saves as one path is an outline and an opening. An outline that
    lies in an opening stays one.
    """
    marks = tuple(marks)
    if sum(len(mark.path.contours) for mark in marks if mark.operation == OUTSIDE) < 2:
        return marks
    # Few designs come here, and what it imports is heavy.
    from proofgen.geometry.inside import depths

    cuts = [c for m in marks if m.operation in (OUTSIDE, INSIDE) for c in m.path.contours]
    depth = dict(zip(cuts, depths(cuts), strict=True))
    return tuple(
        part
        for mark in marks
        for part in (_parted(mark, depth) if mark.operation == OUTSIDE else (mark,))
    )


def extent(template: Template) -> tuple[float, float] | None:
    """Width and height of a piece as drawn, mm; None where letters decide them."""
    lettered = any(slot.made == "stand" for slot in template.slots)
    marks = (mark for layer in template.layers for mark in layer.marks)
    drawn = join(mark.path for mark in marks if mark.operation == OUTSIDE)
    if lettered or not drawn or any(layer.backing for layer in template.layers):
        return None
    box = drawn.bounds()
    return box.width, box.height


def _parted(mark: Mark, depth: dict[Contour, int]) -> Iterator[Mark]:
    """The openings of an outline, and what is left of it."""
    for operation, odd in ((INSIDE, 1), (OUTSIDE, 0)):
        contours = tuple(c for c in mark.path.contours if depth[c] % 2 == odd)
        if contours:
            yield replace(mark, operation=operation, path=Path(contours))
