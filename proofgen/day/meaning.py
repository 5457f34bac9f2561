"""What a cell means in a workshop: two spellings of one choice ask for the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from proofgen.designs.choices import Named, match
from proofgen.designs.design import Template
from proofgen.designs.offered import NOTHING, finishes, hangers, sizes
from proofgen.designs.resolve import YEAR, find
from proofgen.lettering.bench import Bench
from proofgen.orders.columns import OPTIONS
from proofgen.orders.order import Order
from proofgen.orders.typography import typographic
from proofgen.records.record import Cells, Meant, feeding
from proofgen.workshop.workshop import Workshop


def meaning(
    order: Order, templates: Mapping[str, Template], workshop: Workshop, bench: Bench
) -> Meant:
    """What each cell of this line, or of a picture of it, means: the id of a choice, the usual one
    for a blank; lettering as it is tidied, the edition's year for a blank one.
    """
    template, _ = find(templates, order.design)

    def meant(column: str, text: str) -> str:
        if column == "design":
            found, _ = find(templates, text)
            return found.id if found else text
        if column in OPTIONS:
            return _choice(column, text, template, workshop, bench)
        if column == YEAR:
            return text or str(workshop.edition_year)
        return typographic(text)[0] if workshop.typography else text

    return meant


def meanings(order: Order, meant: Meant) -> Cells:
    """What every cell of a line means, blank ones too, to be kept with its picture."""
    cells = dict(feeding(order))
    columns = dict.fromkeys((*cells, "design", YEAR, *OPTIONS))
    return tuple(sorted((column, meant(column, cells.get(column, ""))) for column in columns))


def _choice(
    column: str, text: str, template: Template | None, workshop: Workshop, bench: Bench
) -> str:
    offered, usual = _offered(column, template, workshop, bench) if template else ((), "")
    found = match(text, (*offered, NOTHING)) if text else None
    return (found.id if found else text.casefold()) or usual


def _offered(
    column: str, template: Template, workshop: Workshop, bench: Bench
) -> tuple[Sequence[Named], str]:
    """What there is to choose from, and the id of what a blank cell means."""
    if column == "symbol":
        usual = {slot.default for slot in template.symbol_slots}
        return template.symbol_drawings, usual.pop() if len(usual) == 1 else ""
    if column == "face":
        return tuple(bench.faces.values()), ""
    offered: dict[str, Sequence[Named]] = {
        "finish": finishes(template, workshop),
        "hanger": hangers(template, workshop),
        "size": sizes(template),
    }
    return offered[column], offered[column][0].id if offered[column] else ""
