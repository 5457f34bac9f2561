"""What is settled about a design before its fields are fitted: how far it grows, and what the
pieces of one order have in common.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from proofgen.artwork.growing import growth_needed
from proofgen.artwork.rules import rules_for
from proofgen.designs.design import Design, Slot, Template
from proofgen.designs.grow import grown
from proofgen.designs.resolve import resolve
from proofgen.designs.texts import text_of
from proofgen.faces.face import Face
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.lettering.bench import Bench
from proofgen.lettering.choose import as_wide, choose, nearly
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Bound, Workshop

NAME = "name"


@dataclass(frozen=True, slots=True)
class Piece:
    """A line of an order with its design so far."""

    order: Order
    design: Design


def prepared(
    template: Template, order: Order, workshop: Workshop, bench: Bench
) -> tuple[Design | None, tuple[Flag, ...]]:
    """The template resolved for an order, set in the face that the order asks for, if any."""
    design, flags = resolve(template, order, workshop)
    if design is None or not order.option("face"):
        return design, flags
    in_face, unknown = _in_face(design, order, bench)
    return in_face, (*flags, *unknown)


def settled(
    pieces: Sequence[Piece], family: bool, workshop: Workshop, bench: Bench
) -> tuple[Design, ...]:
    """The designs of pieces of one template and one order, as they will be fitted.

    Each grows as far as its own fields need. A family has one face and one cap height for each
    field, and each of its pieces grows by itself.
    """
    needed = [growth_needed(each.order, each.design, workshop, bench) for each in pieces]
    designs = [
        grown(piece.design, by) if any(by) else piece.design
        for piece, by in zip(pieces, needed, strict=True)
    ]
    if not family or len(pieces) < 2:
        return tuple(designs)
    return _alike([piece.order for piece in pieces], designs, workshop, bench)


def _in_face(design: Design, order: Order, bench: Bench) -> tuple[Design | None, tuple[Flag, ...]]:
    """Slots that offer the face take it alone; those of the name must offer it."""
    typed = order.option("face")
    named = [slot for slot in design.slots if slot.field == NAME] or list(design.slots)
    offered = dict.fromkeys(face for slot in named for face in (*slot.faces, *slot.faces_asked))
    wanted = [face for face in offered if _plain(typed) in _spellings(bench.faces[face])]
    if not wanted:
        titles = ", ".join(bench.faces[face].title for face in offered)
        return None, (Flag(kinds.FACE_UNKNOWN, order.where("face"), typed, titles),)
    slots = (
        replace(slot, faces=(wanted[0],)) if wanted[0] in (*slot.faces, *slot.faces_asked) else slot
        for slot in design.slots
    )
    return replace(design, slots=tuple(slots)), ()


def _spellings(face: Face) -> tuple[str, str]:
    return _plain(face.id), _plain(face.title)


def _plain(text: str) -> str:
    return "".join(filter(str.isalnum, text.casefold()))


def _alike(
    orders: Sequence[Order], designs: Sequence[Design], workshop: Workshop, bench: Bench
) -> tuple[Design, ...]:
    """The designs with one face and one cap height for each field.

    They take the first face that sets every text near the wanted size, else the one whose smallest
    text is the largest.
    """
    alike = list(designs)
    for field in dict.fromkeys(slot.field for slot in designs[0].slots):
        own = [text_of(order, _slot(designs[0], field)) for order in orders]
        lines = [i for i, text in enumerate(own) if text]
        if len(lines) < 2:
            continue
        slots = [_slot(alike[i], field) for i in lines]
        texts = [own[i] for i in lines]
        common = _common(texts, slots, alike[lines[0]], workshop, bench)
        if common:
            for i in lines:
                alike[i] = _with_common(alike[i], field, *common)
    return tuple(alike)


def _common(
    texts: list[str], slots: list[Slot], design: Design, workshop: Workshop, bench: Bench
) -> tuple[str, float] | None:
    """The face, and the smallest of the cap heights that it then has; None where no face does."""
    best: tuple[str, float] | None = None
    near: tuple[str, float, float] | None = None
    rules = rules_for(slots[0], design, workshop)
    for face in slots[0].faces:
        if any(face not in slot.faces for slot in slots):
            continue
        if any(bench.faces[face].missing(text) for text in texts):
            continue
        chosen = [choose(t, slot, rules, bench, face) for t, slot in zip(texts, slots, strict=True)]
        heights = [c.trial.cap_height if c and c.trial.legible else 0.0 for c in chosen]
        smallest = round(min(heights), 2)
        narrowest = min((each.narrowed for each in chosen if each), default=0.0)
        if smallest >= slots[0].cap_height.wanted:
            return near[:2] if near and as_wide(near[2], narrowest) else (face, smallest)
        if smallest >= nearly(slots[0]):
            near = near or (face, smallest, narrowest)
        if smallest >= slots[0].cap_height.least and (best is None or smallest > best[1]):
            best = face, smallest
    return near[:2] if near else best


def _slot(design: Design, field: str) -> Slot:
    return next(slot for slot in design.slots if slot.field == field)


def _with_common(design: Design, field: str, face: str, cap_height: float) -> Design:
    slots = tuple(
        replace(slot, faces=(face,), cap_height=Bound(slot.cap_height.least, cap_height))
        if slot.field == field
        else slot
        for slot in design.slots
    )
    return replace(design, slots=slots)
