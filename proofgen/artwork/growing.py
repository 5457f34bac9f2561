"""How far a design grows for the texts of one order: no further than it makes lettering better."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from proofgen.artwork.rules import rules_for
from proofgen.designs.design import Design, Growth, Slot
from proofgen.designs.grow import grown
from proofgen.designs.texts import text_of
from proofgen.lettering.bench import Bench
from proofgen.lettering.choose import choose, nearly, unshrunk
from proofgen.lettering.rules import Rules
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Workshop

# A design grows in steps, so that a hair's breadth of text does not change a piece; mm.
STEP = 0.5
# Cap heights that differ by less are alike, mm: they are rounded to this.
SAME = 0.0101

Steps = tuple[int, ...]
# How well a text is set, the better the greater: whether strokes and gaps keep their limits, its
# cap height until it is near the wanted one, and then the order of choice: an earlier face, the cap
# height beyond, fewer lines, less narrowed.
Quality = tuple[bool, float, int, float, int, float]
NOTHING: Quality = (False, 0.0, 0, 0.0, 0, 0.0)


def growth_needed(
    order: Order, design: Design, workshop: Workshop, bench: Bench
) -> tuple[float, ...]:
    """How far each line grows, mm, so that the fields that ask for it keep their wanted size.

    No line could grow less without a text being smaller or narrower; what growth does not help
    makes none grow.
    """
    lettered = {slot.field for slot in design.slots if text_of(order, slot)}
    fields = dict.fromkeys(g.field for g in design.growth if g.field in lettered)
    most = tuple(math.floor(g.most / STEP) if g.field in fields else 0 for g in design.growth)
    none = (0,) * len(most)

    # Marks need not grow while sizes are tried.
    zones = replace(design, layers=())

    def slot_at(field: str, steps: Steps) -> Slot:
        larger = grown(zones, _lengths(steps)) if any(steps) else design
        return next(slot for slot in larger.slots if slot.field == field)

    def natural(field: str, steps: Steps) -> bool:
        slot = slot_at(field, steps)
        return unshrunk(text_of(order, slot), slot, rules_for(slot, design, workshop), bench)

    def quality(field: str, steps: Steps) -> Quality:
        slot = slot_at(field, steps)
        return _quality(text_of(order, slot), slot, rules_for(slot, design, workshop), bench)

    if all(natural(field, none) for field in fields):
        return _lengths(none)
    # As far as some face needs for its natural width, if the design can grow so far; then what
    # is too much for the setting that is chosen there is taken off.
    if all(natural(field, most) for field in fields):
        most = _least(design, most, lambda steps: all(natural(field, steps) for field in fields))
    best = {field: quality(field, most) for field in fields}

    def enough(steps: Steps) -> bool:
        return all(not _worse(quality(field, steps), best[field]) for field in fields)

    return _lengths(_least(design, most, enough))


def _quality(text: str, slot: Slot, rules: Rules, bench: Bench) -> Quality:
    choice = choose(text, slot, rules, bench)
    if choice is None:
        return NOTHING
    trial, near = choice.trial, nearly(slot)
    size, legible = trial.cap_height, trial.legible
    if size < near - SAME:
        return legible, size, *NOTHING[2:]
    face = slot.faces.index(choice.face.id)
    if size < slot.cap_height.wanted - SAME:
        return legible, near, -face, size, *NOTHING[4:]
    return legible, near, -face, slot.cap_height.wanted, -len(trial.layout.texts), choice.narrowed


def _worse(one: Quality, other: Quality) -> bool:
    """Whether it is worse by more than rounding."""
    for mine, theirs in zip(one[:4], other[:4], strict=True):
        if abs(mine - theirs) >= SAME:
            return mine < theirs
    return one[4:] < other[4:]


def _least(design: Design, most: Steps, enough: Callable[[Steps], bool]) -> Steps:
    """Lines in turn as short as the others allow.

    Those of one axis and one field grow alike, so that what is drawn in the middle stays there.
    """
    steps = most
    for group in dict.fromkeys(map(_group, design.growth)):
        low, high = -1, max(_of(group, design, steps))
        while high - low > 1:
            middle = (low + high) // 2
            tried = _at_most(middle, group, design, steps)
            low, high = (low, middle) if enough(tried) else (middle, high)
        steps = _at_most(high, group, design, steps)
    return steps


def _group(growth: Growth) -> tuple[str, str]:
    return growth.axis, growth.field


def _of(group: tuple[str, str], design: Design, steps: Steps) -> list[int]:
    lines = zip(design.growth, steps, strict=True)
    return [step for growth, step in lines if _group(growth) == group]


def _at_most(length: int, group: tuple[str, str], design: Design, steps: Steps) -> Steps:
    """The steps with none longer than that in the group."""
    lines = zip(design.growth, steps, strict=True)
    return tuple(min(s, length) if _group(growth) == group else s for growth, s in lines)


def _lengths(steps: Steps) -> tuple[float, ...]:
    return tuple(step * STEP for step in steps)
