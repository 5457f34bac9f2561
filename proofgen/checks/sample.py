"""A sample order made on a design, to see whether it takes one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from proofgen.artwork.artwork import Made
from proofgen.artwork.compose import compose, fit_slots
from proofgen.artwork.settle import Piece, prepared, settled
from proofgen.designs.design import Template
from proofgen.flags import about_drawings as kinds
from proofgen.flags.flag import Flag, Severity
from proofgen.lettering.bench import Bench
from proofgen.orders.order import Order, Source
from proofgen.workshop.workshop import Workshop

# What people order: a name of common length, a short wish; a date in every other field.
TEXTS = {"name": "Katherine", "inscription": "With all our love"}
OTHER = "12 May 1950"


def sample_order(
    template: Template, texts: Mapping[str, str], workshop: Workshop, hanger: str = ""
) -> Order:
    """An order of the design with sample texts in its fields, or the person's own."""
    usual = {**dict.fromkeys(template.fields, OTHER), **TEXTS}
    usual["year"] = str(workshop.edition_year)
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


def sample_flags(made: Made, file: str) -> Iterator[Flag]:
    """A finding for each flag that stops the sample."""
    for flag in made.flags:
        if _stops(flag):
            field = _field(flag)
            text = made.order.field(field) or made.order.number
            yield Flag(kinds.SAMPLE_FAILS, f"{file}, {field}", flag.says, None, f"'{text}'")


def _stops(flag: Flag) -> bool:
    return flag.kind.severity is Severity.STOP


def _field(flag: Flag) -> str:
    """The field of an order that a flag is about."""
    return flag.where.partition(", ")[2]
