"""What would help a text that does not fit: tried for real, and named with the size it reaches."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from proofgen.artwork.compose import SlotFit, fit_slots
from proofgen.artwork.settle import Piece, prepared, settled
from proofgen.designs.design import Slot, Template
from proofgen.designs.texts import text_of
from proofgen.flags.flag import Severity, stops
from proofgen.lettering.bench import Bench
from proofgen.lettering.lines import broken
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Workshop

# More than this is not read.
MOST = 2

NAME = "name"


@dataclass(frozen=True, slots=True)
class Aid:
    """What is needed to try a change.

    `failing` are fields that fail with or without it: each has remedies of its own.
    """

    templates: Mapping[str, Template]
    workshop: Workshop
    bench: Bench
    failing: tuple[str, ...] = ()


def with_remedies(
    order: Order, template: Template, fitted: tuple[SlotFit, ...], aid: Aid
) -> tuple[SlotFit, ...]:
    """The fits with remedies written into the flags of the slots that failed."""
    aid = replace(aid, failing=tuple(item.slot.field for item in fitted if not item.lettering))
    return tuple(
        item if item.lettering else _with_remedy(order, template, item, aid) for item in fitted
    )


def _with_remedy(order: Order, template: Template, item: SlotFit, aid: Aid) -> SlotFit:
    texts: list[str] = []
    for text in _remedies(order, template, item.slot, aid):
        texts.append(text)
        if len(texts) == MOST:
            break
    if not texts:
        return item
    flags = tuple(
        replace(flag, remedy=" ".join(texts)) if flag.kind.severity is Severity.STOP else flag
        for flag in item.flags
    )
    return replace(item, flags=flags)


def _remedies(order: Order, template: Template, slot: Slot, aid: Aid) -> Iterator[str]:
    """The least change first: lines, face, characters left out, size, another design, less text."""
    tries = (
        *(_more_lines, _other_faces, _without_strange),
        *(_larger_size, _other_designs, _longest_part, _initial),
    )
    for attempt in tries:
        found = attempt(order, template, slot, aid)
        if found:
            yield found


def _more_lines(order: Order, template: Template, slot: Slot, aid: Aid) -> str:
    words = text_of(order, slot).split()
    for count in range(slot.lines + 1, min(slot.lines_asked, len(words)) + 1):
        changed = _with_text(order, slot.field, "\n".join(broken(words, count)))
        reached = _reached(changed, template, slot.field, aid)
        if reached:
            return f"Break it over {count} lines in the cell: it would reach {reached:.2f} mm."
    return ""


def _other_faces(order: Order, template: Template, slot: Slot, aid: Aid) -> str:
    for face in slot.faces_asked:
        changed = replace(order, options=(*_without(order.options, "face"), ("face", face)))
        reached = _reached(changed, template, slot.field, aid)
        if reached:
            title = aid.bench.faces[face].title
            return f"Type {title} in a Face column: it would reach {reached:.2f} mm."
    return ""


def _without_strange(order: Order, template: Template, slot: Slot, aid: Aid) -> str:
    """Without the characters that no face has."""
    text = text_of(order, slot)
    strange = min((aid.bench.faces[face].missing(text) for face in slot.faces), key=len)
    kept = " ".join("".join(c for c in text if c not in strange).split())
    if not strange or not kept:
        return ""
    reached = _reached(_with_text(order, slot.field, kept), template, slot.field, aid)
    return f"Leave {strange} out: it would reach {reached:.2f} mm." if reached else ""


def _larger_size(order: Order, template: Template, slot: Slot, aid: Aid) -> str:
    """The smallest size that helps."""
    for size, _ in sorted(template.sizes, key=lambda each: each[1]):
        changed = replace(order, options=(*_without(order.options, "size"), ("size", size)))
        reached = _reached(changed, template, slot.field, aid)
        if reached:
            return f"Type {size} in a Size column: it would reach {reached:.2f} mm."
    return ""


def _other_designs(order: Order, template: Template, slot: Slot, aid: Aid) -> str:
    # The whole row moves, so that all of it has to fit there.
    aid = replace(aid, failing=())
    reached = {
        other.title: cap_height
        for other in aid.templates.values()
        if other.id != template.id and set(dict(order.fields)) <= {*other.fields, "year"}
        if (cap_height := _reached(order, other, slot.field, aid))
    }
    if not reached:
        return ""
    title = max(reached, key=lambda name: reached[name])
    return f"Choose the design {title}: it would reach {reached[title]:.2f} mm."


def _longest_part(order: Order, template: Template, slot: Slot, aid: Aid) -> str:
    words = text_of(order, slot).replace("-", "- ").split()
    for count in range(len(words) - 1, 0, -1):
        part = " ".join(words[:count]).replace("- ", "-").rstrip(" -&,")
        if said := _shorter(order, template, slot, aid, part):
            return said
    return ""


def _initial(order: Order, template: Template, slot: Slot, aid: Aid) -> str:
    """Of a name: first name and initial, initial and last name, then the first letter."""
    if slot.field != NAME:
        return ""
    words = text_of(order, slot).split()
    tries = [f"{words[0]} {words[-1][0]}.", f"{words[0][0]}. {words[-1]}"] if len(words) > 1 else []
    for part in (*tries, f"{words[0][0]}."):
        if said := _shorter(order, template, slot, aid, part):
            return said
    return ""


def _shorter(order: Order, template: Template, slot: Slot, aid: Aid, part: str) -> str:
    if not part:
        return ""
    reached = _reached(_with_text(order, slot.field, part), template, slot.field, aid)
    return f'"{part}" would reach {reached:.2f} mm.' if reached else ""


def _reached(order: Order, template: Template, field: str, aid: Aid) -> float:
    """The cap height of the field if the order then passes, but for what fails anyway, else 0."""
    design, flags = prepared(template, order, aid.workshop, aid.bench)
    if design is None or stops(flags):
        return 0.0
    (design,) = settled([Piece(order, design)], False, aid.workshop, aid.bench)
    fitted = fit_slots(order, design, aid.workshop, aid.bench)
    if not all(item.lettering or item.slot.field in aid.failing for item in fitted):
        return 0.0
    return next(
        (i.lettering.cap_height for i in fitted if i.lettering and i.slot.field == field), 0.0
    )


def _with_text(order: Order, field: str, text: str) -> Order:
    return replace(order, fields=(*_without(order.fields, field), (field, text)))


def _without(pairs: tuple[tuple[str, str], ...], key: str) -> tuple[tuple[str, str], ...]:
    return tuple(pair for pair in pairs if pair[0] != key)
