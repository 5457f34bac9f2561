"""What a row asks for that its piece has not, because the design has no place for it."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.artwork.artwork import Made
from proofgen.designs.choices import match
from proofgen.designs.design import Template
from proofgen.designs.offered import NOTHING
from proofgen.designs.resolve import unused_fields
from proofgen.workshop.workshop import Workshop


def unplaced(
    made: Made, templates: Mapping[str, Template], workshop: Workshop
) -> tuple[tuple[str, str], ...]:
    """Pairs of column and what is typed there; none for a row without artwork, or of a design that
    is gone. What a recorded piece letters it has, whatever its design is by now.
    """
    template = templates.get(made.artwork.design) if made.artwork else None
    if made.artwork is None or template is None:
        return ()
    order = made.order
    lettered = {each.field for each in made.artwork.lettering}
    fields = [each for each in unused_fields(template, order, workshop) if each not in lettered]
    places = {
        "finish": template.finishes,
        "hanger": template.hangers,
        "size": template.sizes,
        "symbol": template.symbol_slots,
    }
    choices = [(column, order.option(column)) for column, there in places.items() if not there]
    return (
        *((field, order.field(field)) for field in fields),
        *((column, text) for column, text in choices if text and match(text, [NOTHING]) is None),
    )
