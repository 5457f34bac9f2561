"""A piece whose letters are cut: its outline is the buyer's own, so all of it is drawn anew.

Only where it is, that is: in the colours of a swatch of the same wood that is drawn once. Where one
board is seen, plain or in the shade of the next, a table tells the colour; coats are laid where
edges, engraving and other things meet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache, partial, reduce
from math import ceil, floor

import numpy as np
from PIL import Image

from proofgen.geometry.polygons import TOLERANCE
from proofgen.proofs.bare import FIRST, SMALL, bare, shadow, wall as wall_of
from proofgen.proofs.engraving import engrave, engraved, reach, relief
from proofgen.proofs.layers import bodies, face, in_view, shade, wall
from proofgen.proofs.paint import Board, Coat, Numbers, Spots, around, corners
from proofgen.proofs.palette import Indices, Mask, nearest, whole
from proofgen.proofs.png import Band, band
from proofgen.proofs.raster import Floats
from proofgen.proofs.ribbon import SPREAD, front_strand, rear_strand, ribbon
from proofgen.proofs.scene import Scene
from proofgen.proofs.shelf import shelved
from proofgen.proofs.soft import Soft, less, most, nothing, soft
from proofgen.proofs.stage import MARGIN, Stage
from proofgen.proofs.still import ROWS
from proofgen.proofs.swatch import swatch
from proofgen.proofs.watermark import part as words_on
from proofgen.proofs.wood import plank
from proofgen.workshop.workshop import Colour

WHOLE = 255
HIDING = [0] * WHOLE + [WHOLE]  # of a mask: where it is whole
PAD = 3  # px round what is drawn, so that no blur is cut off at its border


@dataclass(frozen=True, slots=True)
class Plate:
    """A layer by its coats from below: its shadow on those behind, wall, face and engraving.

    `engraved` is where the last changes anything.
    """

    body: Soft
    shade: Coat | None
    wall: Coat
    face: Board
    cuts: tuple[Coat, ...]
    engraved: Soft

    def coats(self) -> tuple[Coat, ...]:
        """All of them."""
        return (*self.under(), *self.over())

    def under(self) -> tuple[Coat, ...]:
        """Those that its face hides."""
        return (self.shade, self.wall) if self.shade else (self.wall,)

    def over(self) -> tuple[Coat, ...]:
        """Its face and what is in it."""
        return Coat(self.face, self.body), *self.cuts

    @property
    def rims(self) -> list[Soft]:
        """Where the face is lit and dark along its edges."""
        return [coat.amount for coat in self.face.coats[1:]]

    @property
    def scorch(self) -> Coat:
        """How the face is scorched along its edges."""
        return self.face.coats[0]


def drawn_whole(piece: Scene, place: Stage) -> tuple[Indices, tuple[Band, ...]]:
    """The colours (n, 3) and the rows of the scene, packed."""
    palette = shelved(swatch(piece), ()).palette
    on = wall_of(place.canvas, palette, piece.watermark)
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
    tone = board.tone.crop((left, top, left + at.width, top + at.height))
    cuts: list[Coat] = []
    touched = nothing(at.shape)
    mask = engraved(drawn.marks, at)
    if mask.any():
        rows, columns = box = around(mask, reach(at.scale))
        cut = relief(soft(mask[box]), body.crop(corners(box)), at.scale)
        grown = tone.crop(corners(box))
        cuts = [
            replace(coat, at=(rows.start, columns.start)) for coat in engrave(cut, grown, finish)
        ]
        touched.paste(Image.fromarray(cut.touched), corners(box))
    dark = shade(body, reduce(most, masks[:depth]), deep) if depth else None
    on = face(replace(board, tone=tone), body, at.scale)
    foot = wall(body, deep)
    foot = replace(foot, amount=less(foot.amount, body.point(HIDING)))
    return Plate(body, dark, foot, on, tuple(cuts), touched)


def _paint(
    part: Indices,
    piece: Scene,
    at: Stage,
    plates: tuple[Plate, ...],
    marks: tuple[Coat, ...],
    behind: Callable[[Numbers, tuple[Coat, ...]], Floats],
    palette: Indices,
) -> None:
    """Fill the part of the scene that the piece touches, where it is more than wall."""
    hanging = ribbon(piece, at)
    rear = (rear_strand(hanging),) if hanging else ()
    silhouette = reduce(most, (plate.body for plate in plates))
    front = tuple(front_strand(hanging, silhouette)) if hanging else ()
    over = _most([nothing(at.shape), *(coat.amount for coat in (*front, *marks))])
    walls = [plate.wall.amount for plate in plates]
    rest = _any([silhouette, *walls, *(coat.amount for coat in (*rear, *front))])
    closest = nearest(palette[FIRST:])
    for plate, glass, where in _plain(plates, over):
        np.copyto(part, _toned(plate.face, glass, palette), where=where)
        rest &= ~where
    number = np.flatnonzero(rest)
    colours = np.zeros((3, len(number)), np.float32)
    *lower, upper = plates
    # What is behind the upmost layer need not be known where that is whole.
    open_ = np.asarray(upper.body).ravel()[number] < WHOLE
    below = Spots(number[open_], at.width, behind(number[open_], rear))
    below.lay(coat for plate in lower for coat in plate.coats())
    below.lay(upper.under())
    colours[:, open_] = below.canvas
    spots = Spots(number, at.width, colours)
    spots.lay((*upper.over(), *front, *marks))
    part[rest] = closest(whole(spots.canvas.T)) + np.uint8(FIRST)


def _plain(plates: tuple[Plate, ...], over: Soft) -> Iterator[tuple[Plate, Coat, Mask]]:
    """Where nothing but the face of one layer is seen, under one coat as of glass, and that coat:
    the upmost one with its scorch, the next one in the shade of that.
    """
    upper = plates[-1]
    yield upper, upper.scorch, _only(upper, [*upper.rims, upper.engraved, over])
    if len(plates) > 1 and upper.shade:
        plate = plates[-2]
        hidden = [upper.body, upper.wall.amount, plate.scorch.amount, *plate.rims, plate.engraved]
        yield plate, upper.shade, _only(plate, [*hidden, over])


def _only(plate: Plate, others: list[Soft]) -> Mask:
    found = ~_any(others)
    found &= np.asarray(plate.body) == WHOLE
    return found


def _any(masks: list[Soft]) -> Mask:
    return reduce(np.maximum, map(np.asarray, masks)) > 0


def _most(masks: list[Soft]) -> Soft:
    return reduce(most, masks)


def _toned(board: Board, glass: Coat, palette: Indices) -> Indices:
    """The indices of a board without its coats under one of glass."""
    assert isinstance(glass.paint, tuple)
    table = _table(board.table.tobytes(), glass.paint, palette[FIRST:].tobytes())
    at = np.asarray(board.tone).astype(np.uint16)
    at <<= 8
    at |= np.asarray(glass.amount)
    return table.take(at)


@lru_cache(maxsize=16)
def _table(tones: bytes, glass: Colour, colours: bytes) -> Indices:
    """The index of each tone, 256 times as it is darkened more and more."""
    bare_wood = np.frombuffer(tones, np.float32).reshape(256, 1, 3)
    share = np.linspace(0, 1, 256, dtype=np.float32)[:, None]
    through = 1 - (1 - np.asarray(glass, np.float32) / 255) * share
    closest = nearest(np.frombuffer(colours, np.uint8).reshape(-1, 3))
    return closest(whole((bare_wood * through).reshape(-1, 3))) + np.uint8(FIRST)
