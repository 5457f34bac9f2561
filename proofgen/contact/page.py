"""The contact sheet as one HTML file that needs no network and opens by a double click."""

from __future__ import annotations

import base64
import hashlib
import html
import json
import os
from collections.abc import Sequence
from pathlib import Path
from string import Template
from typing import Any
from urllib.parse import quote

from proofgen.contact.cards import Card
from proofgen.files import write_bytes
from proofgen.results.thumbnail import thumbnail

HERE = Path(__file__).parent
SMALL = 240  # px, the width of the pictures inside the page


def write_page(path: Path, title: str, cards: Sequence[Card]) -> None:
    """Write the page; full pictures are linked relative to it, small ones are inside.

    Raises UnusableError where the file cannot be written.
    """
    data = [_said(card, path.parent) for card in cards]
    write_bytes(path, _page(title, data).encode("utf-8"))


def _said(card: Card, folder: Path) -> dict[str, Any]:
    small = thumbnail(card.picture, SMALL, "WEBP", 70) if card.picture else b""
    return {
        "order": card.order,
        "row": card.row,
        "buyer": card.buyer,
        "title": card.title,
        "verdict": card.verdict,
        "code": card.code,
        "texts": card.texts,
        "flags": card.flags,
        "message": card.message,
        "picture": _link(card.picture, folder) if card.picture else "",
        "small": base64.b64encode(small).decode("ascii"),
    }


def _link(picture: Path, folder: Path) -> str:
    return quote(os.path.relpath(picture.resolve(), folder.resolve()).replace(os.sep, "/"))


def _page(title: str, data: list[dict[str, Any]]) -> str:
    script = (HERE / "page.js").read_text(encoding="utf-8")
    digest = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
    # A "<" in the data could end its element; escaped it is the same JSON.
    rows = json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return Template((HERE / "page.html").read_text(encoding="utf-8")).substitute(
        title=html.escape(title),
        style=(HERE / "page.css").read_text(encoding="utf-8"),
        script=script,
        digest=digest,
        rows=rows,
    )
