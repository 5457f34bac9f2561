"""Design folders: design.toml and one drawn SVG a layer. `templates/README.md` has every key."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection, Iterable, Sequence
from pathlib import Path

from proofgen import config
from proofgen.designs.design import Slot, SymbolSlot, Template
from proofgen.designs.read_growth import check_growth, read_growth
from proofgen.designs.read_layer import ROW, DrawnLayer, check_alike, read_bytes, read_layer
from proofgen.designs.read_slot import identity_table, read_slot
from proofgen.designs.read_symbols import SYMBOLS, read_symbol_slots, usable_symbols
from proofgen.designs.symbols import FIELD
from proofgen.designs.texts import NONE
from proofgen.designs.when import check_when, names_of, read_when
from proofgen.errors import UnusableError
from proofgen.orders.order import ORDER
from proofgen.resources import folder
from proofgen.workshop.workshop import USUAL_MESSAGE, Workshop

FILE = "design.toml"
NO_HANGER = NONE
KEYS = (
    "format",
    "title",
    "needed",
    "hangers",
    "finishes",
    "symbols",
    "layers",
    "slots",
    "growth",
    "when",
    "sizes",
    "family",
    "message",
)
SMALLEST, LARGEST = 0.25, 4.0  # factors of a design's size


def design_folders(folders: Iterable[Path]) -> tuple[Path, ...]:
    """The design folders in these folders, in the order of ids; UnusableError for one id twice."""
    found: dict[str, Path] = {}
    for each in folders:
        for file in sorted(each.glob(f"*/{FILE}")):
            here = file.parent
            if here.name in found:
                raise UnusableError(
                    f"{here}: {found[here.name]} is a design of that name already; "
                    f"rename one of the folders."
                )
            found[here.name] = here
    return tuple(here for _, here in sorted(found.items()))


def read_template(place: Path, workshop: Workshop, own: Sequence[Path] = ()) -> Template:
    """Read one design folder, whose name is the design's id; UnusableError where it is broken.

    `own` are folders of symbols that a row may choose from beside those that ship.
    """
    file = place / FILE
    table = config.read_toml(file)
    config.check_keys(table, KEYS, str(file))
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", place.name):
        raise UnusableError(f"{place}: a design's folder is named in a-z, 0-9 and '-' only.")
    growth = read_growth(table, str(file))
    when = read_when(table, str(file))
    layers = _layers(table, file, workshop, names_of(when))
    symbol_slots = read_symbol_slots(table, file, {drawn.layer.name: drawn for drawn in layers})
    slots = _slots(table, file, layers, symbol_slots, workshop)
    check_growth(growth, layers, slots, str(file))
    drawings, broken = (
        usable_symbols(folder("templates") / SYMBOLS, own) if symbol_slots else ((), ())
    )
    template = Template(
        id=place.name,
        title=config.text(table, "title", str(file)),
        folder=str(place),
        size=layers[0].size,
        layers=tuple(drawn.layer for drawn in layers),
        slots=slots,
        needed=config.texts(table, "needed", str(file), ()),
        hangers=config.texts(table, "hangers", str(file), ()),
        finishes=_finishes(table, file, workshop),
        sha256=_digest(file, layers),
        symbol_drawings=drawings,
        broken_symbols=broken,
        symbol_slots=symbol_slots,
        growth=growth,
        when=when,
        sizes=_sizes(table, str(file)),
        family=config.yes_or_no(table, "family", str(file), True),
        message=config.choice(
            table, "message", str(file), tuple(dict(workshop.messages)), USUAL_MESSAGE
        ),
    )
    _check_fields(template, file)
    check_when(template, str(file))
    _check_default_symbols(template, file)
    _check_hangers(template, file, workshop)
    _check_finishes(template, file, workshop)
    return template


def _digest(file: Path, layers: Sequence[DrawnLayer]) -> str:
    """Over the digests of design.toml and of the drawings, in the order of layers."""
    whole = hashlib.sha256(hashlib.sha256(read_bytes(file)).digest())
    for drawn in layers:
        whole.update(bytes.fromhex(drawn.layer.sha256))
    return whole.hexdigest()


def _layers(
    table: config.Table, file: Path, workshop: Workshop, some: Collection[str]
) -> tuple[DrawnLayer, ...]:
    tables = config.tables(table, "layers", str(file))
    layers = tuple(read_layer(each, i, file, workshop, some) for i, each in enumerate(tables))
    first = layers[0]
    for drawn in layers:
        if sum(drawn.layer.name == other.layer.name for other in layers) > 1:
            raise UnusableError(f"{file}: two layers are named '{drawn.layer.name}'.")
        check_alike(drawn.drawing, drawn.size, first.drawing, first.size)
    return layers


def _slots(
    table: config.Table,
    file: Path,
    layers: Sequence[DrawnLayer],
    symbol_slots: Sequence[SymbolSlot],
    workshop: Workshop,
) -> tuple[Slot, ...]:
    by_name = {drawn.layer.name: drawn for drawn in layers}
    tables = config.tables(table, "slots", str(file), [])
    slots = [
        read_slot(each, f"{file}, slot {i}", by_name, workshop) for i, each in enumerate(tables, 1)
    ]
    taken = [(slot.layer, slot.side, slot.field) for slot in slots]
    if len({(layer, field) for layer, _, field in taken}) != len(taken):
        raise UnusableError(f"{file}: two slots letter the same field on the same layer.")
    taken += [(slot.layer, slot.side, FIELD) for slot in symbol_slots]
    for name, side in ((d.layer.name, side) for d in layers for side in d.sides.values()):
        if side.identity and (name, side.side, ORDER) not in taken:
            own = identity_table(name, side.side)
            slots.append(read_slot(own, str(file), by_name, workshop))
            taken.append((name, side.side, ORDER))
        for field in (*side.zones, *side.lines):
            if (name, side.side, field) not in taken:
                role = "zone" if field in side.zones else "path"
                raise UnusableError(
                    f"{side.drawing}, element '{role}.{field}': {file.name} has no slot for "
                    f"'{field}' on layer '{name}'."
                )
    return tuple(slots)


def _sizes(table: config.Table, file: str) -> tuple[tuple[str, float], ...]:
    """Ids with factors in the order of the file."""
    own = config.table(table, "sizes", file, {})
    place = f"{file}, sizes"
    return tuple(
        (size, config.number(own, size, place, least=SMALLEST, most=LARGEST)) for size in own
    )


def _check_fields(template: Template, file: Path) -> None:
    """Everything that names a field names one that is lettered."""
    named = [
        *(("needs", field) for field in template.needed),
        *(("grows for", growth.field) for growth in template.growth),
        *(("has a backing of", la.backing.field) for la in template.layers if la.backing),
    ]
    for says, field in named:
        if field not in template.fields:
            raise UnusableError(
                f"{file}: {says} '{field}', which no slot letters; "
                f"{config.nearest(field, template.fields)}"
            )


def _check_default_symbols(template: Template, file: Path) -> None:
    broken = [symbol.id for symbol in template.broken_symbols]
    for slot in template.symbol_slots:
        if slot.default and slot.default not in (*template.symbols, *broken):
            raise UnusableError(
                f"{file}: unknown symbol '{slot.default}'; "
                f"{config.nearest(slot.default, template.symbols)}"
            )


def _check_hangers(template: Template, file: Path, workshop: Workshop) -> None:
    known = [*(hanger.id for hanger in workshop.hangers), NO_HANGER]
    for hanger in template.hangers:
        if hanger not in known:
            raise UnusableError(
                f"{file}: unknown hanger '{hanger}'; {config.nearest(hanger, known)}"
            )
    hangs = any(hanger != NO_HANGER for hanger in template.hangers)
    if hangs and not any(layer.hole for layer in template.layers):
        raise UnusableError(f"{file}: has hangers, but no drawing has a circle with the id 'hole'.")
    if not hangs and any(layer.hole for layer in template.layers):
        raise UnusableError(f"{file}: a hole is drawn; list the hangers that it is for.")


def _finishes(table: config.Table, file: Path, workshop: Workshop) -> tuple[str, ...]:
    """Those that the design lists, then those that the workshop adds to it."""
    listed = config.texts(table, "finishes", str(file), ())
    design = file.parent.name
    added = (f.id for f in workshop.finishes if f.designs is None or design in f.designs)
    return tuple(dict.fromkeys((*listed, *added))) if listed else ()


def _check_finishes(template: Template, file: Path, workshop: Workshop) -> None:
    known = [finish.id for finish in workshop.finishes]
    for finish in template.finishes:
        if finish not in known:
            raise UnusableError(
                f"{file}: unknown finish '{finish}'; {config.nearest(finish, known)}"
            )
    chosen = any(layer.finish == ROW for layer in template.layers)
    if chosen and not template.finishes:
        raise UnusableError(
            f"{file}: a layer's finish is '{ROW}'; list the finishes to choose from."
        )
    if not chosen and template.finishes:
        raise UnusableError(f"{file}: lists finishes, but no layer has the finish '{ROW}'.")
