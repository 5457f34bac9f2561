"""The proof page: the piece at true size, as vectors, with a line to measure the print by.

PDF by reportlab, which stops at this file. Letters are outlines, so no font is needed to read it.
Millimetres with y downwards become points with y upwards once, at the start of each page.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence

from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from proofgen.artwork.artwork import Artwork, Layer, Made
from proofgen.designs.design import Mark
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, join
from proofgen.orders.order import ORDER
from proofgen.proofs.caption import INK, NOTE, QUIET, RED, measures
from proofgen.proofs.engraving import LINE
from proofgen.proofs.spelled import spelled
from proofgen.proofs.type import BOLD, REGULAR, Words, words
from proofgen.workshop.workshop import Colour, Finish, Workshop

POINT = 25.4 / 72  # mm
EVEN_ODD, NONZERO = 0, 1  # reportlab's fill modes
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
SIDE, HEAD, FOOT = 15.0, 62.0, 50.0  # mm, free at the sides, above and below the piece
INCH = 25.4
EDGE, RULER = 0.1, 0.25  # mm, widths of lines
SET = 40.0  # px at which letters are set before they are made smaller, so that curves stay smooth
# Where below the first, the step, how many, which are long, and what it is.
RULERS = ((0.0, 10.0, 10, 5, "100 mm"), (12.0, INCH / 2, 8, 2, "4 inches"))
CHECK = "Print at 100 %, not fitted to the page, and measure these lines."


def proof_pdf(pieces: Sequence[Made], workshop: Workshop) -> bytes:
    """A page a piece, and one more where its back is engraved; each piece has artwork."""
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1)
    order = pieces[0].order.number
    canvas.setTitle(f"Order {order}")
    canvas.setSubject(", ".join(made.code for made in pieces))
    canvas.setAuthor("")
    canvas.setCreator("proofgen")
    for made in pieces:
        artwork = made.artwork
        assert artwork is not None
        backs = any(mark.side == "back" for layer in artwork.layers for mark in layer.marks)
        for side in ("front", "back") if backs else ("front",):
            _page(canvas, made, artwork, side, workshop)
    canvas.save()
    return out.getvalue()


def _page(canvas: Canvas, made: Made, artwork: Artwork, side: str, workshop: Workshop) -> None:
    """The paper of the workshop, larger where the piece needs it."""
    paper = PAPERS[workshop.proofs.paper]
    width = max(paper[0], artwork.size[0] + 2 * SIDE, 4 * INCH + 2 * SIDE)
    height = max(paper[1], artwork.size[1] + HEAD + FOOT)
    canvas.setPageSize((width / POINT, height / POINT))
    canvas.translate(0, height / POINT)
    canvas.scale(1 / POINT, -1 / POINT)
    _heading(canvas, made, artwork, side, width, workshop)
    left = (width - artwork.size[0]) / 2
    top = HEAD + (height - HEAD - FOOT - artwork.size[1]) / 2
    canvas.saveState()
    canvas.translate(left, top)
    layers = artwork.layers if side == "front" else artwork.layers[::-1]
    for layer in layers:
        _layer(canvas, layer, workshop.finish(layer.finish), side, artwork.size[0])
    canvas.restoreState()
    _rulers(canvas, height - FOOT + 12)
    canvas.showPage()


def _layer(canvas: Canvas, layer: Layer, finish: Finish, side: str, width: float) -> None:
    """Its wood, cut edges and what is engraved on that side; the back as seen from behind."""
    turned = Affine(a=-1.0, e=width) if side == "back" else Affine()
    cuts = join(m.path for m in layer.marks if m.operation.startswith("cut-")).moved(turned)
    _fill(canvas, cuts, finish.wood[2], EVEN_ODD, edge=finish.wood[0])
    for mark in layer.marks:
        if mark.side == side and mark.operation.startswith("engrave-"):
            _engrave(canvas, mark, finish.engraving)


def _engrave(canvas: Canvas, mark: Mark, colour: Colour) -> None:
    if mark.operation == "engrave-area":
        _fill(canvas, mark.path, colour, NONZERO)
        return
    canvas.setStrokeColorRGB(*_rgb(colour))
    canvas.setLineWidth(LINE)
    canvas.drawPath(_traced(canvas, mark.path), stroke=1, fill=0)


def _fill(
    canvas: Canvas, path: Path, colour: Colour, rule: int, edge: Colour | None = None
) -> None:
    canvas.setFillColorRGB(*_rgb(colour))
    if edge:
        canvas.setStrokeColorRGB(*_rgb(edge))
        canvas.setLineWidth(EDGE)
    traced = _traced(canvas, path)
    canvas.drawPath(traced, stroke=1 if edge else 0, fill=1, fillMode=rule)


def _traced(canvas: Canvas, path: Path) -> PDFPathObject:
    """Lines and cubic curves; a quadratic one is raised, which changes nothing of it."""
    traced = canvas.beginPath()
    for contour in path.contours:
        here = contour.start
        traced.moveTo(*here)
        for segment in contour.segments:
            if len(segment) == 1:
                traced.lineTo(*segment[0])
            else:
                one, two, end = segment if len(segment) == 3 else _raised(here, *segment)
                traced.curveTo(*one, *two, *end)
            here = segment[-1]
        if contour.closed:
            traced.close()
    return traced


def _raised(
    start: tuple[float, float], middle: tuple[float, float], end: tuple[float, float]
) -> tuple[tuple[float, float], ...]:
    def towards(point: tuple[float, float]) -> tuple[float, float]:
        return (point[0] + 2 * middle[0]) / 3, (point[1] + 2 * middle[1]) / 3

    return towards(start), towards(end), end


def _heading(
    canvas: Canvas, made: Made, artwork: Artwork, side: str, width: float, workshop: Workshop
) -> None:
    room = width - 2 * SIDE
    number = f"Order {made.order.number}" + (
        f", line {made.order.line}" if made.order.line > 1 else ""
    )
    times = f"   \u00d7 {made.order.quantity}" if made.order.quantity > 1 else ""
    _write(canvas, words("PROOF", SET, BOLD), RED, SIDE, 20, 6, room)
    _write(canvas, words(number, SET), INK, SIDE + 28, 20, 6, room / 2 - 28)
    code = words(f"Proof code {made.code}{times}", SET)
    _write(canvas, code, INK, width - SIDE - code.width * 6 / SET, 20, 6, room / 2)
    y = 31.0
    for said in _texts(artwork):
        _write(canvas, said, INK, SIDE, y, 7 if y < 32 else 4.5, room)
        y += 8
    seen = ", seen from behind" if side == "back" else ""
    size = f"{artwork.title}, {measures(artwork.size, workshop.proofs.inches)}, true size{seen}"
    _write(canvas, words(f"{size}; {NOTE}", SET, REGULAR), QUIET, SIDE, y, 4, room)


def _texts(artwork: Artwork) -> Iterator[Words]:
    """The name spelled out, then the other fields on one line."""
    lines = {
        i.field: [line.text for line in i.lines] for i in artwork.lettering if i.field != ORDER
    }
    if "name" in lines:
        yield spelled(" / ".join(lines.pop("name")), SET)
    if lines:
        said = (f"{field.capitalize()}: {' / '.join(text)}" for field, text in lines.items())
        yield words("     ".join(said), SET, BOLD)


def _write(
    canvas: Canvas, said: Words, ink: Colour, x: float, y: float, size: float, room: float
) -> None:
    """From x on the baseline y, `size` mm an em, smaller where it is wider than there is room."""
    scale = min(size / SET, room / max(said.width, 1.0))
    traced = canvas.beginPath()
    for polygon in said.polygons:
        first, *rest = (polygon * scale + (x, y)).tolist()
        traced.moveTo(*first)
        for point in rest:
            traced.lineTo(*point)
        traced.close()
    canvas.setFillColorRGB(*_rgb(ink))
    canvas.drawPath(traced, stroke=0, fill=1, fillMode=NONZERO)


def _rulers(canvas: Canvas, y: float) -> None:
    """100 mm with a tick every 10, and 4 inches with a tick every half."""
    canvas.setStrokeColorRGB(*_rgb(INK))
    canvas.setLineWidth(RULER)
    for down, step, count, long, unit in RULERS:
        line = canvas.beginPath()
        line.moveTo(SIDE, y + down)
        line.lineTo(SIDE + step * count, y + down)
        for tick in range(count + 1):
            line.moveTo(SIDE + step * tick, y + down)
            line.lineTo(SIDE + step * tick, y + down - (4 if tick % long == 0 else 2.5))
        canvas.drawPath(line, stroke=1, fill=0)
        _write(canvas, words(unit, SET), INK, SIDE + step * count + 4, y + down, 4.5, 40)
    _write(canvas, words(CHECK, SET, REGULAR), QUIET, SIDE, y + 22, 4.5, 180)


def _rgb(colour: Colour) -> tuple[float, float, float]:
    red, green, blue = colour
    return red / 255, green / 255, blue / 255
