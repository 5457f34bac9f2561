"""Where the numbers of the pieces stand on the drawing of a board: never on what is engraved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import dist, hypot

from proofgen.artwork.artwork import Layer
from proofgen.geometry.affine import Affine
from proofgen.geometry.free_room import FreeRoom, free_room, nearest_on
from proofgen.geometry.overlap import widest, without
from proofgen.geometry.path import Path, join, polygon
from proofgen.geometry.rect import Rect
from proofgen.jobsheet.data import Tag
from proofgen.proofs.page_type import width
from proofgen.sheets.want import outline

PAGE = 180.0  # mm, as wide as a drawing is shown
BOARD_MOST = 135.0  # mm on the page
LARGER = 1.25  # letters on a screen, which may be a phone's
WIDE = 0.62  # em: about how wide a letter is on a screen
NUMBER, NAME, BETWEEN = 4.2, 2.6, 0.6  # mm on the page
STEP = 1.0  # mm, of the grids on pieces and between them
NEAR = 30.0  # mm from a piece to the middle of a plate with its name
CLEAR = 0.6  # mm between what is engraved and a plate


@dataclass(frozen=True, slots=True)
class Tagged:
    """A piece on a board: `at` takes its layer's coordinates to the board's."""

    text: str
    name: str
    layer: Layer
    at: Affine


def tags_of(
    board: tuple[float, float], pieces: Sequence[Tagged], keep: Sequence[Rect]
) -> tuple[Tag, ...]:
    """Where the number of each piece stands: on it with its name below where neither covers what
    is engraved or cut, else alone, else beside it with a line to it, off the places of `keep`.
    """
    scale = min(1.0, PAGE / board[0], BOARD_MOST / board[1]) / LARGER
    blank = None
    found: list[Tag] = []
    for piece in pieces:
        tag = _on(piece, scale)
        if tag is None:
            blank = blank or _blank(board, pieces, keep)
            tag, blank = _beside(piece, blank, scale)
        found.append(tag)
    return tuple(found)


def body(layer: Layer) -> Path:
    """What is wood of a layer once it is cut, straight-sided."""
    return without(outline(layer), join(m.path for m in layer.marks if m.operation == "cut-inside"))


def plate(text: str, size: float, bold: bool) -> float:
    """How wide a label is at most, in mm on the page before a screen makes it larger."""
    return max((len(text) * WIDE + 0.4) * size, width(text, size, bold) + 1.0)


def _on(piece: Tagged, scale: float) -> Tag | None:
    wood = body(piece.layer)
    fronts = [m for m in piece.layer.marks if m.side == "front"]
    engraved = [m.path for m in fronts if m.operation.startswith("engrave")]
    room = free_room(wood, engraved, STEP, piece.at)
    middle = piece.at(wood.bounds().centre)
    for named in (True, False):
        at = room.place(_size(piece, scale, named), middle)
        if at:
            return Tag(at, named)
    return None


def _beside(piece: Tagged, blank: FreeRoom, scale: float) -> tuple[Tag, FreeRoom]:
    """On blank wood beside the piece; without any, on the piece as small as it has to be."""
    edge = outline(piece.layer).moved(piece.at)
    for named in (True, False):
        size = _size(piece, scale, named)
        at = blank.place(size, edge.bounds().centre, (CLEAR,))
        to = nearest_on(edge, at) if at else None
        if at and to and (not named or dist(at, to) <= NEAR):
            return Tag(at, named, to), blank.without(at, size)
    middle, radius = widest(body(piece.layer).moved(piece.at))
    share = min(1.0, 2 * radius / hypot(*_size(piece, scale, named=False)))
    return Tag(middle, named=False, share=share), blank


def _size(piece: Tagged, scale: float, named: bool) -> tuple[float, float]:
    """What the label takes of the board, mm."""
    number = plate(piece.text, NUMBER, bold=True)
    wide = max(number, plate(piece.name, NAME, bold=False)) if named else number
    high = NUMBER + BETWEEN + NAME if named else NUMBER
    return wide / scale + CLEAR, high / scale + CLEAR


def _blank(board: tuple[float, float], pieces: Sequence[Tagged], keep: Sequence[Rect]) -> FreeRoom:
    """What is left of the board between the pieces."""
    return free_room(box(Rect(0, 0, *board)), tuple(_taken(pieces, keep)), STEP)


def _taken(pieces: Sequence[Tagged], keep: Sequence[Rect]) -> Iterator[Path]:
    for piece in pieces:
        yield outline(piece.layer).moved(piece.at)
    yield from map(box, keep)


def box(rect: Rect) -> Path:
    """The rectangle as a path."""
    (left, top), (right, bottom) = (rect.left, rect.top), (rect.right, rect.bottom)
    return polygon([(left, top), (right, top), (right, bottom), (left, bottom)])
