"""Text as it will be made."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path


@dataclass(frozen=True, slots=True)
class SetLine:
    """A line of text as it was set: its text, its glyph ids, and where its origin lies."""

    text: str
    glyphs: tuple[int, ...]
    origin: Point


@dataclass(frozen=True, slots=True)
class Lettering:
    """A field set in its slot; lengths in millimetres, tracking in thousandths of an em.

    `narrowed` is the width as a factor of the natural one. `thinnest_stroke`, `narrowest_gap`
    and `clearance` (to the nearest cut of its layer) are measured on `outline` as drawn, before
    the tool's growth; they are infinite where there is nothing to measure.
    """

    field: str
    layer: str
    text: str
    face: str
    axes: tuple[tuple[str, float], ...]
    tracking: float
    cap_height: float
    narrowed: float
    lines: tuple[SetLine, ...]
    outline: Path
    thinnest_stroke: float
    narrowest_gap: float
    clearance: float
