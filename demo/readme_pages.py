"""The README's pictures of the demo, from what `python demo/run.py` has written.

python demo/readme_pages.py      needs what `pip install -e .[dev]` installs
"""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdfium2
import resvg_py
from PIL import Image

DEMO = Path(__file__).parent
OUT, PICTURES = DEMO / "out", DEMO / "pictures"
# One order of each design.
SHOWN = ("LH-1004", "LH-1006", "LH-1029", "LH-1027", "LH-1028", "LH-1002")
CARD, GAP, ACROSS = (480, 600), 8, 3
CHOICES = (720, 900)
BOARD = 760
LINE = 0.5  # mm; in the file they are too fine to be seen on a page
PAGE = 1.1


def proofs() -> Image.Image:
    """Six proofs side by side."""
    width, height = CARD
    down = len(SHOWN) // ACROSS
    size = (ACROSS * width + (ACROSS + 1) * GAP, down * height + (down + 1) * GAP - GAP // 2)
    found = Image.new("RGB", size, "white")
    for place, number in enumerate(SHOWN):
        (file,) = (OUT / "proofs").glob(f"*-{number}-*.png")
        card = Image.open(file).convert("RGB").resize(CARD, Image.Resampling.LANCZOS)
        row, column = divmod(place, ACROSS)
        found.paste(card, (GAP + column * (width + GAP), GAP + row * (height + GAP)))
    return found


def choices() -> Image.Image:
    """One name on every design."""
    return Image.open(OUT / "choices.png").convert("RGB").resize(CHOICES, Image.Resampling.LANCZOS)


def board() -> Image.Image:
    """The first board, as its file is."""
    svg = (OUT / "sheets" / "S-0001.svg").read_text(encoding="utf-8")
    svg = re.sub(r' (width|height)="[\d.]+mm"', "", svg, count=2)
    svg = re.sub(
        r"(<svg[^>]*>)", r'\1<rect width="100%" height="100%" fill="white"/>', svg, count=1
    )
    svg = re.sub(r'stroke-width="[\d.]+"', f'stroke-width="{LINE}"', svg)
    drawn = Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg, zoom=4))))
    return drawn.convert("RGB").resize((BOARD, BOARD), Image.Resampling.LANCZOS)


def job() -> Image.Image:
    """The page of the job sheet that the first board has."""
    document = pypdfium2.PdfDocument(OUT / "sheets" / "jobs.pdf")
    page = next(p for p in document if "Board S-0001" in p.get_textpage().get_text_range())
    return page.render(scale=PAGE).to_pil().convert("RGB")


def write() -> None:
    proofs().save(PICTURES / "proofs.jpg", quality=85)
    choices().save(PICTURES / "choices.jpg", quality=85)
    board().quantize(64).save(PICTURES / "sheet.png", optimize=True)
    job().quantize(64).save(PICTURES / "job.png", optimize=True)


if __name__ == "__main__":
    write()
