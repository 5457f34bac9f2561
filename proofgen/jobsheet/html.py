"""A document as one HTML file that needs no network and opens by a double click."""

from __future__ import annotations

import base64
import hashlib
import html
from collections.abc import Iterator
from pathlib import Path as File
from string import Template

from proofgen.jobsheet.blocks import Block, Document, Drawing, Pictures, Section, Table, Text
from proofgen.jobsheet.drawn import svg
from proofgen.results.thumbnail import Kind, shrunk

HERE = File(__file__).parent
FIRST_OF = {"order": "Orders", "slip": "Packing slips"}
SMALL = 540  # px, the width of the pictures inside the page


def document_html(document: Document) -> str:
    """The page, to be written as UTF-8."""
    sections = "\n".join(map(_section, document.sections))
    script = (HERE / "page.js").read_text(encoding="utf-8")
    parts = "".join(
        f'<li><a href="#{id_}">{html.escape(title)}</a></li>' for id_, title in _parts(document)
    )
    return Template((HERE / "page.html").read_text(encoding="utf-8")).substitute(
        title=html.escape(document.title),
        day=html.escape(document.day),
        style=(HERE / "page.css").read_text(encoding="utf-8"),
        script=script,
        digest=base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii"),
        run=hashlib.sha256(sections.encode("utf-8", "surrogatepass")).hexdigest()[:16],
        parts=parts,
        sections=sections,
    )


def _parts(document: Document) -> Iterator[tuple[str, str]]:
    """What to jump to: of orders and slips, which may be many, the first."""
    seen: set[str] = set()
    for section in document.sections:
        kind = section.id.split("-")[0]
        if kind not in FIRST_OF:
            yield section.id, section.title
        elif kind not in seen:
            yield section.id, FIRST_OF[kind]
        seen.add(kind)


def _part(section: Section) -> str:
    """The heading: on a screen, where all is one page, a slip says that it is one."""
    return f"Packing slip: {section.title}" if section.id.startswith("slip-") else section.title


def _section(section: Section) -> str:
    blocks = "\n".join(_block(block, f"{section.id}-{i}") for i, block in enumerate(section.blocks))
    kind = ' class="alone"' if section.alone else ""
    title = html.escape(_part(section))
    return (
        f'<section id="{section.id}"{kind} aria-labelledby="{section.id}-h">'
        f'<h2 id="{section.id}-h">{title}</h2>\n{blocks}\n</section>'
    )


def _block(block: Block, id_: str) -> str:
    if isinstance(block, Text):
        return f'<p class="{block.manner}">{html.escape(block.text)}</p>'
    if isinstance(block, Table):
        return _table(block, id_)
    if isinstance(block, Drawing):
        return f"<figure>{svg(block)}</figure>"
    return f'<div class="pictures">{"".join(_pictures(block))}</div>'


def _table(table: Table, id_: str) -> str:
    tick = '<th class="tick"><span aria-hidden="true"></span></th>' if table.ticks else ""
    heads = "".join(f'<th scope="col">{html.escape(head)}</th>' for head in table.heads)
    rows = "\n".join(_row(table, row, f"{id_}-{i}") for i, row in enumerate(table.rows))
    return f"<table><thead><tr>{tick}{heads}</tr></thead>\n<tbody>{rows}</tbody></table>"


def _row(table: Table, row: tuple[str, ...], id_: str) -> str:
    cells = "".join(
        f'<td data-head="{html.escape(head)}">{html.escape(cell)}</td>'
        for head, cell in zip(table.heads, row, strict=True)
    )
    if not table.ticks:
        return f"<tr>{cells}</tr>"
    said = html.escape(", ".join(filter(None, row[:2])))
    box = f'<input type="checkbox" id="{id_}" autocomplete="off" aria-label="done: {said}">'
    return f'<tr class="ticked"><td class="tick"><label>{box}</label></td>{cells}</tr>'


def _pictures(block: Pictures) -> Iterator[str]:
    for file, about in block.files:
        small = shrunk(file, Kind(SMALL, "WEBP", 75))
        if small:
            data = base64.b64encode(small).decode("ascii")
            alt = html.escape(f"The picture of {about}")
            yield f'<img src="data:image/webp;base64,{data}" alt="{alt}">'
