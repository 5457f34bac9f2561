"""An order and its design become artwork."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from proofgen.artwork.artwork import Artwork, Layer, Made
from proofgen.artwork.crossings import GROOVE, crossed, given_way
from proofgen.artwork.holes import hole_flags
from proofgen.artwork.proofcode import proof_code
from proofgen.artwork.rules import rules_for
from proofgen.artwork.standing import (
    REACH,
    bridge_width,
    cut_through,
    groove_limit,
    openings,
    stand,
)
from proofgen.designs.design import Backing, Design, DesignLayer, Mark, Slot
from proofgen.designs.order_of_work import in_order_of_work
from proofgen.designs.texts import text_of
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, stops
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, join
from proofgen.lettering.bench import Bench
from proofgen.lettering.fit import fit
from proofgen.lettering.lettering import Lettering
from proofgen.lettering.rules import Rules
from proofgen.orders.order import ORDER, Order
from proofgen.workshop.workshop import Material, Workshop

ABOUT_FACES = (kinds.FACE_CHANGED, kinds.FACE_WITHOUT_GLYPH)


@dataclass(frozen=True, slots=True)
class SlotFit:
    """What became of one slot: its lettering and the marks that make it, or flags that say stop.

    `outline` is the whole layer's where letters stand on it; marks then cut the rest of `windows`.
    """

    slot: Slot
    lettering: Lettering | None
    flags: tuple[Flag, ...]
    marks: tuple[Mark, ...] = ()
    outline: Path | None = None
    windows: tuple[Mark, ...] = ()


def fit_slots(
    order: Order, design: Design, workshop: Workshop, bench: Bench
) -> tuple[SlotFit, ...]:
    """Every slot of the design that the order has a text for, fitted."""
    return tuple(
        _fit_slot(order, slot, design, workshop, bench)
        for slot in design.slots
        if text_of(order, slot)
    )


def compose(
    order: Order,
    design: Design,
    fitted: tuple[SlotFit, ...],
    workshop: Workshop,
    bench: Bench,
    flags: tuple[Flag, ...],
) -> Made:
    """The finished row: artwork and code, unless a flag says stop. `flags` are earlier ones."""
    flags += tuple(flag for item in fitted for flag in item.flags)
    flags += hole_flags(design, workshop, order.where("hanger"))
    flags += _crossings(order, design, fitted)
    if stops(flags):
        return Made(order, None, flags)
    lettering = tuple(item.lettering for item in fitted if item.lettering)
    artwork = Artwork(
        order=order,
        design=design.id,
        title=design.title,
        size=design.size,
        layers=tuple(_layer(layer, fitted, workshop) for layer in design.layers),
        lettering=lettering,
        hanger=design.hanger,
    )
    return Made(order, artwork, flags, _code(design, lettering, workshop, bench))


def _fit_slot(
    order: Order, slot: Slot, design: Design, workshop: Workshop, bench: Bench
) -> SlotFit:
    rules, layer = rules_for(slot, design, workshop), _layer_of(slot, design)
    found = _fitted(text_of(order, slot), slot, layer, design.size[0], rules, workshop, bench)
    where = order.where(slot.field)
    # The order's number is covered, so nobody compares its face with another.
    told = (f for f in found.flags if slot.field != ORDER or f.kind not in ABOUT_FACES)
    return replace(found, flags=tuple(replace(flag, where=where) for flag in told))


# Many rows have the same year, heading or inscription.
@lru_cache(maxsize=256)
def _fitted(
    text: str,
    slot: Slot,
    layer: DesignLayer,
    width: float,
    rules: Rules,
    workshop: Workshop,
    bench: Bench,
) -> SlotFit:
    """The slot of a layer, which is `width` wide; its flags are still about no place."""
    where = ""
    lettering, flags = fit(text, slot, rules, bench, where)
    if lettering is None:
        return SlotFit(slot, None, flags)
    if slot.made == "engrave":
        return _engraved(lettering, slot, layer, width, workshop, flags, where)
    if slot.made == "stand":
        cut, said = stand(lettering, slot, layer, workshop, bench, where)
    else:
        cut, said = cut_through(lettering, layer, workshop, where)
    kept = cut.lettering if cut.marks else None
    return SlotFit(slot, kept, (*flags, *said), cut.marks, cut.outline, cut.windows)


def _engraved(
    lettering: Lettering,
    slot: Slot,
    layer: DesignLayer,
    width: float,
    workshop: Workshop,
    flags: tuple[Flag, ...],
    where: str,
) -> SlotFit:
    """Engraved letters keep clear of the cuts of their layer, which is `width` wide."""
    from proofgen.geometry.polygons import clearance

    cuts = join(m.path for m in layer.marks if m.operation.startswith("cut"))
    if slot.side == "back":
        cuts = cuts.moved(Affine(a=-1.0, e=width))
    lettering = replace(lettering, clearance=clearance(lettering.outline, cuts))
    limit = workshop.material(layer.material).limits.engraving_to_cut.least
    comes_out = lettering.clearance - (workshop.machine.kerf + workshop.machine.dot) / 2
    if comes_out < limit:
        near = Flag(kinds.ENGRAVING_NEAR_CUT, where, max(comes_out, 0.0), limit, layer.material)
        return SlotFit(slot, None, (*flags, near))
    mark = Mark("engrave-area", lettering.outline, lettering.field, slot.side)
    return SlotFit(slot, lettering, flags, (mark,))


def _crossings(order: Order, design: Design, fitted: tuple[SlotFit, ...]) -> tuple[Flag, ...]:
    """A flag for each field whose letters stand where something else is engraved."""
    found = []
    for item in fitted:
        if item.outline is None or item.lettering is None:
            continue
        here = [other for other in fitted if other.slot.layer == item.slot.layer]
        own = _layer_of(item.slot, design).marks
        others = (mark for other in here if other is not item for mark in other.marks)
        across = crossed((*own, *others), item.lettering.outline)
        if across:
            found.append(Flag(kinds.LETTERS_CROSSED, order.where(item.slot.field), across))
    return tuple(found)


def _layer(layer: DesignLayer, fitted: tuple[SlotFit, ...], workshop: Workshop) -> Layer:
    own = [item for item in fitted if item.slot.layer == layer.name]
    drawn = layer.marks
    standing = [item for item in own if item.outline and item.lettering]
    if standing:
        # Letters that stand are one outline with what carries them.
        gone = {window for item in standing for window in item.windows}
        drawn = tuple(m for m in drawn if m.operation != "cut-outside" and m not in gone)
        drawn = given_way(drawn, join(i.lettering.outline for i in standing if i.lettering))
    marks = (*drawn, *(mark for item in own for mark in item.marks))
    if layer.backing:
        marks = (*marks, *_backing(layer.backing, fitted, workshop.material(layer.material)))
    return Layer(
        name=layer.name,
        material=layer.material,
        finish=layer.finish,
        depth=layer.depth,
        shared=layer.shared,
        rotation=layer.rotation,
        marks=in_order_of_work(marks),
    )


def _backing(wanted: Backing, fitted: tuple[SlotFit, ...], material: Material) -> tuple[Mark, ...]:
    """The outline made from the lettering, with what carries it."""
    from proofgen.geometry.backing import backing

    item = next((item for item in fitted if item.slot.field == wanted.field), None)
    if item is None or item.lettering is None:
        return ()
    outline = backing(
        item.outline or item.lettering.outline, wanted.grow, material.limits.web.wanted
    )
    return (Mark("cut-outside", outline, wanted.field),)


def _code(
    design: Design, lettering: tuple[Lettering, ...], workshop: Workshop, bench: Bench
) -> str:
    hole = f"{workshop.hanger(design.hanger).hole:.3f}" if design.hanger != "none" else ""
    grown = " ".join(f"{by:.3f}" for by in design.grown if by)
    used = dict.fromkeys(item.face for item in lettering)
    choices = (("hanger", design.hanger), ("hole", hole), ("grown", grown))
    return proof_code(
        design.id,
        tuple((layer.name, layer.material, layer.finish, layer.sha256) for layer in design.layers),
        lettering,
        tuple((face, bench.faces[face].sha256) for face in used),
        (*choices, *_cut_choices(design, workshop)),
    )


def _cut_choices(design: Design, workshop: Workshop) -> tuple[tuple[str, str], ...]:
    """What else decides the shape of letters that are cut and of outlines made from letters.

    Here the kerf and the material's limits do: bridges, openings and necks are drawn by them.
    """
    found: list[tuple[str, str]] = []
    sizes: tuple[float, ...]
    for slot in design.slots:
        if slot.made != "engrave":
            material = workshop.material(_layer_of(slot, design).material)
            sizes = (slot.bolder, bridge_width(material, workshop), *openings(material, workshop))
            if slot.made == "stand":
                sizes = (*sizes, slot.mended, REACH, GROOVE, groove_limit(material, workshop))
            found.append((f"{slot.layer} {slot.field}", f"{slot.made} {_spelled(sizes)}"))
    for layer in design.layers:
        if layer.backing:
            sizes = (layer.backing.grow, workshop.material(layer.material).limits.web.wanted)
            found.append((layer.name, f"{layer.backing.field} {_spelled(sizes)}"))
    return tuple(found)


def _layer_of(slot: Slot, design: Design) -> DesignLayer:
    return next(layer for layer in design.layers if layer.name == slot.layer)


def _spelled(sizes: tuple[float, ...]) -> str:
    return " ".join(f"{size:.3f}" for size in sizes)
