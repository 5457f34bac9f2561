"""The workshop's folder of symbols, and the places that a design has for them."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from pathlib import Path

from proofgen import config
from proofgen.designs.design import BrokenSymbol, SymbolDrawing, SymbolSlot
from proofgen.designs.drawing import read_drawing
from proofgen.designs.read_layer import DrawnLayer, read_bytes
from proofgen.designs.read_slot import drawn_side, zone_of
from proofgen.designs.roles import role_of
from proofgen.designs.symbols import FIELD
from proofgen.errors import UnusableError
from proofgen.geometry.path import join

SYMBOLS = "symbols"  # the folder among the designs that ship, and among the maker's
SYMBOL_KEYS = ("layer", "side", "made", "default")
MADE = ("engrave", "cut")
AREA = "engrave-area"
NONE = "none"  # what a row writes that wants no symbol


def read_symbols(folders: Iterable[Path]) -> tuple[SymbolDrawing, ...]:
    """The symbols of these folders, in the order of ids; a later folder's stand for earlier ones'.

    A folder that is not there has none.
    """
    files = {file.stem: file for each in folders for file in sorted(each.glob("*.svg"))}
    return tuple(_symbol(file, read_bytes(file)) for _, file in sorted(files.items()))


def usable_symbols(
    shipped: Path, own: Iterable[Path]
) -> tuple[tuple[SymbolDrawing, ...], tuple[BrokenSymbol, ...]]:
    """What a row may choose, and those of the maker's own that are broken: one bad file stops
    only the rows that ask for it, also where it stands for one that ships.
    """
    drawings = {drawing.id: drawing for drawing in read_symbols([shipped])}
    broken = []
    for file in (file for each in own for file in sorted(each.glob("*.svg"))):
        try:
            drawings[file.stem] = _symbol(file, read_bytes(file))
        except UnusableError as error:
            drawings.pop(file.stem, None)
            broken.append(BrokenSymbol(file.stem, str(error).splitlines()[0]))
    return tuple(drawings[each] for each in sorted(drawings)), tuple(broken)


def read_symbol_slots(
    table: config.Table, file: Path, layers: Mapping[str, DrawnLayer]
) -> tuple[SymbolSlot, ...]:
    """The tables [[symbols]] of a design; UnusableError names the one that is wrong."""
    tables = config.tables(table, "symbols", str(file), [])
    slots = tuple(_slot(each, f"{file}, symbol {i}", layers) for i, each in enumerate(tables, 1))
    if len({slot.layer for slot in slots}) != len(slots):
        raise UnusableError(f"{file}: two tables [[symbols]] are for the same layer.")
    return slots


def _slot(table: config.Table, place: str, layers: Mapping[str, DrawnLayer]) -> SymbolSlot:
    config.check_keys(table, SYMBOL_KEYS, place)
    layer = config.choice(table, "layer", place, tuple(layers))
    drawn = drawn_side(table, place, layers[layer])
    made = config.choice(table, "made", place, MADE, "engrave")
    if made == "cut" and drawn.side == "back":
        raise UnusableError(f"{place}: is cut, so its side is the front.")
    return SymbolSlot(
        layer=layer,
        zone=zone_of(FIELD, drawn),
        made=made,
        default=config.text(table, "default", place, ""),
        side=drawn.side,
    )


@lru_cache(maxsize=64)
def _symbol(file: Path, data: bytes) -> SymbolDrawing:
    """The symbol in these bytes; several designs share one folder of symbols."""
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", file.stem):
        raise UnusableError(f"{file}: a symbol's file is named in a-z, 0-9 and '-' only.")
    if file.stem == NONE:
        raise UnusableError(f"{file}: '{NONE}' leaves the symbol out; name the file otherwise.")
    shapes = read_drawing(data, str(file)).shapes
    for shape in shapes:
        if role_of(shape, str(file))[0] != AREA:
            raise UnusableError(
                f"{file}, element '{shape.id}': a symbol is one or more elements '{AREA}'."
            )
        if not all(contour.closed for contour in shape.path.contours):
            raise UnusableError(f"{file}, element '{shape.id}': its outline is not closed.")
    if not shapes:
        raise UnusableError(f"{file}: nothing is drawn in it.")
    path = join(shape.path for shape in shapes)
    return SymbolDrawing(file.stem, path, hashlib.sha256(data).hexdigest())
