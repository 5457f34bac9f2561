"""A part of the card: what several files lay out."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.designs.design import Mark
from proofgen.testcard.letters import Label

TITLE, NUMBER = 2.5, 2.2  # cap heights
AIR, BELOW = 1.3, 1.9  # between a mark and what is written by it, and below a title


@dataclass(frozen=True, slots=True)
class Part:
    """Some of the card's marks and labels, and where they end on the right and below."""

    marks: tuple[Mark, ...]
    labels: tuple[Label, ...]
    right: float = 0.0
    foot: float = 0.0
