"""What a page is made of, whether it becomes paper or a web page."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as File

from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.workshop.workshop import Colour


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph; `manner` is plain, quiet, strong or caution."""

    text: str
    manner: str = "plain"


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads, `widths` as shares of 1. With `ticks` every row has a box to tick, with
    `blanks` an empty cell is a line to write on.
    """

    heads: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    ticks: bool = True
    blanks: bool = False


@dataclass(frozen=True, slots=True)
class Shape:
    """A path that is filled by the even-odd rule, drawn as a line of `width` mm, or both."""

    path: Path
    fill: Colour | None = None
    line: Colour | None = None
    width: float = 0.0


@dataclass(frozen=True, slots=True)
class Label:
    """Words centred on a plate `below` mm under a point of a drawing, the em `size` mm on the page.

    `room` is how wide they may be, in mm of the drawing: they are cut off rather than wider.
    """

    text: str
    at: Point
    size: float
    room: float
    below: float = 0.0
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing at its proportions, never larger than true size; `most` is its largest height on
    a page (mm), `about` says in words what it shows.
    """

    width: float
    height: float
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    most: float
    about: str


@dataclass(frozen=True, slots=True)
class Pictures:
    """Proof pictures side by side, each with what it shows in words."""

    files: tuple[tuple[File, str], ...]


Block = Text | Table | Drawing | Pictures


@dataclass(frozen=True, slots=True)
class Section:
    """Blocks under a heading; `alone` ones start on a page of their own and share it with none.

    `id` is a plain word of its own in the document.
    """

    id: str
    title: str
    blocks: tuple[Block, ...]
    alone: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """All sections; `title` and `day` stand on each page."""

    title: str
    day: str
    sections: tuple[Section, ...]
