"""The page to read the card by: the card at true size, what to look for, room to write it down."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.geometry.path import Contour, Path
from proofgen.proofs.page_type import width, write
from proofgen.proofs.sheet import Sheet
from proofgen.proofs.type import BOLD, REGULAR
from proofgen.testcard.card import Card
from proofgen.testcard.reading import Question
from proofgen.workshop.workshop import PAPERS, Colour, Workshop

SIDE, TOP, BOTTOM = 10.0, 11.5, 7.0  # least free at the borders of the page
HEAD = 8.0  # height of title and first line
ROW, LINE = 4.6, 4.0  # heights of a question and of a line of notes
RULER, TICK = 100.0, 10.0
TITLE, TEXT, SMALL = 5.2, 3.3, 2.9  # sizes of letters, mm an em
INK: Colour = (52, 46, 42)
QUIET: Colour = (112, 102, 94)
BOX = 15.0  # width of a blank to fill
HAIR = 0.15
NOTES = (
    "Speed ______________   power ______________   passes ______   air ______   focus ____________"
    "   date ______________",
    "Work as you do for buyers: the same settings, masking and cleaning. Keep the loose pieces of "
    "the kerf together.",
    "Blank changes nothing; between two numbers is fine; what is in brackets is beyond the card. "
    "Openings and holes: the larger counts.",
    "Type the numbers in with: proofgen testcard read. Or fill in the workbook that came with this "
    "page and name it after that.",
)
CAUTIONS = (
    "A cutting laser is a fire, fume and eye hazard: never leave it unattended; extraction on, an "
    "extinguisher at hand;",
    "enclosure or eye protection made for its wavelength. Never cut PVC or vinyl, nor what you do "
    "not know.",
    "The machine's manual and your local codes come first.",
)
PRINT = "Print at 100 %, never fitted to the page; this line is 100 mm:"


def reading_sheet(card: Card, asked: Sequence[Question], workshop: Workshop) -> bytes:
    """A PDF of one page; it is larger than the workshop's paper only where the card is."""
    rows = [question for question in asked if not question.good]
    table = (len(rows) + 1) * ROW
    foot = (len(NOTES) + len(CAUTIONS) + 1) * LINE + 3
    needed = (card.size[0] + 2 * SIDE, TOP + HEAD + card.size[1] + table + foot + BOTTOM)
    wide, high = _page_size(needed, PAPERS[workshop.proofs.paper])
    left = (wide - card.size[0]) / 2
    sheet = Sheet(f"Test card, {card.material.title}", card.material.id)
    with sheet.page(wide, high):
        _write(sheet, f"Test card: {card.material.title}", (left, TOP), TITLE, BOLD)
        said = f"{card.material.id}, {workshop.title}, at true size; all numbers in millimetres"
        _write(sheet, said, (left, TOP + 5), SMALL, REGULAR, QUIET)
        with sheet.moved(left, TOP + HEAD):
            _card(sheet, card, workshop)
        y = TOP + HEAD + card.size[1] + 2
        _table(sheet, asked, (left, y), card.size[0])
        _notes(sheet, (left, y + table + 3), card.size[0])
    return sheet.close()


def _card(sheet: Sheet, card: Card, workshop: Workshop) -> None:
    """The card as lines and areas, in the colours of its operations."""
    for mark in card.layer.marks:
        colour = workshop.group(mark.operation).colour
        if mark.operation == "engrave-area":
            sheet.fill(mark.path, INK)
        else:
            sheet.line(mark.path, colour, HAIR)


def _table(
    sheet: Sheet, asked: Sequence[Question], corner: tuple[float, float], across: float
) -> None:
    """A row a mark: what to look for, and two blanks with what stands in the workshop file."""
    x, y = corner
    columns = (x + across - 2 * BOX - 2, x + across - BOX)
    for at, title in zip(columns, ("came out", "looks good"), strict=True):
        _write(sheet, title, (at, y + ROW - 1.4), SMALL, BOLD)
    _write(sheet, "the number beside the mark; until now in grey", (x, y + ROW - 1.4), SMALL, BOLD)
    foot = y
    for question in asked:
        if not question.good:
            foot += ROW
            _write(sheet, question.text, (x, foot + ROW - 1.4), TEXT, REGULAR, most=across - 36)
        at = columns[question.good]
        _write(sheet, question.until_now, (at + 1, foot + ROW - 1.4), SMALL, REGULAR, (170,) * 3)
        _rule(sheet, (at, foot + ROW - 0.4), BOX)


def _notes(sheet: Sheet, corner: tuple[float, float], across: float) -> None:
    x, foot = corner
    said = (*((note, REGULAR) for note in NOTES), *((note, BOLD) for note in CAUTIONS))
    for note, weight in (*said, (PRINT, REGULAR)):
        foot += LINE
        _write(sheet, note, (x, foot), SMALL, weight, QUIET, most=across)
    start = x + across - RULER
    ticks = (
        Contour((start + k * TICK, foot - 2.0), (((start + k * TICK, foot),),), closed=False)
        for k in range(int(RULER / TICK) + 1)
    )
    _rule(sheet, (start, foot), RULER)
    sheet.line(Path(tuple(ticks)), INK, HAIR)


def _rule(sheet: Sheet, start: tuple[float, float], length: float) -> None:
    x, y = start
    sheet.line(Path((Contour(start, (((x + length, y),),), closed=False),)), INK, HAIR)


def _write(
    sheet: Sheet,
    text: str,
    at: tuple[float, float],
    size: float,
    weight: float,
    colour: Colour = INK,
    most: float = 1000.0,
) -> None:
    """A text from the left end of its baseline, made smaller where it is wider than `most`."""
    bold = weight == BOLD
    fits = min(size, most / max(width(text, 1.0, bold), 1.0))
    write(sheet, text, at, fits, colour, bold)


def _page_size(needed: tuple[float, float], paper: tuple[float, float]) -> tuple[float, float]:
    """The paper upright or lying where either holds what is needed; else a page that does."""
    for wide, high in (paper, paper[::-1]):
        if needed[0] <= wide and needed[1] <= high:
            return wide, high
    return max(needed[0], paper[0]), max(needed[1], paper[1])
