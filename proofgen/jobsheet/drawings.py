"""The drawings of a job sheet: a board with its numbered pieces, and where glue goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Contour, Path, join
from proofgen.geometry.rect import Rect
from proofgen.jobsheet.blocks import Drawing, Label, Shape
from proofgen.jobsheet.data import Board, Joint, Lying
from proofgen.jobsheet.tags import BETWEEN, BOARD_MOST, NAME, NUMBER, box
from proofgen.workshop.workshop import Colour

WOOD: Colour = (238, 224, 200)
BARE: Colour = (250, 247, 241)
EDGE: Colour = (70, 58, 48)
ENGRAVED: Colour = (176, 150, 122)
REST: Colour = (58, 104, 112)
GLUE: Colour = (214, 150, 70)
HAIR, THICK = 0.25, 0.5  # mm on the drawing
CORNER = 14.0  # mm, the arms of the mark at the origin
GLUE_MOST = 75.0  # mm on the page
UNCUT = 1000.0  # mm: labels that have their room are never cut off


def board_drawing(board: Board) -> Drawing:
    """The board as it lies in the machine, the good face up, the origin in its top left corner."""
    width, height = board.job.width, board.job.height
    shapes = [Shape(box(Rect(0, 0, width, height)), BARE, EDGE, HAIR)]
    labels = []
    if rest := board.job.rest:
        shapes.append(Shape(box(rest), None, REST, THICK))
        said = f"keep: {board.job.remainder}"
        labels.append(Label(said, rest.centre, NUMBER, rest.width))
    for piece in board.pieces:
        shapes += _piece(piece)
        labels += _called(piece)
    shapes += (leader for piece in board.pieces for leader in _leader(piece))
    shapes.append(Shape(_origin(), None, EDGE, 4 * THICK))
    count = len(board.pieces)
    about = f"Board {board.job.id} with {count} numbered piece{'' if count == 1 else 's'}"
    return Drawing(width, height, tuple(shapes), tuple(labels), BOARD_MOST, about)


def _piece(piece: Lying) -> Iterator[Shape]:
    marks = piece.layer.marks
    cuts = join(m.path for m in marks if m.operation.startswith("cut-")).moved(piece.at)
    yield Shape(cuts, WOOD, EDGE, HAIR)
    fronts = [m for m in marks if m.side == "front"]
    areas = join(m.path for m in fronts if m.operation == "engrave-area").moved(piece.at)
    lines = join(m.path for m in fronts if m.operation == "engrave-line").moved(piece.at)
    if areas:
        yield Shape(areas, ENGRAVED)
    if lines:
        yield Shape(lines, None, ENGRAVED, HAIR)


def _called(piece: Lying) -> Iterator[Label]:
    tag, size = piece.tag, piece.tag.share * NUMBER
    # The middle of both plates, one below the other, is that of the tag.
    above = -(BETWEEN + NAME) / 2 if tag.named else 0.0
    yield Label(f"{piece.number}", tag.at, size, UNCUT, above, strong=True)
    if tag.named:
        yield Label(piece.name or "stock", tag.at, NAME, UNCUT, (NUMBER + BETWEEN) / 2)


def _leader(piece: Lying) -> Iterator[Shape]:
    """The line from a number to the piece that it stands beside."""
    if piece.tag.leads_to:
        ends = Contour(piece.tag.at, ((piece.tag.leads_to,),), closed=False)
        yield Shape(Path((ends,)), None, EDGE, HAIR)


def _origin() -> Path:
    """Two arms along the edges from the origin."""
    return Path((Contour((CORNER, 0.0), (((0.0, 0.0),), ((0.0, CORNER),)), closed=False),))


def glue_drawing(joint: Joint) -> Drawing:
    """The rear layer from the front, the front layer's edge on it, and where glue goes."""
    box = join((joint.rear, joint.front)).bounds()
    from_corner = Rect(box.left - 1, box.top - 1, box.right + 1, box.bottom + 1)
    shapes = (
        Shape(joint.rear, WOOD, EDGE, HAIR),
        Shape(joint.glue, GLUE),
        Shape(joint.front, None, REST, THICK),
    )
    return Drawing(
        from_corner.width,
        from_corner.height,
        tuple(_moved(shape, -from_corner.left, -from_corner.top) for shape in shapes),
        (),
        GLUE_MOST,
        f"Where glue goes between {joint.names[0]} and {joint.names[1]} of {joint.title}",
    )


def _moved(shape: Shape, dx: float, dy: float) -> Shape:
    return replace(shape, path=shape.path.moved(Affine.shift(dx, dy)))
