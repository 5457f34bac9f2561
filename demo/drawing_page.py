"""The pictures of templates/DRAWING.md: the example design by its roles, and its sample proof.

python demo/drawing_page.py      needs what `pip install -e .[dev]` installs
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

import resvg_py
from PIL import Image

from proofgen.cli.program import main
from proofgen.designs.design import Template
from proofgen.designs.read import read_template
from proofgen.geometry.path import Path as Outline, circle, polygon
from proofgen.workshop.read import load

HERE = Path(__file__).parent
BEACON = HERE / "own-design" / "beacon"
PICTURES = HERE / "pictures"
COLOURS = {
    "cut-outside": "#7d5a8c",
    "cut-inside": "#1f7f8a",
    "engrave-area": "#7d5433",
    "engrave-line": "#b5651d",
    "hole": "#444444",
    "zone": "#c29a4b",
}
SCALE = 6.0


def commands(path: Outline) -> str:
    """The path as SVG path data, curves flattened."""
    lines = (contour.flatten(0.01) for contour in path.contours)
    return " ".join("M" + " L".join(f"{x:.3f},{y:.3f}" for x, y in line) for line in lines)


def shape(path: Outline, role: str, filled: bool) -> str:
    colour = COLOURS[role]
    fill = f'fill="{colour}" fill-opacity=".25"' if filled else 'fill="none"'
    return f'<path d="{commands(path)}" {fill} stroke="{colour}" stroke-width=".5"/>'


def label(text: str, role: str, x: float, y: float, to: tuple[float, float]) -> str:
    colour = COLOURS[role]
    line = f'<path d="M{x},{y - 1.2} L{to[0]},{to[1]}" stroke="{colour}" stroke-width=".25"/>'
    return line + words(text, x + 0.8, y, 4, colour)


def words(text: str, x: float, y: float, size: float, colour: str = "black") -> str:
    font = f'font-family="Nunito" font-size="{size}" fill="{colour}"'
    return f'<text x="{x}" y="{y}" {font}>{text}</text>'


def layer(template: Template, name: str, labels: str) -> str:
    found = next(each for each in template.layers if each.name == name)
    drawn = [shape(m.path, m.operation, m.operation == "engrave-area") for m in found.marks]
    drawn += [shape(polygon(s.zone), "zone", True) for s in template.slots if s.layer == name]
    if found.hole:
        drawn.append(shape(circle(found.hole, 2.5), "hole", False))
    return "".join(drawn) + labels


def roles() -> Image.Image:
    """Both layers side by side, coloured by role and labelled by id."""
    template = read_template(BEACON, load(None))
    front = (
        label("cut-outside", "cut-outside", 84, 30, (61, 30))
        + label("hole", "hole", 84, 10, (42, 8))
        + label("cut-inside.windows", "cut-inside", 84, 46, (45, 44))
        + label("zone.year", "zone", 84, 69, (50, 69))
        + label("engrave-area", "engrave-area", 84, 82, (58, 82))
        + label("zone.name", "zone", 84, 99, (62, 98))
    )
    back = (
        label("cut-outside", "cut-outside", 84, 30, (80, 30))
        + label("identity", "zone", 84, 63, (50, 62))
        + label("engrave-line.placing", "engrave-line", 84, 84, (16, 82))
    )
    width, height = 268, 132
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-4 -10 {width} {height}" '
        f'width="{width * SCALE}" height="{height * SCALE}">'
        f'<rect x="-4" y="-10" width="{width}" height="{height}" fill="#faf8f4"/>'
        f"<g>{words('front.svg', 0, -4, 5)}{layer(template, 'front', front)}</g>"
        f'<g transform="translate(132 0)">{words("back.svg", 0, -4, 5)}'
        f"{layer(template, 'back', back)}</g></svg>"
    )
    fonts = [str(file) for file in (HERE.parent / "fonts").glob("Nunito*.ttf")]
    png = resvg_py.svg_to_bytes(svg_string=svg, font_files=fonts, skip_system_fonts=True)
    return Image.open(io.BytesIO(bytes(png))).convert("RGB")


def small(picture: Image.Image, width: int, name: str) -> None:
    height = round(picture.height * width / picture.width)
    picture.resize((width, height), Image.Resampling.LANCZOS).save(PICTURES / name, quality=82)


def write() -> int:
    small(roles(), 1000, "own-design-roles.jpg")
    proof = PICTURES / "sample.png"
    code = main(["designs", "check", str(BEACON), "--picture", str(proof)])
    small(Image.open(proof).convert("RGB"), 420, "own-design-proof.jpg")
    proof.unlink()
    return code


if __name__ == "__main__":
    sys.exit(write())
