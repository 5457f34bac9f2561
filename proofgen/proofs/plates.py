"""The layers of a piece whose letters are cut: where a table tells their colours, and coats where
more than that meets.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import reduce
from typing import NamedTuple

import numpy as np

from proofgen.proofs.layers import CHARRED, wall_at
from proofgen.proofs.paint import Board, Coat, Numbers, Spots, put
from proofgen.proofs.palette import Mask
from proofgen.proofs.raster import Floats
from proofgen.proofs.soft import WHOLE, Soft, most


class Toned(NamedTuple):
    """Pixels (n,) where only a board is seen, and that under one coat as of glass, and the numbers
    that they have in both.
    """

    number: Numbers
    local: Numbers
    board: Board
    glass: Coat


@dataclass(frozen=True, slots=True)
class Plate:
    """A layer: its wood and how many pixels thick it is, where its wall is seen, its shadow on
    those behind, its face, and the engraving of the pixels `cut` (n,), which have the numbers
    `within` in its coats.
    """

    body: Soft
    deep: float
    foot: Soft
    shade: Coat | None
    face: Board
    cut: Numbers
    within: Numbers
    engraving: tuple[Coat, ...]

    def lay_under(self, spots: Spots) -> None:
        """What its face hides: shadow and wall."""
        spots.lay([self.shade] if self.shade else [])
        at = np.flatnonzero(self.foot.ravel().take(spots.number))
        seen, depth = wall_at(self.body, self.deep, spots.number.take(at))
        spots.mix(at, CHARRED.T.take(depth.astype(np.uint8), axis=1), seen / np.float32(255))

    def lay_over(self, spots: Spots) -> None:
        """Its face and what is in it."""
        spots.lay([Coat(self.face, self.body)])
        spots.lay_at(self.cut, self.within, self.engraving)

    def clear(self, others: Iterable[Soft]) -> Mask:
        """Where it is whole, and neither lit nor dark at its edges, and others are not."""
        found: Mask = self.body == WHOLE
        rims = (coat.amount for coat in self.face.coats[1:])
        found &= reduce(np.maximum, (*rims, *others)) == 0
        return found

    def bare(self, clear: Mask, glass: Coat) -> Toned:
        """Where nothing is engraved in its face, which is under that glass."""
        clear.ravel()[self.cut] = False
        number = np.flatnonzero(clear)
        return Toned(number, number, self.face, glass)

    def engraved(self, clear: Mask) -> Iterator[Toned]:
        """The floor of an engraving, and wood that is scorched by that and not at its edges."""
        if not self.engraving:
            return
        own = np.flatnonzero(clear.ravel().take(self.cut))
        halo, glint, floor = self.engraving
        assert isinstance(floor.paint, Board)
        number, within = self.cut.take(own), self.within.take(own)
        mask = floor.amount.ravel().take(within)
        edges = most(glint.amount.ravel().take(within), self.scorch.amount.ravel().take(number))
        (depth,), wood = floor.paint.coats, replace(self.face, tone=floor.paint.tone)
        for board, glass, where in (
            (floor.paint, depth, mask == WHOLE),
            (wood, halo, most(mask, edges) == 0),
        ):
            yield Toned(number[where], within[where], board, glass)

    @property
    def scorch(self) -> Coat:
        """How the face is scorched along its edges."""
        return self.face.coats[0]


def spotted(
    number: Numbers, plates: tuple[Plate, ...], behind: Callable[[Numbers], Floats]
) -> Spots:
    """The pixels of those numbers with all that is behind the upmost face.

    Where that is whole, what is behind it need not be known.
    """
    *lower, upper = plates
    open_ = np.flatnonzero(upper.body.ravel().take(number) < WHOLE)
    seen = number.take(open_)
    below = Spots(seen, behind(seen))
    for plate in lower:
        plate.lay_under(below)
        plate.lay_over(below)
    upper.lay_under(below)
    colours = np.zeros((3, len(number)), np.float32)
    put(colours, open_, below.canvas)
    return Spots(number, colours)


def plain(plates: tuple[Plate, ...], over: list[Soft]) -> Iterator[Toned]:
    """Where nothing but one layer is seen: the upmost one with its scorch and engraving, the
    next one in the shade of that, but for its wall.
    """
    upper = plates[-1]
    clear = upper.clear(over)
    yield from upper.engraved(clear)
    yield upper.bare(clear, upper.scorch)
    if len(plates) > 1 and upper.shade:
        plate = plates[-2]
        hidden = (upper.body, plate.scorch.amount, upper.foot, *over)
        yield plate.bare(plate.clear(hidden), upper.shade)
