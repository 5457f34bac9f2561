"""What a slot's lettering is held against: the limits of its layer's material."""

from __future__ import annotations

from dataclasses import replace

from proofgen.designs.design import Design, Slot
from proofgen.lettering.rules import Rules
from proofgen.workshop.making import limits_as_made
from proofgen.workshop.workshop import Material, Workshop


def rules_for(slot: Slot, design: Design, workshop: Workshop) -> Rules:
    """The rules for a slot of a design."""
    layer = next(layer for layer in design.layers if layer.name == slot.layer)
    rules = lettering_rules(slot.made, workshop.material(layer.material), workshop)
    return replace(rules, stroke=rules.stroke - 2 * slot.bolder - slot.mended)


def lettering_rules(made: str, material: Material, workshop: Workshop) -> Rules:
    """The rules for letters that are made so (engrave, cut or stand) in a material."""
    stroke, gap, grows = limits_as_made(made, material.limits, workshop.machine)
    return Rules(
        material=material.id,
        stroke=stroke,
        gap=gap,
        dot=grows,
        squeeze=workshop.narrowing.plain,
        squeeze_joined=workshop.narrowing.script,
        x_height_joined=workshop.script_x_height,
    )
