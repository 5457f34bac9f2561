"""What many pictures share: the piece before a buyer's own lettering, ready for it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from proofgen.proofs.backdrop import backdrop
from proofgen.proofs.caption import inks
from proofgen.proofs.engraving import Ground, engrave, relief
from proofgen.proofs.paint import lay, veil
from proofgen.proofs.palette import Indices, Mask, Nearest, best_colours, tones, whole
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Floats
from proofgen.proofs.soft import WHOLE
from proofgen.proofs.view import View, behind, ground, layer, over, shadings
from proofgen.proofs.wood import wood

WALL_TONES, CLOTH_TONES = 44, 20
ROWS = 32  # of a band
# Strokes that are engraved for trial all over the layer, so that the palette has their colours.
STROKE, APART, SPARSE = 7, 40, 4  # px

# What lettering needs to know of each pixel, 0..255, by the place among the planes: the canvas
# below it, what lies over it as a factor and a sum, the layer's body, its grain's tone, and whether
# it is HIDDEN, seen, or PLAIN: nothing but wood of that tone.
CANVAS, FACTOR, ADDED, BODY, TONE, STATE = np.s_[:3], np.s_[3:6], np.s_[6:9], 9, 10, 11
HIDDEN, SEEN, PLAIN = 0, 1, 2


@dataclass(frozen=True, slots=True, eq=False)
class Still:
    """The scene in indices into `palette` (n, 3), whose first colours are those of the caption
    and whose last, from `first` on, those of wood; the same packed; and for each layer that will
    be lettered, from the back, the planes (12, h, w) of the window. Equal to itself alone, so that
    what is drawn on it can be kept.
    """

    index: Indices
    palette: Indices
    first: int
    planes: tuple[Indices, ...]
    bands: tuple[Band, ...]


def still(seen: View, depths: tuple[int, ...]) -> Still:
    """Draw the piece; something will be engraved on the layers of the indices `depths`."""
    canvas = backdrop(seen.stage.canvas)
    lay(behind(seen), canvas)
    planes, tried = [], [np.empty((0, 3), np.uint8)]
    for depth in range(len(seen.masks)):
        lay(layer(seen, depth), canvas)
        if depth in depths:
            below = canvas[:, seen.stage.rows, seen.stage.columns].copy()
            found, colours = _planes(seen, depth, below)
            planes.append(found)
            tried.append(colours)
    lay(over(seen, len(seen.masks)), canvas)
    drawn = in_colours(canvas, shadings(seen), np.concatenate(tried))
    return replace(drawn, planes=tuple(planes))


def _planes(seen: View, depth: int, below: Floats) -> tuple[Indices, Indices]:
    """The planes of a layer, and colours (n, 3) that lettering on it would have."""
    window = np.s_[:, seen.stage.rows, seen.stage.columns]
    factor, added = (plane[window] for plane in veil(over(seen, depth), seen.stage.canvas))
    on = ground(seen, depth)
    found = np.empty((STATE + 1, *below.shape[1:]), np.uint8)
    found[CANVAS], found[FACTOR], found[ADDED] = whole(below), whole(factor * 255), whole(added)
    found[BODY], found[TONE] = on.body, on.tone
    found[STATE] = np.where(found[FACTOR].any(axis=0), SEEN, HIDDEN)
    plain = (found[CANVAS] == whole(wood(on.finish.wood, on.tone))).all(axis=0) & (on.body == WHOLE)
    plain &= (factor == 1).all(axis=0) & (added == 0).all(axis=0)
    found[STATE][plain] = PLAIN
    return found, _tried(below, factor, added, on, seen.stage.scale)


def _tried(below: Floats, factor: Floats, added: Floats, on: Ground, scale: float) -> Indices:
    """Colours (n, 3) that upright strokes all over the layer would have, in some of its rows."""
    rows = np.s_[..., ::SPARSE, :]
    body, tone = (np.ascontiguousarray(each[rows]) for each in (on.body, on.tone))
    strokes = np.where(np.arange(body.shape[1]) % APART < STROKE, WHOLE, 0).astype(np.uint8)
    cut = relief(np.broadcast_to(strokes, body.shape), body, scale)
    canvas = below[rows].copy()
    lay(engrave(cut, tone, on.finish), canvas)
    return whole((canvas * factor[rows] + added[rows])[:, cut.touched].T)


def in_colours(canvas: Floats, shaded: tuple[Mask, ...], tried: Indices | None = None) -> Still:
    """The canvas in 256 colours, which also suit the pixels `tried` (n, 3); `shaded` are the wall
    and cloth of each colour.
    """
    palette = inks()
    index = np.empty(canvas.shape[1:], np.uint8)
    rest = np.ones(canvas.shape[1:], np.bool_)
    for number, where in enumerate(shaded):
        if where.any():
            table, shades = tones(canvas, where, CLOTH_TONES if number else WALL_TONES)
            index[where] = shades + len(palette)
            palette = np.concatenate([palette, table])
            rest &= ~where
    first = len(palette)
    pixels = whole(canvas[:, rest].T)
    sampled = pixels if tried is None else np.concatenate([pixels, tried])
    chosen = best_colours(sampled, 256 - first)
    index[rest] = Nearest(chosen)(pixels) + first
    bands = tuple(band(index[row : row + ROWS], kept=True) for row in range(0, len(index), ROWS))
    return Still(index, np.concatenate([palette, chosen]), first, (), bands)
