"""What the way in which a shape is made asks of it."""

from __future__ import annotations

from proofgen.workshop.workshop import Limits, Machine


def limits_as_made(made: str, limits: Limits, machine: Machine) -> tuple[float, float, float]:
    """The least stroke, the least gap, and how much wider strokes come out than drawn; mm.

    `made` is engrave, cut or stand. Engraving grows by a dot. What is cut through is an opening,
    which grows by the kerf, and its gaps are webs. What stands is wood, which loses the kerf; its
    gaps may be as narrow as a cut.
    """
    if made == "cut":
        return limits.cut_opening.least, limits.web.least, machine.kerf
    if made == "stand":
        return limits.standing_stroke.least, machine.kerf, -machine.kerf
    return limits.engraved_stroke.least, limits.engraved_gap.least, machine.dot
