"""Several pieces in one picture: a family side by side, or the designs that one may choose from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, cos, pi, sin

import numpy as np

from proofgen.proofs.backdrop import backdrop, cast
from proofgen.proofs.caption import GAP, INK, PAPER, QUIET, RED, RULE
from proofgen.proofs.paint import Coat, lay
from proofgen.proofs.palette import Mask
from proofgen.proofs.png import png
from proofgen.proofs.raster import Box, Floats, polygon_coverage
from proofgen.proofs.scene import Scene
from proofgen.proofs.soft import nothing, soft
from proofgen.proofs.spelled import spelled
from proofgen.proofs.stage import HEIGHT, WIDTH, Stage, stage
from proofgen.proofs.still import in_colours
from proofgen.proofs.type import BOLD, REGULAR, Words, words
from proofgen.proofs.view import BACKDROP, View, over, shadings, view
from proofgen.workshop.workshop import Colour

TITLE, FOOT, LABEL = 112, 64, 92  # px, heights of the strips and of what is said under a piece
BELOW = 26  # between a piece and what is said of it
SIDE = 40
BADGE = 30  # px, radius


@dataclass(frozen=True, slots=True)
class Exhibit:
    """A piece with what is said under it; `number` is shown in a badge where it is not empty, and
    a `spell`ed head has its letters apart.
    """

    scene: Scene
    head: str
    foot: str
    number: str = ""
    spell: bool = False


@dataclass(frozen=True, slots=True)
class Sign:
    """What is said above all pieces, on the left and the right, and below them."""

    left: str
    right: str
    note: str


@dataclass(frozen=True, slots=True)
class _Grid:
    columns: int
    shape: tuple[int, int]  # of a cell
    scale: float  # common to all pieces

    def corner(self, number: int, count: int) -> tuple[int, int]:
        """Row and column where a cell begins; a last row that is not full stands in the middle."""
        down, across = divmod(number, self.columns)
        in_row = min(self.columns, count - down * self.columns)
        left = (WIDTH - in_row * self.shape[1]) // 2
        return TITLE + down * self.shape[0], left + across * self.shape[1]


def gallery_png(
    exhibits: Sequence[Exhibit], sign: Sign, alike: bool, texts: Mapping[str, str]
) -> bytes:
    """PNG (1080 x 1350) of one piece or more; `alike` draws all at one scale."""
    grid = max((_grid(exhibits, n) for n in range(1, len(exhibits) + 1)), key=lambda g: g.scale)
    canvas = backdrop((HEIGHT, WIDTH))
    silhouette = nothing((HEIGHT, WIDTH))
    wall, cloth = np.ones((HEIGHT, WIDTH), np.bool_), np.zeros((HEIGHT, WIDTH), np.bool_)
    hung = [
        _hung(exhibit, grid, number, alike, len(exhibits))
        for number, exhibit in enumerate(exhibits)
    ]
    for cell, seen in hung:
        lay(seen.rear, canvas[:, *cell])
        silhouette.paste(seen.silhouette, (cell[1].start, cell[0].start))
    # At once, because a shadow does not end with a cell.
    lay(cast(silhouette), canvas)
    for (cell, seen), exhibit in zip(hung, exhibits, strict=True):
        lay(over(seen, BACKDROP), canvas[:, *cell])
        wall[cell], cloth[cell] = shadings(seen)
        label = np.s_[cell[0].stop - LABEL : cell[0].stop, cell[1]]
        wall[label] &= ~_say(canvas[:, *label], exhibit)
    _strips(canvas, sign)
    wall[:TITLE] = wall[-FOOT:] = False
    drawn = in_colours(canvas, (wall, cloth))
    return png((WIDTH, HEIGHT), drawn.palette, drawn.bands, texts)


def _grid(exhibits: Sequence[Exhibit], columns: int) -> _Grid:
    rows = ceil(len(exhibits) / columns)
    shape = ((HEIGHT - TITLE - FOOT) // rows, WIDTH // columns)
    scale = min(_stage(each.scene, shape, None).scale for each in exhibits)
    return _Grid(columns, shape, scale)


def _stage(scene: Scene, shape: tuple[int, int], scale: float | None) -> Stage:
    return stage(scene.size, scene.hanger is not None, shape, scale, LABEL + BELOW)


def _hung(exhibit: Exhibit, grid: _Grid, number: int, alike: bool, count: int) -> tuple[Box, View]:
    """The cell of a piece, and the piece in it."""
    down, across = grid.corner(number, count)
    cell = slice(down, down + grid.shape[0]), slice(across, across + grid.shape[1])
    place = _stage(exhibit.scene, grid.shape, grid.scale if alike else None)
    return cell, view(exhibit.scene, place)


def _say(canvas: Floats, exhibit: Exhibit) -> Mask:
    """Write the label of a piece; where there is anything of it."""
    head = spelled(exhibit.head, 34) if exhibit.spell else words(exhibit.head, 34, BOLD)
    beside = SIDE + 2 * BADGE + GAP / 2 if exhibit.number else SIDE / 2
    room = canvas.shape[2] - 2 * beside
    written = _write(canvas, head, INK, 36, room=room) > 0
    written |= _write(canvas, words(exhibit.foot, 27, REGULAR), QUIET, 72, room=room) > 0
    if exhibit.number:
        written |= _badge(canvas, exhibit.number) > 0
    return written


def _badge(canvas: Floats, number: str) -> Floats:
    shape = canvas.shape[1:]
    centre = np.array([SIDE + BADGE, LABEL / 2 - 4])
    turns = np.linspace(0, 2 * pi, 65)
    circle = centre + BADGE * np.array([(cos(t), sin(t)) for t in turns])
    amount = polygon_coverage([circle], shape)
    Coat(RED, soft(amount)).lay(canvas)
    found = words(number, 38, BOLD)
    at = found.at(centre[0] - found.width / 2, centre[1] + 13)
    Coat(PAPER, soft(polygon_coverage(at, shape))).lay(canvas)
    return amount


def _strips(canvas: Floats, sign: Sign) -> None:
    top, foot = canvas[:, :TITLE], canvas[:, -FOOT:]
    for strip, rule in ((top, np.s_[:, -3:]), (foot, np.s_[:, :3])):
        strip[:] = np.array(PAPER, np.float32)[:, None, None]
        strip[rule] = np.array(RULE, np.float32)[:, None, None]
    right = words(sign.right, 34)
    _write(top, right, INK, 72, WIDTH - SIDE - right.width)
    _write(top, words(sign.left, 46, BOLD), INK, 72, SIDE, WIDTH - 2 * SIDE - right.width - GAP)
    _write(foot, words(sign.note, 27, REGULAR), QUIET, 42)


def _write(
    canvas: Floats,
    said: Words,
    ink: Colour,
    baseline: float,
    left: float | None = None,
    room: float | None = None,
) -> Floats:
    """From `left`, else in the middle; smaller where it is wider than there is room. Its mask."""
    shape = canvas.shape[1:]
    shrink = min(1.0, (room or shape[1] - SIDE) / max(said.width, 1.0))
    start = (shape[1] - said.width * shrink) / 2 if left is None else left
    polygons = [polygon * shrink + (start, baseline) for polygon in said.polygons]
    amount = polygon_coverage(polygons, shape)
    Coat(ink, soft(amount)).lay(canvas)
    return amount
