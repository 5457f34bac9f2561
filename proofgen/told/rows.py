"""What a command prints about a run: for a person, or one JSON object for a program."""

from __future__ import annotations

import math
import os.path
from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from proofgen.designs.outlines import extent
from proofgen.designs.when import as_usual
from proofgen.flags.flag import Flag
from proofgen.told.printed import as_object

if TYPE_CHECKING:
    from proofgen.artwork.artwork import Made
    from proofgen.day.pipeline import Run
    from proofgen.designs.design import Slot, Template
    from proofgen.lettering.lettering import Lettering

_VERSION = 1
_WIDEST = 60  # letters of a name or number in the list; its flags and the JSON have all
_TIMES = "\N{MULTIPLICATION SIGN}"

# Not printable by themselves, but letters of several scripts are joined and parted by them.
_JOINERS = "\u200c\u200d"


def as_json(run: Run) -> str:
    """The rows as one JSON object: lengths in millimetres, paths absolute, infinite as null."""
    about_book = {
        "flags": [_flag(flag) for flag in run.flags],
        "results": str(run.results.resolve()) if run.results else None,
        "sets": [str(path.resolve()) for path in run.sets],
        "pages": [str(path.resolve()) for path in run.pages],
        "left": [str(path.resolve()) for path in run.left],
        "earlier": [str(path.resolve()) for path in run.earlier],
    }
    return as_object(
        {"version": _VERSION, **about_book, "rows": [_row(run, made) for made in run.rows]}
    )


def as_text(run: Run) -> str:
    """A line per row with its flags below, then how many rows there are of each verdict."""
    cells = [_cells(made) for made in run.rows]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    lines = [book_as_text(run)] if run.flags else []
    for made, row in zip(run.rows, cells, strict=True):
        padded = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        lines.append("  ".join(padded).rstrip())
        lines += [f"    {_flag_line(flag)}" for flag in made.flags]
    return "\n".join([*lines, _count(run.rows), *_written(run)])


def book_as_text(run: Run) -> str:
    """A line per flag about the book as a whole."""
    return "\n".join(_flag_line(flag) for flag in run.flags)


def designs_as_json(designs: Iterable[Template]) -> str:
    """The designs with their slots and limits as one JSON object, in millimetres; width and height
    are those of the wood as drawn, null where its letters decide them.
    """
    return as_object({"version": _VERSION, "designs": [_design(design) for design in designs]})


def designs_as_text(designs: Iterable[Template]) -> str:
    """A paragraph per design: its size and choices, and a line per slot."""
    return "\n\n".join(_paragraph(design) for design in designs)


def findings_as_json(flags: Iterable[Flag]) -> str:
    """What was found about a design as one JSON object."""
    return as_object({"version": _VERSION, "findings": [_flag(flag) for flag in flags]})


def findings_as_text(flags: Sequence[Flag]) -> str:
    """A line per finding, then how many there are."""
    count = Counter(flag.kind.severity.value for flag in flags)
    last = ", ".join(f"{count[each]} {each}" for each in ("stop", "look", "note") if count[each])
    return "\n".join([*map(_flag_line, flags), f"found: {last or 'nothing wrong'}"])


def _row(run: Run, made: Made) -> dict[str, Any]:
    row = made.order.source.row
    picture = run.pictures.get(row)
    return {
        "order": made.order.number,
        "line": made.order.line,
        "row": row,
        "verdict": made.verdict,
        "flags": [_flag(flag) for flag in made.flags],
        "code": made.code or None,
        "picture": str(picture.resolve()) if picture else None,
        "production": [str(path.resolve()) for path in run.production.get(row, ())],
        "lettering": [_lettering(item) for item in made.artwork.lettering] if made.artwork else [],
    }


def _flag(flag: Flag) -> dict[str, Any]:
    return {
        "id": flag.kind.id,
        "severity": flag.kind.severity.value,
        "where": flag.where,
        "measured": _finite(flag.measured),
        "limit": _finite(flag.limit),
        "text": flag.text,
        "remedy": flag.to_do,
    }


def _lettering(item: Lettering) -> dict[str, Any]:
    return {
        "field": item.field,
        "layer": item.layer,
        "face": item.face,
        "axes": dict(item.axes),
        "cap_height": item.cap_height,
        "narrowed": item.narrowed,
        "tracking": item.tracking,
        "thinnest_stroke": _finite(item.thinnest_stroke),
        "narrowest_gap": _finite(item.narrowest_gap),
        "clearance": _finite(item.clearance),
        "lines": [line.text for line in item.lines],
    }


def _finite(value: float | str | None) -> float | str | None:
    """JSON has no infinity (RFC 8259, section 6); it means that there was nothing to measure."""
    return None if isinstance(value, float) and not math.isfinite(value) else value


def _cells(made: Made) -> tuple[str, ...]:
    order = made.order
    name = _short(order.field("name"))
    if order.quantity > 1:
        name = f"{name} {_TIMES} {order.quantity}"
    return f"row {order.source.row}", _short(order.number), name, made.verdict, made.code


def _short(text: str) -> str:
    """`text` as shown, cut where one long cell would push every line apart."""
    return _shown(text if len(text) <= _WIDEST else f"{text[: _WIDEST - 1]}…")


def _flag_line(flag: Flag) -> str:
    return _shown(f"{flag.kind.severity.value}: {flag.text}")


def _shown(text: str) -> str:
    """`text` with a dot for whatever could steer a terminal or break the line."""
    return "".join(c if c.isprintable() or c in _JOINERS else "·" for c in text)


def _count(rows: Sequence[Made]) -> str:
    count = Counter(made.verdict for made in rows)
    verdicts = ", ".join(f"{count[verdict]} {verdict}" for verdict in ("ready", "look", "stop"))
    return f"{len(rows)} {'row' if len(rows) == 1 else 'rows'}: {verdicts}"


def _written(run: Run) -> list[str]:
    made = [path for paths in run.production.values() for path in paths]
    kinds = (
        ("proof picture{s}", run.pictures.values()),
        ("picture{s} of whole orders", run.sets),
        ("proof page{s}", run.pages),
        ("production file{s}", made),
        ("file{s} of what is no longer asked for, or not as it was,", run.earlier),
    )
    lines = [
        f"{len(paths)} {kind.format(s='' if len(paths) == 1 else 's')} in {_folder(paths)}"
        for kind, paths in kinds
        if paths
    ]
    if run.results:
        lines.append(f"results in {run.results}")
    if run.left:
        names = " and ".join(path.name for path in run.left)
        lines.append(f"not brought up to date: {names}; run proof without --order for that")
    if run.contact:
        lines.append(f"contact sheet in {run.contact}")
    if run.backup:
        lines.append(f"written into the book; before that it was copied to {run.backup}")
    return [*lines, run.not_written] if run.not_written else lines


def _folder(paths: Iterable[Path]) -> str:
    return os.path.commonpath([path.resolve().parent for path in paths])


def _design(design: Template) -> dict[str, Any]:
    size = extent(as_usual(design))
    width, height = (round(side, 2) for side in size) if size else (None, None)
    return {
        "id": design.id,
        "title": design.title,
        "width": width,
        "height": height,
        "layers": [
            {"name": layer.name, "material": layer.material, "finish": layer.finish}
            for layer in design.layers
        ],
        "slots": [_slot(slot) for slot in design.slots],
        "needed": design.needed,
        "hangers": design.hangers,
        "finishes": design.finishes,
        "symbols": design.symbols,
        "sizes": dict(design.sizes),
        "growth": [
            {"axis": g.axis, "at": g.at, "most": g.most, "field": g.field} for g in design.growth
        ],
        "family": design.family,
    }


def _slot(slot: Slot) -> dict[str, Any]:
    return {
        "field": slot.field,
        "layer": slot.layer,
        "zone": slot.zone,
        "faces": slot.faces,
        "faces_asked": slot.faces_asked,
        "cap_height": {"least": slot.cap_height.least, "wanted": slot.cap_height.wanted},
        "narrow": slot.narrow,
        "lines": slot.lines,
        "lines_asked": slot.lines_asked,
        "made": slot.made,
        "side": slot.side,
        "default": slot.usual,
    }


def _extent(design: Template) -> str:
    """How large the piece is as drawn, which is not the page."""
    size = extent(as_usual(design))
    return f"{size[0]:.0f} {_TIMES} {size[1]:.0f} mm" if size else "as large as its lettering"


def _paragraph(design: Template) -> str:
    lines = [f"{design.id}: {design.title}, {_extent(as_usual(design))}"]
    choices = ("finishes", design.finishes), ("hangers", design.hangers)
    sizes = tuple(f"{size} {_TIMES} {factor:g}" for size, factor in design.sizes)
    grows = tuple(
        f"{'wider' if g.axis == 'x' else 'taller'} by up to {g.most:g} mm for {g.field}"
        for g in design.growth
    )
    for choice, known in (
        *choices,
        ("symbols", design.symbols),
        ("sizes", sizes),
        ("grows", grows),
    ):
        if known:
            lines.append(f"    {choice}: {', '.join(known)}")
    return "\n".join([*lines, *(_slot_line(slot, design) for slot in design.slots)])


def _slot_line(slot: Slot, design: Template) -> str:
    blank = f"where blank {slot.usual!r}" if slot.usual else "may be blank"
    needed = "needed" if slot.field in design.needed else blank
    on = slot.layer if slot.side == "front" else f"the back of {slot.layer}"
    caps = f"cap height {slot.cap_height.least:g} to {slot.cap_height.wanted:g} mm"
    lines = "1 line" if slot.lines == 1 else f"up to {slot.lines} lines"
    faces = ", ".join(slot.faces)
    asked = f"; if asked {', '.join(slot.faces_asked)}" if slot.faces_asked else ""
    return f"    {slot.field} on {on} ({needed}): {caps}, {lines}, {faces}{asked}"
