"""The proof page: the piece at true size, as vectors, with lines to measure the print by.

A piece that is larger than its room is drawn smaller, by whole hundredths, and the page says so.
Lengths in millimetres, y down. What is said of the piece is what its picture says.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from proofgen.artwork.artwork import Artwork, Layer, Made
from proofgen.designs.design import Mark
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Contour, Path, join
from proofgen.proofs.caption import FOOT, INCH, INK, QUIET, WIDE, Part, Row, laid, named, rows
from proofgen.proofs.drawn_from import drawn_from
from proofgen.proofs.engraving import LINE
from proofgen.proofs.sheet import Sheet
from proofgen.proofs.type import BOLD, REGULAR, words
from proofgen.workshop.gone import finish_of, hanger_of
from proofgen.workshop.workshop import PAPERS, Colour, Workshop

SIDE, TOP, BOTTOM = 15.0, 13.0, 13.0  # free at the borders of the page
ROUND = 7.0  # free above and below the piece
SAYS = (PAPERS["a4"][0] - 2 * SIDE) / WIDE  # mm a pixel of the picture's caption
SMALL = 23.0  # px of that caption
LEADING = 1.45  # of the size of a row
EDGE, RULER = 0.1, 0.25  # widths of lines
BELOW = 0.84  # as light as the layer above it, so that layers of one finish are told apart
# Where below the first, the step, how many, which are long, and what it is.
RULERS = ((5.0, 10.0, 10, 5, "100 mm"), (15.0, INCH / 2, 8, 2, "4 inches"))
RULERS_END = 17.0
PRINT = "Print at 100 %, never fitted to the page, and measure the lines above."
CHECK = (
    "Please check every letter, accent and number, each space (an open box), line end (an arrow).",
    "If the lines measure right, the piece comes out as large as it is drawn: try it in your hand.",
    "Printed colours are not those of wood and stain: the picture shows them better.",
)


@dataclass(frozen=True, slots=True)
class Tones:
    """The colours of a layer's wood, its cut edges and its engraving."""

    wood: Colour
    edge: Colour
    engraving: Colour


def proof_pdf(pieces: Sequence[Made], workshop: Workshop) -> bytes:
    """A page a piece, and one more where its back is engraved; each piece has artwork."""
    sheet = Sheet(f"Order {pieces[0].order.number}", _codes(pieces), _drawn_from(pieces, workshop))
    for made in pieces:
        artwork = made.artwork
        assert artwork is not None
        backs = any(mark.side == "back" for layer in artwork.layers for mark in layer.marks)
        for side in ("front", "back") if backs else ("front",):
            _page(sheet, made, artwork, side, workshop)
    return sheet.close()


def shows(pdf: bytes, pieces: Sequence[Made], workshop: Workshop) -> bool:
    """Whether what `proof_pdf` made shows just these pieces, as many of each, as they look now."""
    return f"/Keywords ({_drawn_from(pieces, workshop)})".encode() in pdf


def _drawn_from(pieces: Sequence[Made], workshop: Workshop) -> str:
    names = (line for made in pieces if made.artwork for line in named(made.artwork))
    return drawn_from(pieces, workshop, workshop.proofs.inches, workshop.proofs.paper, *names)


def _codes(pieces: Sequence[Made]) -> str:
    return ", ".join(dict.fromkeys(made.counted for made in pieces))


def _page(sheet: Sheet, made: Made, artwork: Artwork, side: str, workshop: Workshop) -> None:
    said = rows(made, artwork, workshop.proofs.inches)
    above = TOP + _height((*said, _what(artwork, side, workshop, 100))) + ROUND
    under = ROUND + RULERS_END + _height(_foot(100)) + BOTTOM
    (width, height), percent = fitted(artwork.size, above + under, PAPERS[workshop.proofs.paper])
    scale = percent / 100
    with sheet.page(width, height):
        _write(sheet, (*said, _what(artwork, side, workshop, percent)), TOP, width)
        wide, high = (length * scale for length in artwork.size)
        free = height - above - high - under
        with sheet.moved((width - wide) / 2, above + free / 2, scale):
            _piece(sheet, artwork, side, workshop)
        y = height - under + ROUND
        _rulers(sheet, y)
        _write(sheet, _foot(percent), y + RULERS_END, width)


def fitted(
    size: tuple[float, float], taken: float, paper: tuple[float, float]
) -> tuple[tuple[float, float], int]:
    """The paper upright or lying, and how many hundredths of its size the piece has on it.

    Of the height so much is `taken` by what is said.
    """
    found = []
    for width, height in (paper, paper[::-1]):
        share = min((width - 2 * SIDE) / size[0], (height - taken) / size[1])
        # What fits to a millionth fits.
        found.append(((width, height), min(floor(100 * share + 1e-6), 100)))
    return max(found, key=lambda each: each[1])


def _piece(sheet: Sheet, artwork: Artwork, side: str, workshop: Workshop) -> None:
    """The layers, the hindmost first; the back as it is seen from behind."""
    layers = artwork.layers if side == "front" else artwork.layers[::-1]
    turned = Affine(a=-1.0, e=artwork.size[0]) if side == "back" else Affine()
    for above, layer in zip(range(len(layers) - 1, -1, -1), layers, strict=True):
        tones = _tones(layer, workshop, above)
        cuts = join(m.path for m in layer.marks if m.operation.startswith("cut-")).moved(turned)
        sheet.fill(cuts, tones.wood, even_odd=True)
        with sheet.within(cuts):
            for mark in layer.marks:
                if mark.side == side:
                    _engrave(sheet, mark, tones.engraving)
        sheet.line(cuts, tones.edge, EDGE)


def _engrave(sheet: Sheet, mark: Mark, colour: Colour) -> None:
    if mark.operation == "engrave-area":
        sheet.fill(mark.path, colour)
    elif mark.operation == "engrave-line":
        sheet.line(mark.path, colour, LINE)


def _tones(layer: Layer, workshop: Workshop, above: int) -> Tones:
    """Those of its finish under so many layers."""
    finish = finish_of(workshop, layer.finish)
    red, green, blue = (round(part * BELOW**above) for part in finish.wood[2])
    return Tones((red, green, blue), finish.wood[0], finish.engraving)


def _what(artwork: Artwork, side: str, workshop: Workshop, percent: int) -> Row:
    """The design, and what may be chosen of it, in the workshop's words."""
    finishes = (finish_of(workshop, layer.finish).title for layer in artwork.layers)
    hanger = hanger_of(workshop, artwork.hanger)
    hung = hanger.title if hanger else "no hanger"
    behind = "seen from behind, " if side == "back" else ""
    seen = "at true size" if percent == 100 else f"at {percent} % of its size"
    title = words(f"{artwork.title}, {behind}{seen}", FOOT, BOLD)
    chosen = " and ".join(dict.fromkeys(finishes))
    return Row(FOOT, (Part(title, INK),), (_quiet(chosen), _quiet(hung)))


def _foot(percent: int) -> tuple[Row, ...]:
    """What to do with the page, on which the piece has so many hundredths of its size."""
    first, true, last = CHECK
    smaller = f"It is larger than its room on this page: {percent} mm here are 100 mm of wood."
    said = (first, true if percent == 100 else smaller, last)
    return (
        Row(FOOT, (Part(words(PRINT, FOOT, BOLD), INK),)),
        *(Row(SMALL, (_quiet(each, SMALL),)) for each in said),
    )


def _quiet(text: str, size: float = FOOT) -> Part:
    return Part(words(text, size, REGULAR), QUIET)


def _height(said: Sequence[Row]) -> float:
    return sum(row.size for row in said) * LEADING * SAYS


def _write(sheet: Sheet, said: Sequence[Row], top: float, width: float) -> None:
    """Rows one under the other; what is too wide for its row is made smaller."""
    y = top
    for row in said:
        y += row.size * LEADING * SAYS
        for part, x, small in laid(row, (width - 2 * SIDE) / SAYS, 1.0):
            _place(sheet, part, (SIDE + x * SAYS, y), small * SAYS)


def _place(sheet: Sheet, part: Part, at: tuple[float, float], scale: float) -> None:
    sheet.polygons((polygon * scale + at for polygon in part.words.polygons), part.ink)


def _rulers(sheet: Sheet, y: float) -> None:
    """100 mm with a tick every 10, and 4 inches with a tick every half."""
    for down, step, count, long, unit in RULERS:
        foot = y + down
        lines = [_straight((SIDE, foot), (SIDE + step * count, foot))]
        for tick in range(count + 1):
            x = SIDE + step * tick
            lines.append(_straight((x, foot), (x, foot - (4 if tick % long == 0 else 2.5))))
        sheet.line(Path(tuple(lines)), INK, RULER)
        _place(sheet, _quiet(unit), (SIDE + step * count + 4, foot), SAYS)


def _straight(start: tuple[float, float], end: tuple[float, float]) -> Contour:
    return Contour(start, ((end,),), closed=False)
