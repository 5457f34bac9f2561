"""Where things lie in the picture, in pixels."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.artwork.artwork import Artwork
from proofgen.geometry.affine import Affine

WIDTH, HEIGHT = 1080, 1350
STRIP = 256  # height of the caption
SCENE = HEIGHT - STRIP
ROOM = (960, 900)  # what the piece fits into
MARGIN = 24  # round the piece, for its walls and the shadows on it
TOP, BOTTOM = 34, 44  # free above a piece without a ribbon, and below any
RIBBON = 150  # free above the piece for the ribbon


@dataclass(frozen=True, slots=True)
class Stage:
    """The window (left, top, width, height) that holds the piece, and pixels a millimetre."""

    left: int
    top: int
    width: int
    height: int
    scale: float

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
    def inward(self) -> Affine:
        """From millimetres of the piece to pixels of the window."""
        return Affine(self.scale, 0, 0, self.scale, MARGIN, MARGIN)


def stage(artwork: Artwork, hung: bool) -> Stage:
    """Where the piece stands; `hung` leaves room for a ribbon above it."""
    width, height = artwork.size
    scale = min(ROOM[0] / width, ROOM[1] / height)
    across, down = round(width * scale), round(height * scale)
    above = RIBBON if hung else TOP
    top = above + (SCENE - BOTTOM - above - down) // 2
    left = (WIDTH - across) // 2
    return Stage(left - MARGIN, top - MARGIN, across + 2 * MARGIN, down + 2 * MARGIN, scale)
