"""A piece whose letters are cut: its outline is the buyer's own, so all of it is drawn anew.

Only where it is, that is: in the colours of a swatch of the same wood that is drawn once. Where one
board is seen, plain or in the shade of the next, a table tells the colour; coats are laid where
edges, engraving and other things meet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial, reduce
from math import ceil, floor

import numpy as np

from proofgen.geometry.polygons import TOLERANCE
from proofgen.proofs.bare import FIRST, SMALL, bare, shadow, wall
from proofgen.proofs.engraving import engrave, engraved, reach, relief
from proofgen.proofs.layers import bodies, face, footing, in_view, shade
from proofgen.proofs.paint import Coat, Numbers
from proofgen.proofs.palette import Indices, nearest, whole
from proofgen.proofs.plates import Plate, plain, spotted
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Floats
from proofgen.proofs.ribbon import SPREAD, front_strand, rear_strand, ribbon
from proofgen.proofs.scene import Scene
from proofgen.proofs.shelf import shelved
from proofgen.proofs.soft import WHOLE, Soft, around, most, window
from proofgen.proofs.stage import MARGIN, Stage
from proofgen.proofs.still import ROWS
from proofgen.proofs.swatch import swatch
from proofgen.proofs.toned import toned_at
from proofgen.proofs.watermark import part as words_on
from proofgen.proofs.wood import plank

PAD = 3  # px round what is drawn, so that no blur is cut off at its border


def drawn_whole(piece: Scene, place: Stage) -> tuple[Indices, tuple[Band, ...]]:
    """The colours (n, 3) and the rows of the scene, packed."""
    palette = shelved(swatch(piece), ()).palette
    on = wall(place.canvas, palette, piece.watermark)
    base = bare(on)
    at = _close(piece, place)
    corner = place.left + at.inset[0], place.top + at.inset[1]
    masks = bodies(piece.layers, at)
    silhouette = reduce(most, masks)
    cast = shadow(on, silhouette, corner, place.share)
    index = base.index.copy()
    index[cast.rows] = cast.indices()
    own = slice(corner[1], corner[1] + at.height), slice(corner[0], corner[0] + at.width)
    marks = tuple(words_on(place.canvas, corner, silhouette)) if piece.watermark else ()
    plates = tuple(_plate(piece, depth, masks, at, place) for depth in range(len(masks)))
    _paint(index[own], piece, at, plates, marks, partial(cast.colours, own), palette)
    first, last = min(cast.rows.start, own[0].start), max(cast.rows.stop, own[0].stop)
    rows = range(0, len(index), ROWS)
    same = [row + ROWS <= first or row >= last for row in rows]
    return palette, tuple(
        kept if alike else band(index[row : row + ROWS])
        for row, alike, kept in zip(rows, same, base.bands, strict=True)
    )


def _close(piece: Scene, place: Stage) -> Stage:
    """The part of the scene that the piece and its strands touch, which begins at whole numbers
    of SMALL; it is the canvas.
    """
    drawn = [m.path for layer in piece.layers for m in layer.marks if m.operation == "cut-outside"]
    points = np.concatenate([line for path in drawn for line in path.flatten(TOLERANCE)])
    start = np.array([place.left, place.top]) + MARGIN
    left, top = points.min(axis=0) * place.scale + start - PAD
    right, bottom = points.max(axis=0) * place.scale + start + PAD
    bottom += in_view(max(piece.thicknesses) * place.scale)
    hanging = ribbon(piece, place)
    if hanging:
        (x, y), wide = hanging.hole.centre, hanging.width + PAD
        top, left = 0, min(left, x - SPREAD * y - wide)
        right = max(right, x + SPREAD * y + wide)
    height, width = place.canvas
    left, top = (max(floor(way / SMALL) * SMALL, 0) for way in (left, top))
    wide, high = min(ceil(right), width) - left, min(ceil(bottom), height) - top
    return Stage(0, 0, wide, high, place.scale, (high, wide), (left - place.left, top - place.top))


def _plate(piece: Scene, depth: int, masks: tuple[Soft, ...], at: Stage, place: Stage) -> Plate:
    """The layer of that index in the part `at` of its window."""
    drawn, finish, body = piece.layers[depth], piece.finishes[depth], masks[depth]
    deep = piece.thicknesses[depth] * at.scale
    left, top = at.inset
    board = plank(finish.wood, drawn.name, place.shape, place.share)
    tone = window(board.tone, (top, left), at.shape)
    dark = shade(body, reduce(most, masks[:depth]), deep) if depth else None
    on = face(replace(board, tone=tone), body, at.scale)
    return Plate(
        body, deep, footing(body, deep), dark, on, *_engraving(piece, depth, masks, tone, at)
    )


def _engraving(
    piece: Scene, depth: int, masks: tuple[Soft, ...], tone: Soft, at: Stage
) -> tuple[Numbers, Numbers, tuple[Coat, ...]]:
    """The pixels that a layer's engraving changes, their numbers in its coats, and those; none
    where it is hidden.
    """
    body, *above = masks[depth:]
    mask = engraved(piece.layers[depth].marks, at)
    box = around(mask, reach(at.scale))
    if box is None or any((each[box] == WHOLE).all() for each in above):
        none = np.zeros(0, np.int64)
        return none, none, ()
    rows, columns = box
    cut = relief(mask[box], body[box], at.scale)
    local = np.flatnonzero(cut.touched)
    down, along = np.divmod(local, columns.stop - columns.start)
    number = (down + rows.start) * at.width + along + columns.start
    return number, local, tuple(engrave(cut, tone[box], piece.finishes[depth]))


def _paint(
    part: Indices,
    piece: Scene,
    at: Stage,
    plates: tuple[Plate, ...],
    marks: tuple[Coat, ...],
    behind: Callable[..., Floats],
    palette: Indices,
) -> None:
    """Fill the part of the scene that the piece touches, where it is more than wall."""
    hanging = ribbon(piece, at)
    rear = (rear_strand(hanging),) if hanging else ()
    silhouette = reduce(most, (plate.body for plate in plates))
    front = tuple(front_strand(hanging, silhouette)) if hanging else ()
    over = [coat.amount for coat in (*front, *marks)]
    strands = [coat.amount for coat in (*rear, *front)]
    walls = [plate.foot for plate in plates]
    rest = (reduce(np.maximum, (silhouette, *walls, *strands)) > 0).ravel()
    found = part.ravel()
    for seen in plain(plates, over):
        found[seen.number] = toned_at(seen.board, seen.glass, seen.local, palette, FIRST)
        rest[seen.number] = False
    spots = spotted(np.flatnonzero(rest), plates, partial(behind, rear=rear))
    plates[-1].lay_over(spots)
    spots.lay((*front, *marks))
    found[spots.number] = nearest(palette[FIRST:])(whole(spots.canvas.T)) + np.uint8(FIRST)
    part[:] = found.reshape(part.shape)
