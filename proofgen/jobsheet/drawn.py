"""A drawing as SVG within a web page."""

from __future__ import annotations

import html

from proofgen.geometry.path import Contour, Path
from proofgen.jobsheet.blocks import Drawing, Label, Shape
from proofgen.jobsheet.tags import LARGER, PAGE, WIDE
from proofgen.workshop.workshop import Colour

PX = 4.0  # px a millimetre on a screen
LETTERS = {1: "L", 2: "Q", 3: "C"}


def svg(drawing: Drawing) -> str:
    """The drawing; its unit is a millimetre of what is drawn."""
    scale = min(1.0, PAGE / drawing.width, drawing.most / drawing.height)
    shown = (drawing.width * scale * PX, drawing.height * scale * PX)
    parts = [
        *(_shape(shape, scale) for shape in drawing.shapes),
        *(_label(label, scale / LARGER) for label in drawing.labels),
    ]
    box = f"0 0 {_number(drawing.width)} {_number(drawing.height)}"
    return (
        f'<svg role="img" aria-label="{html.escape(drawing.about)}" viewBox="{box}"'
        f' width="{shown[0]:.0f}" height="{shown[1]:.0f}">'
        f"{''.join(parts)}</svg>"
    )


def _shape(shape: Shape, scale: float) -> str:
    fill = _hex(shape.fill) if shape.fill else "none"
    line = (
        f' stroke="{_hex(shape.line)}" stroke-width="{_number(shape.width / scale)}"'
        if shape.line
        else ""
    )
    return f'<path fill="{fill}" fill-rule="evenodd"{line} d="{_data(shape.path)}"/>'


def _label(label: Label, scale: float) -> str:
    size = label.size / scale
    fits = max(int(label.room / (WIDE * size)), 2)
    text = label.text if len(label.text) <= fits else label.text[: fits - 1].rstrip() + "\u2026"
    wide = (len(text) * WIDE + 0.4) * size
    x, y = label.at[0], label.at[1] + label.below / scale
    weight = ' font-weight="700"' if label.strong else ""
    edge = f' stroke="#28221e" stroke-width="{_number(0.2 / scale)}"' if label.strong else ""
    return (
        f'<rect x="{_number(x - wide / 2)}" y="{_number(y - size / 2)}" width="{_number(wide)}"'
        f' height="{_number(size)}" fill="#fff"{edge}/>'
        f'<text x="{_number(x)}" y="{_number(y + 0.35 * size)}" font-size="{_number(size)}"'
        f"{weight}>{html.escape(text)}</text>"
    )


def _data(path: Path) -> str:
    return "".join(map(_contour, path.contours))


def _contour(contour: Contour) -> str:
    drawn = (LETTERS[len(s)] + " ".join(_pair(*p) for p in s) for s in contour.segments)
    return f"M{_pair(*contour.start)}{''.join(drawn)}{'Z' if contour.closed else ''}"


def _pair(x: float, y: float) -> str:
    return f"{_number(x)},{_number(y)}"


def _number(value: float) -> str:
    """To a hundredth of a millimetre: it is looked at, never cut."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _hex(colour: Colour) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)
