"""Where a cut begins, and what it is like at its ends."""

from __future__ import annotations

import math
from collections.abc import Sequence

from proofgen.geometry.affine import Point
from proofgen.geometry.along import length, places, stretch
from proofgen.geometry.inside import clearest
from proofgen.geometry.path import Contour, Path
from proofgen.geometry.rect import Rect
from proofgen.production.steps import Laid, SheetArt
from proofgen.workshop.motion import Cutting

# A place on a contour: its distance from where the contour is drawn from, and where it is.
Start = tuple[float, Point]

# More places than that are not worth the choice: on one edge or in a hole, and all round a piece.
MOST, MOST_ROUND = 6, 24
# How far up from the lowest point the lower edge goes: a share of the height, and mm at most.
# Common practice, no source: the burnt spot of a start shows least below.
LOWER_SHARE, LOWER_MOST = 0.1, 8.0
# mm; nearer than that to the hole it hangs on, a piece is a tab.
TAB = 12.0


def anywhere(contour: Contour) -> tuple[Start, ...]:
    """Corners of a closed contour, so that none of its curves is divided."""
    return _spread(places(contour), MOST)


def at_the_lower_edge(contour: Contour, laid: Laid) -> tuple[tuple[Start, ...], tuple[Start, ...]]:
    """Places on the lower edge of a piece as it hangs, and all round it, but off its tab."""
    tried = places(contour, parts=4)
    hangers = [
        laid.at(mark.path.bounds().centre)
        for mark in laid.layer.marks
        if mark.field == "hanger" and mark.path
    ]
    off_tab = [s for s in tried if all(math.dist(s[1], at) > TAB for at in hangers)] or tried
    low = [x * laid.at.c + y * laid.at.d for _, (x, y) in off_tab]
    reach = min(LOWER_SHARE * (max(low) - min(low)), LOWER_MOST)
    lower = [start for start, at in zip(off_tab, low, strict=True) if at >= max(low) - reach]
    return _spread(lower, MOST), _spread(off_tab, MOST_ROUND)


def begun(contour: Contour, at: float, cutting: Cutting, tabs: int) -> Path:
    """A closed contour begun at that distance: with its overcut, and its tabs left standing."""
    around = length(Path((contour,)))
    ends = [at + around * (i + 0.5) / tabs for i in range(tabs)]
    half = cutting.tab_width / 2
    if not tabs or 4 * half * tabs > around:
        return Path((_closing(contour, at, around, cutting.overcut),))
    lows, highs = [at, *(e + half for e in ends)], [*(e - half for e in ends), at + around]
    *before, (low, high) = zip(lows, highs, strict=True)
    last = stretch(contour, low, high + min(cutting.overcut, around / tabs / 2 - half))
    return Path((*(stretch(contour, *run) for run in before), last))


def led_in(
    path: Path,
    contour: Contour,
    reach: float,
    outside: bool,
    others: Sequence[Contour],
    sheet: SheetArt,
) -> Path:
    """The cut with a straight way in from the waste of the sheet, where there is room for one."""
    first, *rest = path.contours
    room = Rect(0.0, 0.0, sheet.width, sheet.height)
    place = clearest(first.start, reach, contour, outside, others, room, sheet.keep_out)
    if place is None:
        return path
    return Path((Contour(place, ((first.start,), *first.drawn()), closed=False), *rest))


def _closing(contour: Contour, at: float, around: float, overcut: float) -> Contour:
    if overcut:
        return stretch(contour, at, at + around + min(overcut, around / 2))
    if not at:
        return contour
    turned = stretch(contour, at, at + around)
    return Contour(turned.start, turned.segments)


def _spread(starts: Sequence[Start], most: int) -> tuple[Start, ...]:
    """At most so many of them, evenly."""
    return tuple(starts[:: max(1, math.ceil(len(starts) / most))])
