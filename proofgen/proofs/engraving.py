"""Engraved marks: a floor below the face, its edges and its shadow."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

import numpy as np

from proofgen.designs.design import Mark
from proofgen.geometry.path import Path
from proofgen.geometry.stroked import stroked
from proofgen.geometry.weld import weld
from proofgen.proofs.paint import Board, Coat
from proofgen.proofs.palette import Mask, luma
from proofgen.proofs.raster import Floats, patched
from proofgen.proofs.soft import (
    WHOLE,
    Soft,
    blurred,
    faint,
    fringe,
    graded,
    less,
    most,
    nothing,
    rest,
    shifted,
    times,
)
from proofgen.proofs.stage import Stage
from proofgen.workshop.workshop import Colour, Finish

LINE = 0.3  # mm, what a single pass of the beam shows as on wood; from memory
ROUND = 0.004  # mm, how far its ends may be from round
HALO, HALO_MOST = (206, 160, 110), 0.25
FAINT = 12  # of 255, less of a halo changes no colour by more than one step in 255
# Where an edge darkens the engraving and its shadow lies on it too; how much of that either does.
DEEPEST = (72, 45, 29)
EDGE, SHADE = 0.71, 0.59
FLOOR = (0.84, 1.14)  # of the engraving's colour, in the darkest grain and the lightest
GLINT = (255, 246, 228)
# Bare wood under a dark stain: full shading would eat up the pale strokes.
PALE_RELIEF = 0.35
# The fields of marks that a person drew: of the design itself, and of symbols.
DRAWN = ("", "symbol")
# mm, what the eye sees round and in an engraving: scorch, the edges' darkness and light, shadow.
SCORCHED, NEAR, GLINTS, SHADOW = 0.45, 0.2, 0.11, (0.22, 0.33)
REACH = 1.6  # mm round a mark that its halo and shadow touch


@dataclass(frozen=True, slots=True)
class Ground:
    """What is engraved in a window: the layer's `body`, its grain's `tone`, its finish."""

    body: Soft
    tone: Soft
    finish: Finish


@dataclass(frozen=True, slots=True)
class Relief:
    """How much of each pixel is scorched round the engraving, glints, is engraved, and is dark by a
    near edge and the shadow of the one towards the light; how strong glints are.
    """

    halo: Soft
    glint: Soft
    mask: Soft
    dark: Soft
    shine: float

    @property
    def touched(self) -> Mask:
        """The pixels that change."""
        return (self.halo >= FAINT) | (most(self.glint, self.mask) > 0)


def reach(scale: float) -> int:
    """How many pixels round a mark change, at so many a millimetre."""
    return ceil(REACH * scale)


def relief(mask: Soft, body: Soft, scale: float) -> Relief:
    """The relief of an engraved mask, within the body of its layer; `scale` in px a millimetre."""
    solid = int(body.min(initial=WHOLE)) == WHOLE

    def within(found: Soft) -> Soft:
        return found if solid else times(found, body)

    cut = within(mask)
    near = blurred(cut, NEAR * scale)
    scorched = times(within(blurred(cut, SCORCHED * scale)), rest(cut))
    edge = times(cut, rest(near))
    shade = less(cut, shifted(near, *(way * scale for way in SHADOW)))
    return Relief(
        scorched,
        within(fringe(cut, GLINTS * scale)),
        cut,
        rest(times(graded(edge, -EDGE, 1), graded(shade, -SHADE, 1))),
        0.34 * faint(GLINTS * scale),
    )


def engrave(cut: Relief, tone: Soft, finish: Finish) -> Iterator[Coat]:
    """The coats of a relief in wood of that grain and finish."""
    yield scorch(cut)
    yield Coat(GLINT, cut.glint, cut.shine * _deep(finish))
    yield Coat(replace(floor(finish.engraving, tone), coats=(depth(cut, finish),)), cut.mask)


def scorch(cut: Relief) -> Coat:
    """What lies on the wood round an engraving."""
    return Coat(HALO, cut.halo, HALO_MOST, glass=True)


def depth(cut: Relief, finish: Finish) -> Coat:
    """What lies on the floor of an engraving."""
    return Coat(DEEPEST, cut.dark, _deep(finish), glass=True)


def _deep(finish: Finish) -> float:
    return 1.0 if luma(finish.engraving) < luma(finish.wood[2]) else PALE_RELIEF


def floor(colour: Colour, tone: Soft) -> Board:
    """What the beam leaves of wood of that grain."""
    return Board(_tones(colour), tone)


@lru_cache(maxsize=32)
def _tones(colour: Colour) -> Floats:
    """The colour of an engraving (256, 3) in each tone of the grain."""
    return np.asarray(colour, np.float32) * np.linspace(*FLOOR, 256, dtype=np.float32)[:, None]


def engraved(marks: Iterable[Mark], stage: Stage) -> Soft:
    """The mask of all engraving in the window: areas as they are, lines as wide as they show."""
    marks = tuple(marks)
    areas = [clean(mark) for mark in marks if mark.operation == "engrave-area"]
    lines = [_pen(mark.path) for mark in marks if mark.operation == "engrave-line"]
    found = nothing(stage.shape)
    box, area = patched(map(stage.polygons, (*areas, *lines)), stage.shape)
    found[box] = area
    return found


def clean(mark: Mark) -> Path:
    """The outline without overlaps: letters are welded already, a drawing may not be."""
    return weld([mark.path]) if mark.field in DRAWN else mark.path


@lru_cache(maxsize=32)
def _pen(lines: Path) -> Path:
    """What the beam marks along the lines, mm; none of it twice."""
    return stroked(lines, LINE, ROUND)
