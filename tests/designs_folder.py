"""A small design to break in tests."""

from pathlib import Path

from proofgen.designs.design import Template
from proofgen.designs.read import design_folders, read_template
from proofgen.orders.order import Order, Source
from proofgen.resources import folder
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Workshop

TOML = """format = 1
title = "Small Tag"
needed = ["name"]
hangers = ["ribbon", "cord", "none"]
finishes = ["natural", "walnut", "weathered"]

[[layers]]
name = "back"
drawing = "back.svg"
material = "birch-3"
finish = "natural"
hole_extra = 0.5

[[layers]]
name = "front"
drawing = "front.svg"
material = "birch-3"
finish = "row"

[[slots]]
field = "name"
layer = "back"
faces = ["open-sans"]

[[slots]]
field = "year"
layer = "front"
faces = ["open-sans"]
"""
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">\n'
BACK = """<rect id="cut-outside" width="80" height="60"/>
<circle id="hole" cx="40" cy="6" r="1"/>
<ellipse id="zone.name" cx="40" cy="27.5" rx="18" ry="11"/>
</svg>
"""
FRONT = """<rect id="cut-outside" width="80" height="60"/>
<path id="cut-inside.window" d="M20 15h40v25h-40z"/>
<g id="cut-inside.panes"><path id="path7" d="M5 15h8v8h-8z"/></g>
<circle id="hole" cx="40" cy="6" r="1"/>
<polygon id="zone.year" points="20,44 60,44 60,56 20,56"/>
<path id="engrave-line.wave" d="M5 50q2 3 4 0t4 0"/>
</svg>
"""


def make(place: Path, **changed: str) -> Path:
    """The design in this folder, with the text of `toml`, `back` or `front` changed."""
    place.mkdir(parents=True, exist_ok=True)
    texts = {"toml": TOML, "back": HEAD + BACK, "front": HEAD + FRONT} | changed
    for name, text in texts.items():
        file = place / ("design.toml" if name == "toml" else f"{name}.svg")
        file.write_text(text, encoding="utf-8", newline="")
    return place


def shipped() -> dict[str, Template]:
    """The designs that ship, by id."""
    places = design_folders((folder("templates"),))
    return {each.name: read_template(each, workshop()) for each in places}


def workshop() -> Workshop:
    """The workshop as it ships."""
    return load(None)


def order(fields: dict[str, str], **options: str) -> Order:
    """Line 1 of order 7, in row 12."""
    cells = tuple((column, column[0].upper()) for column in (*fields, *options))
    source = Source("book.xlsx", "Orders", 12, cells)
    return Order("7", 1, source, "tag", tuple(fields.items()), tuple(options.items()))
