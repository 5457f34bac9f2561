"""Several pieces in one picture: a family side by side, or the designs that one may choose from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, inf

import numpy as np

from proofgen.proofs.backdrop import backdrop, cast
from proofgen.proofs.caption import PAPER, QUIET, RULE
from proofgen.proofs.engraving import DRAWN
from proofgen.proofs.grid import FOOT, TITLE, arranged
from proofgen.proofs.labels import Exhibit, say, side_by_side, write
from proofgen.proofs.paint import lay
from proofgen.proofs.palette import Mask
from proofgen.proofs.png import png
from proofgen.proofs.raster import Box, Floats
from proofgen.proofs.ribbon import HOLE_FIELD
from proofgen.proofs.soft import nothing
from proofgen.proofs.stage import HEIGHT, WIDTH
from proofgen.proofs.still import in_colours
from proofgen.proofs.type import BOLD, REGULAR, words
from proofgen.proofs.view import BACKDROP, View, over, shadings, view
from proofgen.proofs.watermark import sparing
from proofgen.workshop.workshop import Colour

SIDE = 40
RAIL = 3  # px
CLEAR = 8  # px round lettering that a watermark keeps off


@dataclass(frozen=True, slots=True)
class Sign:
    """What is said above all pieces, on the left and the right, and below them."""

    left: str
    right: str
    note: str


def gallery_png(
    exhibits: Sequence[Exhibit],
    sign: Sign,
    alike: bool,
    texts: Mapping[str, str],
    most: float = inf,
) -> bytes:
    """PNG (1080 x 1350) of one piece or more; `alike` draws all at one scale, of at most so many
    pixels a millimetre.
    """
    grid = arranged(exhibits, alike, most)
    canvas = backdrop((HEIGHT, WIDTH))
    hung = [
        (grid.cell(number), view(replace(each.scene, watermark=False), grid.place(number, each)))
        for number, each in enumerate(exhibits)
    ]
    _hang(canvas, hung, any(each.scene.watermark for each in exhibits))
    wall, cloths = _shaded(hung)
    for number, label in enumerate(grid.labels):
        box = grid.label(number)
        wall[box] &= ~say(canvas[:, *box], label)
    for top in _rails(hung):
        wall[top : top + RAIL] = False
        canvas[:, top : top + RAIL] = np.array(RULE, np.float32)[:, None, None]
    _strips(canvas, sign)
    wall[:TITLE] = wall[-FOOT:] = False
    drawn = in_colours(canvas, (wall, *cloths))
    return png((WIDTH, HEIGHT), drawn.palette, drawn.bands, texts)


def _rails(hung: Sequence[tuple[Box, View]]) -> set[int]:
    """Rows of the picture from which something hangs that does not hang from the strip above."""
    return {cell[0].start for cell, seen in hung if seen.front} - {TITLE}


def _hang(canvas: Floats, hung: Sequence[tuple[Box, View]], marked: bool) -> None:
    """All pieces on the wall, under one watermark; shadows do not end with a cell either."""
    silhouette = nothing((HEIGHT, WIDTH))
    for cell, seen in hung:
        lay(seen.rear, canvas[:, *cell])
        silhouette[cell] = seen.silhouette
    lay(cast(silhouette, hung[0][1].stage.share), canvas)
    lettered = np.zeros((HEIGHT, WIDTH), np.bool_)
    for cell, seen in hung:
        lay(over(seen, BACKDROP), canvas[:, *cell])
        for box in _lettered(seen):
            lettered[cell][box] = True
    if marked:
        lay(sparing(silhouette, lettered), canvas)


def _lettered(seen: View) -> list[Box]:
    """Where in its cell a piece is lettered, and a little round it."""
    place = seen.stage
    found = []
    for mark in (mark for layer in seen.scene.layers for mark in layer.marks):
        if mark.field in (*DRAWN, HOLE_FIELD):
            continue
        box = mark.path.moved(place.inward).bounds()
        left, top = place.left + box.left - CLEAR, place.top + box.top - CLEAR
        right, bottom = left + box.width + 2 * CLEAR, top + box.height + 2 * CLEAR
        found.append(
            (
                slice(max(int(top), 0), max(ceil(bottom), 0)),
                slice(max(int(left), 0), max(ceil(right), 0)),
            )
        )
    return found


def _shaded(hung: Sequence[tuple[Box, View]]) -> tuple[Mask, list[Mask]]:
    """Where only the wall is seen, and where only cloth is, by its colour."""
    wall = np.ones((HEIGHT, WIDTH), np.bool_)
    cloths: dict[Colour, Mask] = {}
    for cell, seen in hung:
        wall[cell], cloth = shadings(seen)
        if seen.scene.hanger:
            colour = seen.scene.hanger.colour
            cloths.setdefault(colour, np.zeros((HEIGHT, WIDTH), np.bool_))[cell] |= cloth
    return wall, list(cloths.values())


def _strips(canvas: Floats, sign: Sign) -> None:
    top, foot = canvas[:, :TITLE], canvas[:, -FOOT:]
    for strip, rule in ((top, np.s_[:, -3:]), (foot, np.s_[:, :3])):
        strip[:] = np.array(PAPER, np.float32)[:, None, None]
        strip[rule] = np.array(RULE, np.float32)[:, None, None]
    side_by_side(top, words(sign.left, 46, BOLD), words(sign.right, 34), 72, SIDE)
    note = words(sign.note, 27, REGULAR)
    write(foot, note, QUIET, (max((WIDTH - note.width) / 2, SIDE), 42), WIDTH - SIDE)
