"""Artwork as bytes and back: format 1, which every later release reads.

UTF-8 JSON: {"format": 1, "design", "title", "size": [w, h], "hanger", "layers", "lettering"}, keys
named as the attributes of `Artwork`, `Layer`, `Mark` and `Lettering`, lengths in millimetres, null
for what is infinite. A path is a text of absolute SVG commands M, L, Q, C and Z (SVG 2, chapter 9)
with six decimals at most; Z ends a closed contour. The order is not in it.
"""

from __future__ import annotations

import json
import math
from functools import lru_cache
from typing import Any

import numpy as np

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.designs.design import Mark
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Point
from proofgen.geometry.path import Path
from proofgen.lettering.lettering import Lettering, SetLine
from proofgen.orders.order import Order

FORMAT = 1
POINTS = {"L": 1, "Q": 2, "C": 3}
LETTERS = {*POINTS, "Z"}
# A segment of so many points as it is written.
FORMS = {count: f"{letter} {'%.6f ' * 2 * count}" for letter, count in POINTS.items()}
START = "M %.6f %.6f "
# What does not count at the end of a number: of a whole one, and, in turn, of others.
WHOLE, NOUGHTS = ".000000 ", ("000 ", "00 ", "0 ")
MEASURES = ("thinnest_stroke", "narrowest_gap", "clearance")


def encoded(artwork: Artwork) -> bytes:
    """The artwork without its order; the same bytes for the same artwork."""
    whole = {
        "format": FORMAT,
        "design": artwork.design,
        "title": artwork.title,
        "size": artwork.size,
        "hanger": artwork.hanger,
        "layers": [_layer(layer) for layer in artwork.layers],
        "lettering": [_lettering(item) for item in artwork.lettering],
    }
    text = json.dumps(whole, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.encode("utf-8")


def decoded(data: bytes, order: Order) -> Artwork:
    """The artwork of these bytes, for an order; UnusableError for a format that is not known."""
    whole = json.loads(data)
    if whole["format"] != FORMAT:
        raise UnusableError(
            f"the recorded artwork of order {order.number} is in format {whole['format']}, which "
            f"a later proofgen wrote; install that one."
        )
    width, height = whole["size"]
    return Artwork(
        order=order,
        design=whole["design"],
        title=whole["title"],
        size=(width, height),
        layers=tuple(_layer_of(layer) for layer in whole["layers"]),
        lettering=tuple(_lettering_of(item) for item in whole["lettering"]),
        hanger=whole["hanger"],
    )


def _layer(layer: Layer) -> dict[str, Any]:
    return {
        "name": layer.name,
        "material": layer.material,
        "finish": layer.finish,
        "depth": layer.depth,
        "shared": layer.shared,
        "rotation": layer.rotation,
        "marks": [_mark(mark) for mark in layer.marks],
    }


def _layer_of(table: dict[str, Any]) -> Layer:
    marks = tuple(Mark(**{**mark, "path": _path_of(mark["path"])}) for mark in table["marks"])
    return Layer(**{**table, "rotation": tuple(table["rotation"]), "marks": marks})


def _mark(mark: Mark) -> dict[str, str]:
    return {
        "operation": mark.operation,
        "path": _path(mark.path),
        "field": mark.field,
        "side": mark.side,
        "element": mark.element,
    }


def _lettering(item: Lettering) -> dict[str, Any]:
    lines = [{"text": x.text, "glyphs": x.glyphs, "origin": x.origin} for x in item.lines]
    return {
        "field": item.field,
        "layer": item.layer,
        "text": item.text,
        "face": item.face,
        "axes": item.axes,
        "tracking": item.tracking,
        "cap_height": item.cap_height,
        "narrowed": item.narrowed,
        "lines": lines,
        "outline": _path(item.outline),
        **{each: _finite(getattr(item, each)) for each in MEASURES},
    }


def _lettering_of(table: dict[str, Any]) -> Lettering:
    lines = tuple(
        SetLine(line["text"], tuple(line["glyphs"]), _pair(line["origin"]))
        for line in table["lines"]
    )
    axes = tuple((tag, value) for tag, value in table["axes"])
    measures = {each: math.inf if table[each] is None else table[each] for each in MEASURES}
    outline = _path_of(table["outline"])
    return Lettering(**{**table, "axes": axes, "lines": lines, "outline": outline, **measures})


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _pair(values: list[float]) -> Point:
    x, y = values
    return x, y


@lru_cache(maxsize=256)
def _path(path: Path) -> str:
    # All numbers are written at once, since most of an artwork is numbers; then whole ones lose
    # their decimals, marked so that their own noughts stay, and the others the noughts they end in.
    form: list[str] = []
    for degrees, closed in path.kinds:
        form.append(START)
        form += [FORMS[degree] for degree in degrees]
        form += ["Z "] if closed else []
    numbers = path.points.ravel().tolist()
    text = "".join(form) % tuple(numbers)
    text = text.replace("-0.000000 ", "0.000000 ").replace(WHOLE, "| ")
    for noughts in NOUGHTS:
        text = text.replace(noughts, " ")
    return text.replace("|", "").rstrip(" ")


def _path_of(text: str) -> Path:
    runs = [run.split() for run in text.split("M")[1:]]
    kinds = tuple(
        (bytes([POINTS[word] for word in run if word in POINTS]), run[-1] == "Z") for run in runs
    )
    numbers = [float(word) for run in runs for word in run if word not in LETTERS]
    return Path.of(np.array(numbers).reshape(-1, 2), kinds)
