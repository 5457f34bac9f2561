"""The reportlab adapter: a PDF of pages on which outlines are filled and lines are drawn.

Millimetres, y down. Whatever is set as text brings its font along, so none is needed to read it.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from typing import Final

from reportlab import rl_config
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject
from reportlab.pdfgen.textobject import PDFTextObject

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path, Points
from proofgen.resources import folder
from proofgen.workshop.workshop import Colour

POINT = 25.4 / 72  # mm
EVEN_ODD, NONZERO = 0, 1  # reportlab's fill modes
INVISIBLE: Final = 3  # the render mode of text that is neither filled nor drawn
UNSEEN = "x"
# Operators of a path, ISO 32000-1, 8.5.2.
MOVE, LINE, CURVE = "%.4f %.4f m", "%.4f %.4f l", "%.4f %.4f %.4f %.4f %.4f %.4f c"
rl_config.useA85 = 0  # streams as they are, a fifth smaller than as letters


class Sheet:
    """A PDF in the making, the same bytes for the same drawing."""

    def __init__(self, title: str, subject: str, keywords: str = "") -> None:
        self._out = io.BytesIO()
        # The stubs take the name for a number.
        self._canvas = Canvas(self._out, invariant=1, initialFontName=_unused())  # type: ignore[arg-type]
        self._canvas.setTitle(title)
        self._canvas.setSubject(subject)
        self._canvas.setKeywords(keywords)
        self._canvas.setAuthor("")
        self._canvas.setCreator("proofgen")

    def close(self) -> bytes:
        """The file."""
        self._canvas.save()
        return self._out.getvalue()

    @contextmanager
    def page(self, width: float, height: float) -> Iterator[None]:
        """A page of that size; what is drawn meanwhile is on it."""
        self._canvas.setPageSize((width / POINT, height / POINT))
        self._canvas.translate(0, height / POINT)
        self._canvas.scale(1 / POINT, -1 / POINT)
        yield
        self._canvas.showPage()

    @contextmanager
    def moved(self, x: float, y: float, scale: float = 1.0) -> Iterator[None]:
        """What is drawn meanwhile has its origin at (x, y) and is so many times as large."""
        self._canvas.saveState()
        self._canvas.translate(x, y)
        self._canvas.scale(scale, scale)
        yield
        self._canvas.restoreState()

    @contextmanager
    def within(self, path: Path) -> Iterator[None]:
        """What is drawn meanwhile shows only inside the path, by the even-odd rule."""
        self._canvas.saveState()
        self._canvas.clipPath(self._traced(path), stroke=0, fill=0, fillMode=EVEN_ODD)
        yield
        self._canvas.restoreState()

    def fill(self, path: Path, colour: Colour, even_odd: bool = False) -> None:
        """The area of a path, by the nonzero rule or the even-odd one."""
        self._paint(self._traced(path), colour, EVEN_ODD if even_odd else NONZERO)

    def polygons(self, found: Iterable[Points], colour: Colour) -> None:
        """The area of polygons (n, 2) to a hundredth of a millimetre, by the nonzero rule."""
        traced = self._canvas.beginPath()
        for first, *rest in (polygon.round(2).tolist() for polygon in found):
            traced.moveTo(*first)
            for point in rest:
                traced.lineTo(*point)
            traced.close()
        self._paint(traced, colour, NONZERO)

    def line(self, path: Path, colour: Colour, width: float) -> None:
        """A line along a path."""
        self._canvas.setStrokeColorRGB(*_shares(colour))
        self._canvas.setLineWidth(width)
        self._canvas.drawPath(self._traced(path), stroke=1, fill=0)

    def text(self, text: str, at: Point, size: float, font: str, colour: Colour) -> None:
        """A text from the left end of its baseline, in a font of `embed`, `size` mm an em."""
        self._canvas.saveState()
        self._canvas.setFillColorRGB(*_shares(colour))
        self._canvas.drawText(self._text(text, at, size, font))
        self._canvas.restoreState()

    @contextmanager
    def meaning(self, text: str, at: Point, size: float, width: float, font: str) -> Iterator[None]:
        """What is drawn meanwhile reads as that text, to search and to copy, in any script.

        ISO 32000-1, 14.9.4: ActualText. A letter that is not painted gives it a place, as wide as
        it is, since readers pass over what has no letters.
        """
        self._canvas.addLiteral(f"/Span <</ActualText <{_hexadecimal(text)}>>> BDC", escaped=0)
        yield
        self._canvas.saveState()
        self._canvas.drawText(self._text(UNSEEN, at, size, font, width))
        self._canvas.restoreState()
        self._canvas.addLiteral("EMC", escaped=0)

    def _text(
        self, text: str, at: Point, size: float, font: str, unseen: float = 0.0
    ) -> PDFTextObject:
        """The text; it is not painted, and so wide, where `unseen` says so."""
        said = self._canvas.beginText()
        said.setFont(font, size)
        if unseen:
            said.setTextRenderMode(INVISIBLE)
            said.setHorizScale(100 * unseen / stringWidth(text, font, size))
        said.setTextTransform(1, 0, 0, -1, *at)
        said.textOut(text)
        return said

    def picture(self, jpeg: bytes, corner: Point, most: tuple[float, float]) -> None:
        """A picture from its top left corner, as large as the room of `most` mm takes."""
        image = ImageReader(io.BytesIO(jpeg))
        width, height = image.getSize()
        scale = min(most[0] / width, most[1] / height)
        self._canvas.saveState()
        self._canvas.translate(corner[0], corner[1] + height * scale)
        self._canvas.scale(1, -1)
        self._canvas.drawImage(image, 0, 0, width * scale, height * scale)
        self._canvas.restoreState()

    def _paint(self, traced: PDFPathObject, colour: Colour, rule: int) -> None:
        self._canvas.setFillColorRGB(*_shares(colour))
        self._canvas.drawPath(traced, stroke=0, fill=1, fillMode=rule)

    def _traced(self, path: Path) -> PDFPathObject:
        """Lines and cubic curves; a quadratic one is raised, which changes nothing of it.

        Operators are written out here: reportlab takes five times as long to round a number.
        """
        found: list[str] = []
        for contour in path.contours:
            here = contour.start
            found.append(MOVE % here)
            for segment in contour.segments:
                if len(segment) == 1:
                    found.append(LINE % segment[0])
                else:
                    one, two, end = segment if len(segment) == 3 else _raised(here, *segment)
                    found.append(CURVE % (*one, *two, *end))
                here = segment[-1]
            if contour.closed:
                found.append("h")
        return PDFPathObject(found)


def embed(name: str, data: bytes) -> Callable[[str, float], float]:
    """Make a TrueType file known as `name`; gives what measures a text at a size."""
    font = TTFont(name, io.BytesIO(data))
    registerFont(font)
    return font.stringWidth


@lru_cache(maxsize=1)
def _unused() -> str:
    """A canvas names its first font in the file, used or not, unless that is one to embed."""
    registerFont(TTFont("unused", folder("fonts") / "Nunito-wght.ttf"))
    return "unused"


def _raised(start: Point, middle: Point, end: Point) -> tuple[Point, Point, Point]:
    """The control points and the end of the cubic curve that is a quadratic one."""

    def towards(point: Point) -> Point:
        return (point[0] + 2 * middle[0]) / 3, (point[1] + 2 * middle[1]) / 3

    return towards(start), towards(end), end


def _hexadecimal(text: str) -> str:
    """A PDF text string: UTF-16 after its mark, as digits."""
    return (b"\xfe\xff" + text.encode("utf-16-be", "replace")).hex()


def _shares(colour: Colour) -> tuple[float, float, float]:
    red, green, blue = colour
    return red / 255, green / 255, blue / 255
