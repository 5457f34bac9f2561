"""A sample order made on a design, to see whether it takes one."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from proofgen.artwork.artwork import Made
from proofgen.artwork.compose import compose, fit_slots
from proofgen.artwork.settle import Piece, prepared, settled
from proofgen.designs.design import Template
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag, FlagKind, Severity
from proofgen.flags.kinds import (
    ENGRAVING_NEAR_CUT,
    GAP_TOO_NARROW,
    GLYPH_MISSING,
    HOLE_NEAR_EDGE,
    STROKE_TOO_THIN,
)
from proofgen.lettering.bench import Bench
from proofgen.orders.order import Order, Source
from proofgen.workshop.workshop import Workshop

# What people order: a name of common length, a short wish; a date in every other field.
TEXTS = {"name": "Katherine", "inscription": "With all our love"}
OTHER = "12 May 1950"


# What in a design cures a fault that stops a text; of other faults the kind's own advice is told.
CURES: dict[FlagKind, str] = {
    STROKE_TOO_THIN: "Raise the wanted cap height, with room for it in the zone, name a face with "
    "thicker strokes, or let standing letters be `bolder`.",
    GAP_TOO_NARROW: "Raise the wanted cap height, with room for it in the zone, or name a face "
    "with wider gaps.",
    GLYPH_MISSING: "Name a face that has them.",
    ENGRAVING_NEAR_CUT: "Move the zone, or the cut, so that they lie further apart.",
    HOLE_NEAR_EDGE: "Move the hole, or let more wood grow round it.",
}


def sample_order(
    template: Template, texts: Mapping[str, str], workshop: Workshop, hanger: str = ""
) -> Order:
    """An order of the design with sample texts in its fields, or the person's own."""
    usual = {**dict.fromkeys(template.fields, OTHER), **TEXTS}
    usual["year"] = str(workshop.edition_year)
    usual |= {slot.field: slot.usual for slot in template.slots if slot.usual}
    fields = tuple((f, texts.get(f, usual[f])) for f in template.fields)
    options = (("hanger", hanger),) if hanger else ()
    return Order("SAMPLE", 1, Source("", "", 1), template.id, fields, options)


def sample(template: Template, texts: Mapping[str, str], workshop: Workshop, bench: Bench) -> Made:
    """The design with sample texts in its fields, or the person's own."""
    order = sample_order(template, texts, workshop)
    design, flags = prepared(template, order, workshop, bench)
    if design is None:
        return Made(order, None, flags)
    (design,) = settled([Piece(order, design)], False, workshop, bench)
    return compose(order, design, fit_slots(order, design, workshop, bench), workshop, bench, flags)


def what_can_be_made(
    template: Template, made: Made, picture: str, workshop: Workshop, bench: Bench
) -> tuple[Made, tuple[Flag, ...]]:
    """The sample for a picture: without the texts that stop it, if any, and that is said."""
    if made.artwork:
        return made, ()
    failing = dict.fromkeys(_field(flag) for flag in made.flags if _stops(flag))
    texts = {**dict(made.order.fields), **dict.fromkeys(failing, "")}
    rest = sample(replace(template, needed=()), texts, workshop, bench)
    kind = kinds.PICTURE_WITHOUT if rest.artwork else kinds.PICTURE_NOT_DRAWN
    return rest, (Flag(kind, picture, None, None, " and ".join(failing)),)


def sample_flags(made: Made, file: str, found: Collection[Flag]) -> Iterator[Flag]:
    """A finding for each flag that stops the sample, unless it is found in the drawing already."""
    near_edge = any(flag.kind is kinds.DRAWN_HOLE_NEAR_EDGE for flag in found)
    for flag in made.flags:
        if _stops(flag) and not (flag.kind is HOLE_NEAR_EDGE and near_edge):
            field = _field(flag)
            text = made.order.field(field) or dict(made.order.fields).get("name", "")
            where, cure = f"{file}, {field}", CURES.get(flag.kind, "")
            yield Flag(kinds.SAMPLE_FAILS, where, flag.says, None, f"'{text}'", cure)


def _stops(flag: Flag) -> bool:
    return flag.kind.severity is Severity.STOP


def _field(flag: Flag) -> str:
    """The field of an order that a flag is about."""
    return flag.where.partition(", ")[2]
