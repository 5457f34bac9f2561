"""The contact sheet as one HTML file that needs no network and opens by a double click."""

from __future__ import annotations

import base64
import hashlib
import html
import json
import os
import re
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from string import Template
from typing import Any
from urllib.parse import quote, unquote

from proofgen.contact.cards import Card
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.results.thumbnail import CARD, COPIED, COPY, Thumbnails

HERE = Path(__file__).parent
ROWS = re.compile('<script type="application/json" id="rows">(.*?)</script>', re.DOTALL)


def write_page(
    path: Path,
    title: str,
    cards: Sequence[Card],
    thumbnails: Thumbnails,
    progress: Callable[[int, int], None],
) -> None:
    """Write the page; full pictures are linked relative to it, small ones are inside.

    A page that is opened by a double click may not read the files beside it, so pictures to be
    copied are inside as well, but for those of very many rows, which would make it heavy.
    Raises UnusableError where the file cannot be written.
    """
    wholes = list(dict.fromkeys(whole for card in cards for whole in card.sets))
    keys = {whole: f"set-{number}" for number, whole in enumerate(wholes, 1)}
    keys |= {card.picture: str(card.row) for card in cards if card.picture}
    copied = len(keys) <= COPIED
    data, copies = [], []
    for number, card in enumerate(cards, 1):
        small = _packed(thumbnails.of(card.picture, CARD)) if card.picture else ""
        data.append(_said(card, path.parent, small, keys))
        progress(number, len(cards))
    for picture, key in keys.items() if copied else ():
        copies.append(_copy(key, _packed(thumbnails.of(picture, COPY))))
    write_bytes(path, _page(title, data, copies).encode("utf-8"))


def orders_on(path: Path) -> dict[str, set[Path]]:
    """By order, the pictures on a page that `write_page` wrote; none where there is no such.

    Raises UnusableError where something of that name cannot be read.
    """
    orders: dict[str, set[Path]] = {}
    for order, links in _pictured(path):
        orders.setdefault(order, set()).update(path.parent / unquote(link) for link in links)
    return orders


def _pictured(path: Path) -> list[tuple[str, list[str]]]:
    """The order and the links of each row that has a picture."""
    try:
        page = path.read_text(encoding="utf-8", errors="replace")
    except FileNotFoundError:
        return []
    except OSError as error:
        above = next((each for each in path.parents if each.is_file()), None)
        if above:
            raise UnusableError(
                f"{above} is a file where the folder of pictures has to be; move it away and run "
                "this again."
            ) from error
        raise UnusableError(
            f"{path} cannot be read as a contact sheet ({error.strerror}); move it away and run "
            "this again."
        ) from error
    found = ROWS.search(page)
    try:
        rows = json.loads(found[1]) if found else []
        return [
            (str(row["order"]), [str(row["picture"]), *(str(link) for link, _ in row["sets"])])
            for row in rows
            if row["picture"]
        ]
    except (ValueError, KeyError, TypeError, RecursionError):  # not a page of ours
        return []


def _packed(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")


def _copy(key: str, data: str) -> str:
    """Apart from the rows, because it is read only when it is wanted."""
    return f'<script type="text/plain" id="copy-{key}">{data}</script>' if data else ""


def _said(card: Card, folder: Path, small: str, keys: Mapping[Path, str]) -> dict[str, Any]:
    return {
        "order": card.order,
        "row": card.row,
        "buyer": card.buyer,
        "title": card.title,
        "verdict": card.verdict,
        "code": card.code,
        "texts": card.texts,
        "chosen": card.chosen,
        "flags": card.flags,
        "message": card.message,
        "picture": _link(card.picture, folder) if card.picture else "",
        "sets": [[_link(each, folder), keys[each]] for each in card.sets],
        "apart": card.apart,
        "small": small,
    }


def _link(picture: Path, folder: Path) -> str:
    return quote(os.path.relpath(picture.resolve(), folder.resolve()).replace(os.sep, "/"))


def _page(title: str, data: list[dict[str, Any]], copies: list[str]) -> str:
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
        copies="\n".join(copies),
    )
