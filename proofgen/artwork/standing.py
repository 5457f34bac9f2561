"""Letters that are cut: those that stand as wood on their layer, and those that are openings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from proofgen.artwork.artwork import OUTSIDE
from proofgen.artwork.crossings import GROOVE
from proofgen.designs.design import DesignLayer, Mark, Slot
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.affine import Affine
from proofgen.geometry.counters import held
from proofgen.geometry.holding import held_on
from proofgen.geometry.marks import Marked, Parted, cleared, taken_apart
from proofgen.geometry.parts import SPECK, hold_disc, overlap, parts_of_welded
from proofgen.geometry.path import Path, join
from proofgen.geometry.polygons import area
from proofgen.geometry.relief import groove
from proofgen.geometry.thicken import thickened
from proofgen.geometry.weld import grown, together, weld, without
from proofgen.lettering.bench import Bench
from proofgen.lettering.choose import cap_of
from proofgen.lettering.lettering import Lettering
from proofgen.lettering.naming import Letter, letters as letters_of, named
from proofgen.workshop.making import limits_as_made
from proofgen.workshop.workshop import Material, Workshop

# A bridge that spans more than this, in mm, would be seen before the letter is.
LONGEST = 12.0
# How far a mark may be moved to keep it off other letters, as a share of the cap height.
REACH = 0.15


@dataclass(frozen=True, slots=True)
class Cut:
    """Lettering as it is cut: the marks that make it, and what it does to its layer's outline.

    `windows` are openings of the layer that `marks` cut anew, round the letters in them.
    """

    lettering: Lettering
    marks: tuple[Mark, ...]
    outline: Path | None
    windows: tuple[Mark, ...] = ()


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
    engraved along their edge: without it a g in a bar reads as an a. Letters that lie in a window
    of the layer stand in it: what is left of the window is cut.
    """
    material = workshop.material(layer.material)
    width = bridge_width(material, workshop)
    face = bench.faces[lettering.face]
    known = letters_of(lettering, face, lettering.cap_height / cap_of(face, slot, bench))
    marked, letters = _marked(lettering, known, slot, material, workshop)
    thinnest = lettering.thinnest_stroke + 2 * slot.bolder
    if thinnest < width and slot.mended:
        letters, thinnest = thickened(letters, width, slot.mended), width
    windows = _windows(layer, letters)
    base = _opened(layer, join(mark.path for mark in windows))
    kept = (mark for mark in layer.marks if mark not in windows)
    inner = join(mark.path for mark in kept if mark.operation == "cut-inside")
    whole = held_on(base, letters, width, LONGEST, inner, marked.ties)
    stroke = min([thinnest, *(b.width for b in whole.bridges)])
    made = replace(lettering, outline=letters, thinnest_stroke=stroke)
    if whole.loose:
        names = ", ".join(named(part, known) for part in whole.loose)
        return Cut(made, (), None), (Flag(kinds.PART_LOOSE, where, names),)
    parts = parts_of_welded(whole.path)
    through, closed = _holes(parts, material, workshop)
    finest = groove_limit(material, workshop)
    shown = join([groove(letters, base, inner, GROOVE, finest), closed])
    drawn = (
        ("cut-inside", through),
        (OUTSIDE, Path(tuple(part.contours[0] for part in parts))),
        ("engrave-area", shown),
    )
    marks = tuple(Mark(operation, path, lettering.field) for operation, path in drawn if path)
    flags = _run_together(marked, known, where)
    if whole.bridges:
        least = width - workshop.machine.kerf
        flags += (Flag(kinds.BRIDGED, where, str(len(whole.bridges)), least),)
    return Cut(made, marks, whole.path, windows), flags


def _windows(layer: DesignLayer, letters: Path) -> tuple[Mark, ...]:
    """The drawn openings of the layer that letters lie in, if only by a part."""
    drawn = (m for m in layer.marks if m.operation == "cut-inside" and not m.field)
    return tuple(mark for mark in drawn if overlap(mark.path, letters) > SPECK)


def _opened(layer: DesignLayer, windows: Path) -> Path:
    """The layer's outline without those windows, but with whatever is drawn within them."""
    base = join(mark.path for mark in layer.marks if mark.operation == OUTSIDE)
    if not windows:
        return base
    each = [Path((contour,)) for contour in base.contours]
    islands = join(one for one in each if area(one) - overlap(one, windows) < SPECK)
    return together(without(base, windows), islands)


def _marked(
    lettering: Lettering,
    known: tuple[Letter, ...],
    slot: Slot,
    material: Material,
    workshop: Workshop,
) -> tuple[Marked, Path]:
    """The letters with their marks where they read as their own, one by one and all together."""
    least, wanted = openings(material, workshop)
    bold = [
        _bolder(each.drawn, each.at.a, slot.bolder).moved(Affine.shift(each.at.e, each.at.f))
        for each in known
    ]
    reach = REACH * lettering.cap_height
    marked = cleared(bold, wanted, least, reach)
    return marked, weld(marked.letters)


# Names have letters in common, and most the size that is wanted.
@lru_cache(maxsize=512)
def _bolder(drawn: Path, em: float, by: float) -> Parted:
    """A letter about its own origin in millimetres, drawn in ems and made bolder by `by` mm."""
    bold = grown(drawn, by / em) if by else weld([drawn])
    return taken_apart(bold.moved(Affine.scale(em)))


def _run_together(marked: Marked, known: tuple[Letter, ...], where: str) -> tuple[Flag, ...]:
    """A flag that names the letters whose marks are too near to others."""
    pairs = [" and ".join(known[i].title for i in sorted(pair)) for pair in marked.close]
    told = "; ".join(dict.fromkeys(pairs))
    return (Flag(kinds.MARKS_TOGETHER, where, told),) if told else ()


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


def openings(material: Material, workshop: Workshop) -> tuple[float, float]:
    """How wide the least opening and the wanted one are drawn: the cut makes them wider."""
    limits, kerf = material.limits.cut_opening, workshop.machine.kerf
    return limits.least - kerf, limits.wanted - kerf


def groove_limit(material: Material, workshop: Workshop) -> float:
    """The finest groove, and the finest that may be left between grooves, as drawn."""
    stroke, gap, grows = limits_as_made("engrave", material.limits, workshop.machine)
    return max(stroke, gap + grows)


def _holes(parts: tuple[Path, ...], material: Material, workshop: Workshop) -> tuple[Path, Path]:
    """The holes that are cut, and those that are left as wood and engraved.

    What is nowhere as wide as an opening has to be is engraved, so that an e still has its eye: its
    waste would stay stuck. What is too fine for that as well is left out.
    """
    opening, _ = openings(material, workshop)
    stroke, _, grows = limits_as_made("engrave", material.limits, workshop.machine)
    holes = [hole for part in parts for hole in part.contours[1:]]
    cut = hold_disc(holes, opening)
    rest = [hole for hole in holes if hole not in cut]
    return Path(cut), Path(hold_disc(rest, stroke - grows))
