"""The picture of the README's test card: as it comes off the machine, in bare birch.

python demo/card_page.py      needs what `pip install -e .[dev]` installs
"""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import resvg_py
from PIL import Image

from proofgen.cli.program import main
from proofgen.workshop.read import load

PICTURE = Path(__file__).parent / "pictures" / "testcard.jpg"
WIDTH = 1000
WOOD, BURNT, KERF = "#e7cda6", "#804f2b", "#3b2417"


def as_made(svg: str) -> str:
    """The drawing with wood below it, engraving in its tone and cuts as wide as the kerf."""
    workshop = load(None)
    for group in workshop.groups:
        colour = "#{:02x}{:02x}{:02x}".format(*group.colour)
        svg = svg.replace(colour, KERF if group.operation.startswith("cut") else BURNT)
    svg = re.sub(r'stroke-width="[\d.]+"', f'stroke-width="{workshop.machine.kerf}"', svg)
    svg = re.sub(r' (width|height)="[\d.]+mm"', "", svg, count=2)
    return svg.replace("<title>", f'<rect width="100%" height="100%" fill="{WOOD}"/><title>', 1)


def write() -> int:
    with TemporaryDirectory() as folder:
        code = main(["testcard", "--out", folder])
        svg = Path(folder, "testcard-birch-3.svg").read_text(encoding="utf-8")
    png = resvg_py.svg_to_bytes(svg_string=as_made(svg), zoom=12)
    picture = Image.open(io.BytesIO(bytes(png))).convert("RGB")
    height = round(picture.height * WIDTH / picture.width)
    picture.resize((WIDTH, height), Image.Resampling.LANCZOS).save(PICTURE, quality=85)
    return code


if __name__ == "__main__":
    sys.exit(write())
