"""What lettering is held against in one slot."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.workshop.workshop import Bound


@dataclass(frozen=True, slots=True)
class Rules:
    """Limits on what comes out, in millimetres; `dot` is how much a stroke grows, a gap closes.

    It is negative where strokes lose what a cut takes.
    """

    material: str
    stroke: float
    gap: float
    dot: float
    squeeze: float
    squeeze_joined: float
    x_height_joined: Bound

    @property
    def drawn_stroke(self) -> float:
        """The thinnest stroke that may be drawn."""
        return max(self.stroke - self.dot, 0.0)

    @property
    def drawn_gap(self) -> float:
        """The narrowest gap that may be drawn."""
        return self.gap + self.dot
