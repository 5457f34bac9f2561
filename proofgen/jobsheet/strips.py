"""Blocks as strips across a page, each with its height and what draws it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Contour, Path, polygon
from proofgen.jobsheet.blocks import Block, Drawing, Label, Pictures, Table, Text
from proofgen.proofs.page_type import cut_off, width, wrapped, write
from proofgen.proofs.sheet import Sheet
from proofgen.workshop.workshop import Colour

INK: Colour = (40, 34, 30)
QUIET: Colour = (105, 95, 87)
RULE: Colour = (190, 178, 166)
PLATE: Colour = (255, 255, 255)
TEXT, SMALL, LEADING = 3.5, 3.0, 1.35  # mm an em, and lines by their em
BOX, TICK = 3.4, 6.5  # mm: a box to tick, and its column
PAD, HAIR = 1.1, 0.2
GAP, ABOVE = 2.5, 1.5  # mm after a block, and before a drawing
WHOLE = 12  # rows of a table that is not broken
SHARP = 700  # px across a picture

Draw = Callable[[Sheet, float], None]


@dataclass(frozen=True, slots=True)
class Strip:
    """Something that is not broken across pages; `keep` holds it on the page of the next one."""

    height: float
    draw: Draw
    keep: bool = False


def strips(block: Block, left: float, room: float) -> Iterator[Strip]:
    """The strips of a block in a column from x = `left`, `room` mm wide."""
    if isinstance(block, Text):
        yield _text(block, left, room)
    elif isinstance(block, Table):
        yield from _table(block, left, room)
    elif isinstance(block, Drawing):
        yield _drawing(block, left, room)
    else:
        yield from _pictures(block, left, room)


def blank(height: float, keep: bool = False) -> Strip:
    """Room that stays free."""
    return Strip(height, lambda *_: None, keep)


def heading(text: str, left: float, room: float, size: float) -> Strip:
    """A heading, kept with what follows."""
    lines = wrapped(text, size, room, bold=True)
    height = len(lines) * size * LEADING + GAP
    return Strip(height, partial(_lines, lines, left, size, INK, True), keep=True)


def _text(block: Text, left: float, room: float) -> Strip:
    size = SMALL if block.manner in ("quiet", "caution") else TEXT
    bold = block.manner == "strong"
    colour = QUIET if block.manner == "quiet" else INK
    mark = 3.0 if block.manner == "caution" else 0.0
    lines = wrapped(block.text, size, room - mark, bold)
    height = len(lines) * size * LEADING

    def draw(sheet: Sheet, y: float) -> None:
        if mark:
            sheet.line(_straight((left + 0.8, y + 0.6), (left + 0.8, y + height - 0.2)), INK, 0.8)
        _lines(lines, left + mark, size, colour, bold, sheet, y)

    return Strip(height + 1.2, draw, keep=True)


def _lines(
    lines: Sequence[str],
    left: float,
    size: float,
    colour: Colour,
    bold: bool,
    sheet: Sheet,
    y: float,
) -> None:
    for number, line in enumerate(lines):
        foot = y + number * size * LEADING + size
        write(sheet, line, (left, foot), size, colour, bold)


def _table(table: Table, left: float, room: float) -> Iterator[Strip]:
    first = left + (TICK if table.ticks else 0.0)
    widths = [share * (room - (first - left)) for share in table.widths]
    columns = [first + sum(widths[:i]) for i in range(len(widths))]
    yield _row(table.heads, columns, widths, (left, room), SMALL, bold=True)
    whole = len(table.rows) <= WHOLE
    for row in table.rows:
        strip = _row(row, columns, widths, (left, room), TEXT, False, table.ticks, table.blanks)
        yield replace(strip, keep=whole)
    yield blank(GAP)


def _row(
    cells: Sequence[str],
    columns: Sequence[float],
    widths: Sequence[float],
    across: tuple[float, float],
    size: float,
    bold: bool = False,
    ticks: bool = False,
    blanks: bool = False,
) -> Strip:
    found = [wrapped(c, size, w - 2.0, bold) for c, w in zip(cells, widths, strict=True)]
    height = max(map(len, found)) * size * LEADING + PAD

    def draw(sheet: Sheet, y: float) -> None:
        left, room = across
        if ticks:
            sheet.line(_box(left + 0.5, y + 0.6, BOX, BOX), INK, 0.3)
        for lines, x, wide in zip(found, columns, widths, strict=True):
            if blanks and not any(lines):
                sheet.line(
                    _straight((x, y + size + 0.8), (x + wide - 3.0, y + size + 0.8)), INK, HAIR
                )
            _lines(lines, x, size, INK, bold, sheet, y)
        foot = y + height - PAD / 2
        sheet.line(_straight((left, foot), (left + room, foot)), RULE, HAIR)

    return Strip(height, draw, keep=bold)


def _drawing(drawing: Drawing, left: float, room: float) -> Strip:
    scale = min(1.0, room / drawing.width, drawing.most / drawing.height)

    def draw(sheet: Sheet, y: float) -> None:
        at = Affine(scale, 0, 0, scale, left + (room - drawing.width * scale) / 2, y + ABOVE)
        for shape in drawing.shapes:
            path = shape.path.moved(at)
            if shape.fill:
                sheet.fill(path, shape.fill, even_odd=True)
            if shape.line:
                sheet.line(path, shape.line, shape.width)
        for label in drawing.labels:
            _label(sheet, label, at, scale)

    return Strip(ABOVE + drawing.height * scale + GAP, draw)


def _label(sheet: Sheet, label: Label, at: Affine, scale: float) -> None:
    text = cut_off(label.text, label.size, label.room * scale, label.strong)
    wide = width(text, label.size, label.strong)
    x, y = at(label.at)
    middle = y + label.below
    plate = _box(x - wide / 2 - 0.5, middle - label.size / 2, wide + 1.0, label.size)
    sheet.fill(plate, PLATE)
    if label.strong:
        sheet.line(plate, INK, HAIR)
    foot = middle + 0.35 * label.size
    write(sheet, text, (x - wide / 2, foot), label.size, INK, label.strong)


def _pictures(block: Pictures, left: float, room: float) -> Iterator[Strip]:
    from proofgen.results.thumbnail import Kind, shrunk

    # So small that a family's slip stays on its page.
    across = 2 if len(block.files) <= 2 else 3 if len(block.files) <= 6 else 4
    wide = (room - (across - 1) * 4.0) / across
    # As high as the pictures are, four by five.
    high = min(wide, 80.0) * 1.25
    for start in range(0, len(block.files), across):
        row = [
            shrunk(file, Kind(SHARP, "JPEG", 85)) for file, _ in block.files[start : start + across]
        ]

        def draw(sheet: Sheet, y: float, row: Sequence[bytes] = tuple(row)) -> None:
            for number, jpeg in enumerate(row):
                if jpeg:
                    sheet.picture(jpeg, (left + number * (wide + 4.0), y), (wide, high))

        yield Strip(high + 3.0, draw)


def _box(x: float, y: float, wide: float, high: float) -> Path:
    return polygon([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)])


def _straight(start: tuple[float, float], end: tuple[float, float]) -> Path:
    return Path((Contour(start, ((end,),), closed=False),))
