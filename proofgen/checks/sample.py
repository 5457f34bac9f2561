"""A sample order made on a design, to see whether it takes one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

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


def sample_flags(made: Made, file: str) -> Iterator[Flag]:
    """A finding for each flag that stops the sample."""
    for flag in made.flags:
        if flag.kind.severity is Severity.STOP:
            field = flag.where.partition(", ")[2]
            text = made.order.field(field) or made.order.number
            yield Flag(kinds.SAMPLE_FAILS, f"{file}, {field}", flag.says, None, f"'{text}'")
