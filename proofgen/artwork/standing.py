"""Letters that are cut: those that stand as wood on their layer, and those that are openings."""

from __future__ import annotations

from dataclasses import dataclass, replace

from proofgen.artwork.artwork import OUTSIDE
from proofgen.artwork.crossings import GROOVE
from proofgen.designs.design import DesignLayer, Mark, Slot
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.counters import held
from proofgen.geometry.holding import held_on
from proofgen.geometry.parts import hold_disc, parts_of_welded
from proofgen.geometry.path import Path, join
from proofgen.geometry.relief import groove
from proofgen.geometry.weld import grown
from proofgen.lettering.bench import Bench
from proofgen.lettering.fit import cap_of
from proofgen.lettering.lettering import Lettering
from proofgen.lettering.naming import letters as letters_of, named
from proofgen.workshop.making import limits_as_made
from proofgen.workshop.workshop import Material, Workshop

# A bridge that spans more than this, in mm, would be seen before the letter is.
LONGEST = 12.0


@dataclass(frozen=True, slots=True)
class Cut:
    """Lettering as it is cut: the marks that make it, and what it does to its layer's outline."""

    lettering: Lettering
    marks: tuple[Mark, ...]
    outline: Path | None


def stand(
    lettering: Lettering,
    slot: Slot,
    layer: DesignLayer,
    workshop: Workshop,
    bench: Bench,
    where: str,
) -> tuple[Cut, tuple[Flag, ...]]:
    """Letters and their layer's outline as one; a part that no bridge reaches stops the row.

    Where letters run on into the wood that carries them, such as the tail of a g, a groove is
    engraved along their edge: without it a g in a bar reads as an a.
    """
    material = workshop.material(layer.material)
    width = bridge_width(material, workshop)
    letters = grown(lettering.outline, slot.bolder) if slot.bolder else lettering.outline
    base = join(mark.path for mark in layer.marks if mark.operation == OUTSIDE)
    inner = join(mark.path for mark in layer.marks if mark.operation == "cut-inside")
    whole = held_on(base, letters, width, LONGEST, inner)
    stroke = min([lettering.thinnest_stroke + 2 * slot.bolder, *(b.width for b in whole.bridges)])
    made = replace(lettering, outline=letters, thinnest_stroke=stroke)
    if whole.loose:
        face = bench.faces[lettering.face]
        known = letters_of(lettering, face, lettering.cap_height / cap_of(face, slot, bench))
        names = ", ".join(named(part, known) for part in whole.loose)
        return Cut(made, (), None), (Flag(kinds.PART_LOOSE, where, names),)
    opening = material.limits.cut_opening.least - workshop.machine.kerf
    finest = groove_limit(material, workshop)
    shown = Mark("engrave-area", groove(letters, base, inner, GROOVE, finest), lettering.field)
    marks = (*_split(whole.path, lettering.field, opening), *((shown,) if shown.path else ()))
    done = Cut(made, marks, whole.path)
    if not whole.bridges:
        return done, ()
    least = width - workshop.machine.kerf
    return done, (Flag(kinds.BRIDGED, where, str(len(whole.bridges)), least),)


def cut_through(
    lettering: Lettering, layer: DesignLayer, workshop: Workshop, where: str
) -> tuple[Cut, tuple[Flag, ...]]:
    """Letters as openings, each counter held by a strip of wood."""
    width = bridge_width(workshop.material(layer.material), workshop)
    kept = held(lettering.outline, width, LONGEST)
    if kept.loose:
        return Cut(lettering, (), None), (Flag(kinds.PART_LOOSE, where, "the inside of a letter"),)
    marks = (Mark("cut-inside", kept.openings, lettering.field),)
    number = len(kept.bridges)
    flags = (Flag(kinds.COUNTERS_HELD, where, str(number)),) if number else ()
    return Cut(replace(lettering, outline=kept.openings), marks, None), flags


def bridge_width(material: Material, workshop: Workshop) -> float:
    """How wide a bridge is drawn, so that it keeps its least width after the kerf."""
    return material.limits.standing_stroke.least + workshop.machine.kerf


def groove_limit(material: Material, workshop: Workshop) -> float:
    """The finest groove, and the finest that may be left between grooves, as drawn."""
    stroke, gap, grows = limits_as_made("engrave", material.limits, workshop.machine)
    return max(stroke, gap + grows)


def _split(whole: Path, field: str, opening: float) -> tuple[Mark, ...]:
    """Outer contours and holes as what is cut last and what is cut before.

    Holes nowhere as wide as `opening` are left as wood: their waste would stay stuck.
    """
    contours = [part.contours for part in parts_of_welded(whole)]
    outer = Path(tuple(own[0] for own in contours))
    holes = Path(hold_disc([hole for own in contours for hole in own[1:]], opening))
    inside = (Mark("cut-inside", holes, field),) if holes else ()
    return (*inside, Mark(OUTSIDE, outer, field))
