"""Where things lie in the picture, in pixels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, Points
from proofgen.proofs.raster import FLATNESS

WIDTH, HEIGHT = 1080, 1350
STRIP = 256  # height of the caption
SCENE = HEIGHT - STRIP
SIDE = 60  # least room free at either side of the piece
MARGIN = 24  # round the piece, for its walls and the shadows on it
TOP, BOTTOM = 34, 44  # free above a piece without a ribbon, and below any
RIBBON = 150  # free above the piece for the ribbon


@dataclass(frozen=True, slots=True)
class Stage:
    """The window (left, top, width, height) that holds the piece, and pixels a millimetre.

    `canvas` is the (height, width) of what is drawn, window and wall. Where this is but a part of
    the window, `inset` are the columns and rows of the whole one before it.
    """

    left: int
    top: int
    width: int
    height: int
    scale: float
    canvas: tuple[int, int]
    inset: tuple[int, int] = (0, 0)

    @property
    def shape(self) -> tuple[int, int]:
        """(height, width) of masks in the window."""
        return self.height, self.width

    @property
    def rows(self) -> slice:
        """Rows of the picture in the window."""
        return slice(self.top, self.top + self.height)

    @property
    def columns(self) -> slice:
        """Columns of the picture in the window."""
        return slice(self.left, self.left + self.width)

    @property
    def share(self) -> float:
        """How high the scene is beside that of a proof picture."""
        return self.canvas[0] / SCENE

    def polygons(self, path: Path) -> list[Points]:
        """The outline of millimetres of the piece as polygons in pixels of the window."""
        lines = path.flatten(FLATNESS / self.scale)
        start = np.array(self._start)
        return [line * self.scale + start for line in lines]

    @property
    def inward(self) -> Affine:
        """From millimetres of the piece to pixels of the window."""
        return Affine(self.scale, 0, 0, self.scale, *self._start)

    @property
    def _start(self) -> tuple[int, int]:
        return MARGIN - self.inset[0], MARGIN - self.inset[1]


def beside(wide: int) -> int:
    """What stays free at either side of a piece in a scene so wide."""
    return max(MARGIN, round(SIDE * min(1.0, wide / WIDTH)))


def stage(
    size: tuple[float, float],
    hung: bool,
    canvas: tuple[int, int] = (SCENE, WIDTH),
    scale: float | None = None,
    below: int = BOTTOM,
    above: int | None = None,
) -> Stage:
    """Where the piece stands: in the middle, as large as there is room or at the given scale.

    A piece that hangs leaves room for a ribbon above it, which needs less in a small scene, unless
    `above` says how much; `below` is what stays free under any piece.
    """
    width, height = size
    deep, wide = canvas
    if above is None:
        above = max(TOP, round(RIBBON * min(1.0, deep / SCENE))) if hung else TOP
    room = deep - above - below
    side = beside(wide)
    scale = scale or min((wide - 2 * side) / width, room / height)
    across, down = round(width * scale), round(height * scale)
    top, left = above + (room - down) // 2, (wide - across) // 2
    return Stage(left - MARGIN, top - MARGIN, across + 2 * MARGIN, down + 2 * MARGIN, scale, canvas)
