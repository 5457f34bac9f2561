"""A document as a PDF on the workshop's paper, ready to be printed and taken to the bench."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from proofgen.jobsheet.blocks import Document, Section
from proofgen.jobsheet.strips import QUIET, SMALL, Strip, blank, heading, strips
from proofgen.proofs.page_type import width, write
from proofgen.proofs.sheet import Sheet
from proofgen.workshop.workshop import PAPERS

SIDE, TOP, BOTTOM = 15.0, 13.0, 16.0  # free at the borders of a page; mm
LARGE, MIDDLE = 6.5, 4.8  # mm an em of headings
SPACE = 3.0  # mm before a heading on the same page


def document_pdf(document: Document, paper: str) -> bytes:
    """The file; `paper` is one of PAPERS."""
    size = PAPERS[paper]
    room = size[0] - 2 * SIDE
    pages = [
        page
        for group in _groups(document.sections)
        for page in paged(_strips(group, room), size[1] - TOP - BOTTOM)
    ]
    sheet = Sheet(f"{document.title}, job sheet", document.day)
    for number, page in enumerate(pages, 1):
        with sheet.page(*size):
            y = TOP
            for strip in page:
                strip.draw(sheet, y)
                y += strip.height
            _foot(sheet, document, f"{number} / {len(pages)}", size)
    return sheet.close()


def _groups(sections: Iterable[Section]) -> Iterator[list[Section]]:
    """Sections that share pages."""
    open_: list[Section] = []
    for section in sections:
        if section.alone:
            if open_:
                yield open_
            yield [section]
            open_ = []
        else:
            open_.append(section)
    if open_:
        yield open_


def _strips(sections: Iterable[Section], room: float) -> Iterator[Strip]:
    for number, section in enumerate(sections):
        if number:
            yield blank(SPACE, keep=True)
        yield heading(section.title, SIDE, room, LARGE if section.alone else MIDDLE)
        for block in section.blocks:
            yield from strips(block, SIDE, room)


def paged(found: Iterable[Strip], room: float) -> list[list[Strip]]:
    """Strips on as many pages as they need; those that are kept stay with the next one, unless
    they are more than a page together.
    """
    pages: list[list[Strip]] = [[]]
    used = 0.0
    for run in _kept(found, room):
        height = sum(strip.height for strip in run)
        if pages[-1] and used + height > room:
            pages.append([])
            used = 0.0
        pages[-1] += run
        used += height
    return pages


def _kept(found: Iterable[Strip], room: float) -> Iterator[Sequence[Strip]]:
    """Runs that stay on a page, none higher than its room but for a strip that is so by itself."""
    run: list[Strip] = []
    for strip in found:
        if run and sum(each.height for each in run) + strip.height > room:
            yield run
            run = []
        run.append(strip)
        if not strip.keep:
            yield run
            run = []
    if run:
        yield run


def _foot(sheet: Sheet, document: Document, page: str, size: tuple[float, float]) -> None:
    y = size[1] - 8.0
    write(sheet, f"{document.title}, {document.day}", (SIDE, y), SMALL, QUIET)
    write(sheet, page, (size[0] - SIDE - width(page, SMALL), y), SMALL, QUIET)
