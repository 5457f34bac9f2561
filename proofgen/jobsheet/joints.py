"""Where glue goes between the layers of a piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from proofgen.geometry.overlap import glued
from proofgen.jobsheet.data import Joint, Tray
from proofgen.jobsheet.tags import body


def joints(trays: Iterable[Tray], inset: float) -> Iterator[Joint]:
    """Of each piece of several layers a joint for each pair that touches; copies share theirs."""
    copies: dict[tuple[int, str], list[Tray]] = {}
    for tray in trays:
        copies.setdefault((tray.line, tray.code), []).append(tray)
    for same in copies.values():
        numbers = tuple(tray.number for tray in same)
        layers = [each.layer for each in same[0].layers]
        for rear, front in pairwise(layers):
            below, above = body(rear), body(front)
            glue, covered, touching = glued(below, above, inset)
            if touching:
                yield Joint(
                    trays=numbers,
                    title=f"{same[0].name}, {same[0].artwork.title}",
                    names=(rear.name, front.name),
                    rear=below,
                    front=above,
                    glue=glue,
                    share=covered / touching,
                )
