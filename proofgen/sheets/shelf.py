"""Where a layer that is the same for many buyers is counted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import isclose

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.designs.design import Template
from proofgen.designs.offered import NOTHING, Size, finishes, hangers, sizes
from proofgen.designs.read_layer import ROW
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Finish, Hanger, Workshop

YEAR = "year"


@dataclass(frozen=True, slots=True)
class Shelf:
    """A layer in stock. `dated` says that it bears the edition's year and dies with the season."""

    subject: str
    title: str
    dated: bool


@dataclass(frozen=True, slots=True)
class Choice:
    """What of a row's choices changes a layer that is no buyer's own."""

    size: Size
    hanger: Hanger
    finish: Finish


def shelf(template: Template, layer: str, edition: int, choice: Choice) -> Shelf:
    """What a layer of a design is counted under: another drawing of it is another layer, and so is
    another size, hole, or finish that is on before it is engraved.
    """
    drawn = next(each for each in template.layers if each.name == layer)
    dated = any(slot.layer == layer and slot.field == YEAR for slot in template.slots)
    year = f" {edition}" if dated else ""
    said: list[Size | Hanger | Finish] = []
    if choice.size.factor != sizes(template)[0].factor:
        said.append(choice.size)
    if drawn.hole and choice.hanger.id != template.hangers[0]:
        said.append(choice.hanger)
    if drawn.finish == ROW and choice.finish.when == "before":
        said.append(choice.finish)
    subject = f"{template.id}/{layer}/{drawn.sha256[:16]}{year}"
    return Shelf(
        "".join((subject, *(f" {each.id}" for each in said))),
        "".join((f"{template.title}, {layer}{year}", *(f", {each.title}" for each in said))),
        dated,
    )


def shelf_of(
    layer: Layer, artwork: Artwork, order: Order, template: Template | None, workshop: Workshop
) -> Shelf | None:
    """Where a layer of a piece may be taken from; None where it is the buyer's own, or has grown
    for a long name.
    """
    if not layer.shared or template is None or artwork.design != template.id:
        return None
    size = next((s for s in sizes(template) if _is_of(artwork.size, template, s)), None)
    hanger = next((h for h in hangers(template, workshop) if h.id == artwork.hanger), NOTHING)
    if size is None:
        return None
    choice = Choice(size, hanger, workshop.finish(layer.finish))
    found = shelf(template, layer.name, workshop.edition_year, choice)
    fits = not found.dated or order.field(YEAR) == str(workshop.edition_year)
    return found if fits else None


def shelves(template: Template, layer: str, workshop: Workshop) -> tuple[Shelf, ...]:
    """Every one that a layer of a design can be counted on."""
    found = (
        shelf(template, layer, workshop.edition_year, each)
        for each in _choices(template, layer, workshop)
    )
    return tuple({each.subject: each for each in found}.values())


def _choices(template: Template, layer: str, workshop: Workshop) -> Iterator[Choice]:
    drawn = next(each for each in template.layers if each.name == layer)
    chosen = finishes(template, workshop) if drawn.finish == ROW else ()
    done = chosen or (workshop.finish(drawn.finish),)
    hung = hangers(template, workshop) or (NOTHING,)
    yield from (Choice(*each) for each in product(sizes(template), hung, done))


def _is_of(size: tuple[float, float], template: Template, wanted: Size) -> bool:
    return all(
        isclose(a, b * wanted.factor, rel_tol=1e-6)
        for a, b in zip(size, template.size, strict=True)
    )
