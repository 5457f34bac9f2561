"""The folder of a workshop."""

from __future__ import annotations

from pathlib import Path

from proofgen.designs.design import Template
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.starting.book import Choices, order_book
from proofgen.workshop.workshop import Workshop

WORKSHOP = """# What differs in your workshop from the defaults that ship. Every key stands, with
# its meaning, in proofgen/workshop/defaults.toml; write here only what you change.
format = 1
title = "My workshop"
edition_year = {year}

# [machine]
# kerf = 0.18

# [materials.birch-3.limits]
# engraved_stroke = {{ least = 0.35, wanted = 0.5 }}

# [finishes.walnut]
# title = "walnut stain"
"""
FOLDERS = {
    "designs": "Designs of your own, a folder each: design.toml and one SVG a layer.\n"
    "Check one with: proofgen designs check designs/NAME\n",
    "symbols": "Symbols of your own, one SVG each, with elements whose id is engrave-area.\n",
    "fonts": "Faces of your own: the files, and a faces.toml that lists them.\n"
    "Mind their licences.\n",
}


def start(folder: Path, templates: tuple[Template, ...], workshop: Workshop) -> tuple[Path, ...]:
    """Make the folder with an order book, the workshop file, and places for own things.

    UnusableError where one of these is there already; nothing is written then.
    """
    files = {
        folder / "orders.xlsx": order_book(choices_of(templates, workshop)),
        folder / "workshop.toml": WORKSHOP.format(year=workshop.edition_year).encode(),
        **{folder / name / "README.txt": text.encode() for name, text in FOLDERS.items()},
    }
    there = [file for file in files if file.exists()]
    if there:
        raise UnusableError(f"{there[0]} is there already; name a new folder.")
    for file, data in files.items():
        write_bytes(file, data)
    return tuple(files)


def choices_of(templates: tuple[Template, ...], workshop: Workshop) -> Choices:
    """What the lists of an order book offer."""
    symbols = sorted(
        {drawing.title for template in templates for drawing in template.symbol_drawings}
    )
    sizes = dict.fromkeys(size for template in templates for size, _ in template.sizes)
    return Choices(
        {
            "Design": tuple(template.title for template in templates),
            "Symbol": tuple(symbols),
            "Finish": tuple(finish.title for finish in workshop.finishes),
            "Hanger": tuple(hanger.title for hanger in workshop.hangers),
            "Size": tuple(sizes) or ("standard",),
        }
    )
