"""What a slot's lettering is held against: the limits of its layer's material."""

from __future__ import annotations

from dataclasses import replace

from proofgen.designs.design import Design, Slot
from proofgen.lettering.rules import Rules
from proofgen.workshop.workshop import Limits, Material, Workshop


def rules_for(slot: Slot, design: Design, workshop: Workshop) -> Rules:
    """The rules for a slot of a design."""
    layer = next(layer for layer in design.layers if layer.name == slot.layer)
    rules = lettering_rules(slot.made, workshop.material(layer.material), workshop)
    return replace(rules, stroke=rules.stroke - 2 * slot.bolder)


def lettering_rules(made: str, material: Material, workshop: Workshop) -> Rules:
    """The rules for letters that are made so (engrave, cut or stand) in a material."""
    stroke, gap, grows = _limits(made, material.limits, workshop)
    return Rules(
        material=material.id,
        stroke=stroke,
        gap=gap,
        dot=grows,
        squeeze=workshop.narrowing.plain,
        squeeze_joined=workshop.narrowing.script,
        x_height_joined=workshop.script_x_height,
    )


def _limits(made: str, limits: Limits, workshop: Workshop) -> tuple[float, float, float]:
    """The least stroke, the least gap, and how much wider strokes come out than they are drawn.

    Engraving grows by a dot. A letter that is cut through is an opening, which grows by the kerf,
    and its gaps are webs. One that stands is wood, which loses the kerf; its gaps may be narrow.
    """
    kerf = workshop.machine.kerf
    if made == "cut":
        return limits.cut_opening.least, limits.web.least, kerf
    if made == "stand":
        return limits.standing_stroke.least, kerf, -kerf
    return limits.engraved_stroke.least, limits.engraved_gap.least, workshop.machine.dot
