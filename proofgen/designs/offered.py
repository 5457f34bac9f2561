"""What a design lets a row choose from; the first of each is what a blank cell means."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import starmap

from proofgen.designs.design import Template
from proofgen.designs.read import NO_HANGER
from proofgen.workshop.workshop import Finish, Hanger, Workshop

NOTHING = Hanger(NO_HANGER, "none", 0.0, 0.0, (0, 0, 0))


@dataclass(frozen=True, slots=True)
class Size:
    """A size that a row may choose."""

    id: str
    factor: float

    @property
    def title(self) -> str:
        """What a person reads."""
        return self.id.replace("-", " ")


def finishes(template: Template, workshop: Workshop) -> tuple[Finish, ...]:
    """Those for the layers whose finish the row chooses; none where there are no such layers."""
    return tuple(workshop.finish(wanted) for wanted in template.finishes)


def hangers(template: Template, workshop: Workshop) -> tuple[Hanger, ...]:
    """Those that the design has a place for."""
    known = {hanger.id: hanger for hanger in (NOTHING, *workshop.hangers)}
    return tuple(known[wanted] for wanted in template.hangers)


def sizes(template: Template) -> tuple[Size, ...]:
    """At least one, also where the design names none."""
    return tuple(starmap(Size, template.sizes)) or (Size("standard", 1.0),)
