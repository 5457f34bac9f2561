"""Design folders: design.toml and one drawn SVG a layer. `templates/README.md` has every key."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from pathlib import Path

from proofgen import config
from proofgen.designs.design import Growth, Slot, Template
from proofgen.designs.read_growth import read_growth
from proofgen.designs.read_layer import ROW, DrawnLayer, read_bytes, read_layer
from proofgen.designs.read_slot import read_slot
from proofgen.errors import UnusableError
from proofgen.workshop.workshop import Workshop

FILE = "design.toml"
NO_HANGER = "none"
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
    "family",
)


def read_templates(folders: Sequence[Path], workshop: Workshop) -> dict[str, Template]:
    """Every design in these folders of design folders, by id, in the order of ids."""
    found: dict[str, Template] = {}
    for folder in folders:
        if not folder.is_dir():
            raise UnusableError(f"{folder}: there is no such folder of designs.")
        for file in sorted(folder.glob(f"*/{FILE}")):
            template = read_template(file.parent, workshop)
            if template.id in found:
                raise UnusableError(
                    f"{file.parent}: {found[template.id].folder} is a design of that name "
                    f"already; rename one of the folders."
                )
            found[template.id] = template
    return dict(sorted(found.items()))


def read_template(folder: Path, workshop: Workshop) -> Template:
    """Read one design folder, whose name is the design's id; UnusableError where it is broken."""
    file = folder / FILE
    table = config.read_toml(file)
    config.check_keys(table, KEYS, str(file))
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", folder.name):
        raise UnusableError(f"{folder}: a design's folder is named in a-z, 0-9 and '-' only.")
    growth = read_growth(table, str(file))
    layers = _layers(table, file, growth, workshop)
    template = Template(
        id=folder.name,
        title=config.text(table, "title", str(file)),
        folder=str(folder),
        size=layers[0].size,
        layers=tuple(drawn.layer for drawn in layers),
        slots=_slots(table, file, layers, workshop),
        needed=config.texts(table, "needed", str(file), ()),
        hangers=config.texts(table, "hangers", str(file), ()),
        finishes=config.texts(table, "finishes", str(file), ()),
        symbols=config.texts(table, "symbols", str(file), ()),
        sha256=_digest(file, layers),
        growth=growth,
        family=config.yes_or_no(table, "family", str(file), True),
    )
    _check_needed(template, file)
    _check_hangers(template, file, workshop)
    _check_finishes(template, file, workshop)
    _check_growth(template, file)
    return template


def _digest(file: Path, layers: Sequence[DrawnLayer]) -> str:
    """Over the digests of design.toml and of the drawings, in the order of layers."""
    whole = hashlib.sha256(hashlib.sha256(read_bytes(file)).digest())
    for drawn in layers:
        whole.update(bytes.fromhex(drawn.layer.sha256))
    return whole.hexdigest()


def _layers(
    table: config.Table, file: Path, growth: tuple[Growth, ...], workshop: Workshop
) -> tuple[DrawnLayer, ...]:
    tables = config.tables(table, "layers", str(file))
    layers = tuple(
        read_layer(each, depth, file, growth, workshop) for depth, each in enumerate(tables)
    )
    first = layers[0]
    for drawn in layers:
        if sum(drawn.layer.name == other.layer.name for other in layers) > 1:
            raise UnusableError(f"{file}: two layers are named '{drawn.layer.name}'.")
        if max(abs(a - b) for a, b in zip(drawn.size, first.size, strict=True)) > 1e-6:
            raise UnusableError(
                f"{drawn.drawing}: is {_size(drawn)}, but {first.drawing} is {_size(first)}; "
                f"draw all layers at the same size, each in its place."
            )
    return layers


def _size(drawn: DrawnLayer) -> str:
    width, height = drawn.size
    return f"{width:.6g} by {height:.6g} mm"


def _slots(
    table: config.Table, file: Path, layers: Sequence[DrawnLayer], workshop: Workshop
) -> tuple[Slot, ...]:
    by_name = {drawn.layer.name: drawn for drawn in layers}
    tables = config.tables(table, "slots", str(file), [])
    slots = tuple(
        read_slot(each, f"{file}, slot {i}", by_name, workshop) for i, each in enumerate(tables, 1)
    )
    taken = [(slot.layer, slot.field) for slot in slots]
    if len(set(taken)) != len(taken):
        raise UnusableError(f"{file}: two slots letter the same field on the same layer.")
    for drawn in layers:
        for field in drawn.zones:
            if (drawn.layer.name, field) not in taken:
                raise UnusableError(
                    f"{drawn.drawing}, element 'zone.{field}': {file.name} has no slot for "
                    f"'{field}' on layer '{drawn.layer.name}'."
                )
    return slots


def _check_growth(template: Template, file: Path) -> None:
    for growth in template.growth:
        if growth.field not in template.fields:
            raise UnusableError(
                f"{file}: grows for '{growth.field}', which no slot letters; "
                f"{config.nearest(growth.field, template.fields)}"
            )


def _check_needed(template: Template, file: Path) -> None:
    for field in template.needed:
        if field not in template.fields:
            raise UnusableError(
                f"{file}: needs '{field}', which no slot letters; "
                f"{config.nearest(field, template.fields)}"
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
