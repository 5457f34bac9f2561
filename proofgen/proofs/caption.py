"""The strip under the scene: what is ordered, spelled out; legible with the picture 390 px wide."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from proofgen.artwork.artwork import Artwork, Made
from proofgen.orders.order import ORDER
from proofgen.proofs.breaking import broken
from proofgen.proofs.inked import inked
from proofgen.proofs.palette import Indices, whole
from proofgen.proofs.raster import Box
from proofgen.proofs.spelled import new_line, spelled
from proofgen.proofs.stage import STRIP, WIDTH
from proofgen.proofs.type import BOLD, REGULAR, Words, words
from proofgen.workshop.workshop import Colour

PAPER, RULE = (250, 248, 245), (203, 188, 174)
INK, QUIET, RED = (52, 46, 42), (112, 102, 94), (146, 40, 48)
INKS = (INK, QUIET, RED)
SHADES = 12  # of each ink, from bare paper to full
SIDE = 44  # free at either side, px
HEAD, NAME, NAMES, DETAIL, FOOT = 34.0, 47.0, 37.0, 31.0, 28.0
WIDE = WIDTH - 2 * SIDE
CLEAR, BELOW = 10.0, 8.0  # free above and below all rows, and what more of it is below
LEAST_LEADING, MOST_BETWEEN = 1.18, 22.0  # of the size; px between rows
GAP = 22.0  # between the parts of a row
MOST_SHRUNK = 1.1  # a row that is wider than that share of the room is broken
INCH = 25.4  # mm
NOTE = "grain and tone vary from piece to piece"


@dataclass(frozen=True, slots=True)
class Part:
    """Words of one colour."""

    words: Words
    ink: Colour


@dataclass(frozen=True, slots=True)
class Row:
    """Parts from the left, and others that end at the right border."""

    size: float
    left: tuple[Part, ...]
    right: tuple[Part, ...] = ()


def inks() -> Indices:
    """The colours of the strip (n, 3): shades of each ink on the paper, then the rule's."""
    share = np.linspace(0, 1, SHADES)[:, None]
    shades = [np.array(PAPER) * (1 - share) + np.array(ink) * share for ink in INKS]
    return whole(np.concatenate([*shades, [RULE]]))


def rows(made: Made, artwork: Artwork, inches: bool) -> tuple[Row, ...]:
    """What is said of a piece, for a strip that is WIDE."""
    return (*_head(made), *_name(artwork), *_details(artwork), _foot(artwork, inches))


def caption(made: Made, artwork: Artwork, inches: bool) -> Indices:
    """The strip (STRIP, WIDTH) as indices into `inks`."""
    said = rows(made, artwork, inches)
    sizes = sum(row.size for row in said)
    room = STRIP - 2 * CLEAR - BELOW
    shrink = min(1.0, room / (LEAST_LEADING * sizes))
    free = room - sizes * shrink
    between = min(free / len(said), MOST_BETWEEN)
    baseline = CLEAR + (free - between * len(said)) / 2 + between / 2
    strip = np.zeros((STRIP, WIDTH), np.uint8)
    strip[:3] = SHADES * len(INKS)
    for row in said:
        baseline += row.size * shrink
        for part, x, small in laid(row, WIDE, shrink):
            _place(strip, part, (SIDE + x, baseline), small)
        baseline += between
    return strip


def laid(row: Row, room: float, scale: float) -> Iterator[tuple[Part, float, float]]:
    """The parts of a row, each with where it begins and its scale.

    Both sides are on one line; what is too wide for the room is made smaller as a whole.
    """
    right = _width(row.right) * scale
    widest = room - (GAP + right if row.right else 0)
    small = min(scale, widest / max(_width(row.left), 1.0))
    for parts, start, size in ((row.left, 0.0, small), (row.right, room - right, scale)):
        x = start
        for part in parts:
            yield part, x, size
            x += (part.words.width + GAP) * size


def _place(strip: Indices, part: Part, at: tuple[float, float], scale: float) -> None:
    box, shade = _shades(part, at, scale)
    np.copyto(strip[box], shade, where=shade > 0)


# Labels and what all pieces of a design have in common lie at the same place in many captions.
@lru_cache(maxsize=256)
def _shades(part: Part, at: tuple[float, float], scale: float) -> tuple[Box, Indices]:
    """Where the words are, and the index of each pixel there, 0 for bare paper."""
    box, amount = inked(part.words, at, scale, (STRIP, WIDTH))
    shade = np.rint(amount * np.float32((SHADES - 1) / 255)).astype(np.uint8)
    shade[shade > 0] += np.uint8(SHADES * INKS.index(part.ink))
    return box, shade


def _width(parts: tuple[Part, ...]) -> float:
    return sum(part.words.width for part in parts) + GAP * max(len(parts) - 1, 0)


def _head(made: Made) -> list[Row]:
    """Order and code on one row; a long number has rows of its own."""
    order = made.order
    number = f"Order {order.number}" + (f", line {order.line}" if order.line > 1 else "")
    proof = Part(words("PROOF", HEAD, BOLD), RED)
    code = Part(words(f"Proof code {made.code}", HEAD), INK)
    whole = Part(words(number, HEAD), INK)
    if _width((proof, whole, code)) <= WIDE * MOST_SHRUNK:
        return [Row(HEAD, (proof, whole), (code,))]
    lines = broken(number, WIDE, lambda text: words(text, HEAD).width, anywhere=True)
    more = (Row(HEAD, (Part(words(line, HEAD), INK),)) for line in lines)
    return [Row(HEAD, (proof,), (code,)), *more]


def _texts(artwork: Artwork) -> dict[str, tuple[str, ...]]:
    """The lines of each field as they were set; a field on several layers is said once."""
    return {
        lettering.field: tuple(line.text for line in lettering.lines)
        for lettering in artwork.lettering
        if lettering.field != ORDER
    }


def _name(artwork: Artwork) -> list[Row]:
    """The name as it was set, with marks where a line ends that is not the last; a long line is
    broken once, after a space that still is seen.
    """
    lines = named(artwork)
    size = NAME if len(lines) < 2 else NAMES
    if len(lines) == 1 and spelled(lines[0], NAME).width > WIDE * 1.15:
        lines, size = _halves(lines[0]), NAMES
    return [Row(size, (Part(spelled(line, size), INK),)) for line in lines]


def named(artwork: Artwork) -> tuple[str, ...]:
    """The lines of the name, each with the line break or the space that was typed where it ends;
    a line break where the row does not tell, as it has another name by now.
    """
    lines = _texts(artwork).get("name", ())
    rest, ended = artwork.order.field("name"), []
    for line in lines[:-1]:
        _, found, rest = rest.partition(line)
        typed = rest[: len(rest) - len(rest.lstrip())]
        if not found:
            return (*(f"{each}\n" for each in lines[:-1]), lines[-1])
        ended.append(line + ("\n" if "\n" in typed else typed[:1]))
    return (*ended, *lines[-1:])


def _details(artwork: Artwork) -> list[Row]:
    """The other fields, on as many rows as they need."""
    units: list[tuple[Part, ...]] = []
    behind = _behind(artwork)
    for field, lines in _texts(artwork).items():
        if field != "name":
            first, *more = _values(lines)
            label = field.capitalize() + (" on the back" if field in behind else "")
            units += [(Part(words(label, DETAIL), QUIET), *first), *more]
    packed: list[tuple[Part, ...]] = []
    for unit in units:
        if packed and _width(packed[-1] + unit) <= WIDE:
            packed[-1] += unit
        else:
            packed.append(unit)
    return [Row(DETAIL, row) for row in packed]


def _behind(artwork: Artwork) -> set[str]:
    """The fields that are lettered on a back alone, which the picture does not show."""
    sides: dict[str, set[str]] = {"front": set(), "back": set()}
    for layer in artwork.layers:
        for mark in layer.marks:
            sides[mark.side].add(mark.field)
    return sides["back"] - sides["front"]


def _values(lines: tuple[str, ...]) -> list[tuple[Part, ...]]:
    """What stays together of a field's text: its lines, and the halves of a long one; a mark
    where a line ends that is not the last.
    """
    found: list[tuple[Part, ...]] = []
    for line in lines:
        whole = words(line, DETAIL, BOLD)
        halves = _halves(line) if whole.width > WIDE * 0.9 else (line,)
        found += [(Part(words(half, DETAIL, BOLD), INK),) for half in halves]
        found[-1] += (Part(new_line(DETAIL), QUIET),)
    return [*found[:-1], found[-1][:-1]]


def _foot(artwork: Artwork, inches: bool) -> Row:
    """The size, how many where it is several, and what no picture can show."""
    size = Part(words(measures(artwork.extent, inches), FOOT, REGULAR), QUIET)
    count = artwork.order.quantity
    pieces = (Part(words(f"{count} pieces", FOOT, BOLD), RED),) if count > 1 else ()
    return Row(FOOT, (size, *pieces), (Part(words(NOTE, FOOT, REGULAR), QUIET),))


def measures(size: tuple[float, float], inches: bool) -> str:
    """Width and height as a person reads them, from millimetres."""
    return " ".join(measured(size, inches))


def measured(size: tuple[float, float], inches: bool) -> tuple[str, ...]:
    """The same in one part or two."""
    width, height = size
    metric = f"{width:.0f} \u00d7 {height:.0f} mm"
    if not inches:
        return (metric,)
    return metric, f"({width / INCH:.1f} \u00d7 {height / INCH:.1f} in)"


def _halves(text: str) -> tuple[str, ...]:
    """The text broken after the space nearest its middle; whole where it has none."""
    spaces = [i for i, character in enumerate(text) if character == " "]
    if not spaces:
        return (text,)
    at = min(spaces, key=lambda i: abs(2 * i - len(text)))
    return text[: at + 1], text[at + 1 :]
