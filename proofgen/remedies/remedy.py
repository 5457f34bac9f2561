"""What would help a text that does not fit: tried for real, and named with the size it reaches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from proofgen.artwork.compose import SlotFit
from proofgen.designs.design import Template
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, Severity
from proofgen.orders.order import Order
from proofgen.remedies.changes import Case, Remedy, remedies, shortening
from proofgen.remedies.tries import Tries

# More than this is not read.
MOST = 2
# Once there is one remedy, another is looked for until so many texts were fitted.
ENOUGH = 40


def with_remedies(
    order: Order, template: Template, fitted: tuple[SlotFit, ...], tries: Tries
) -> tuple[SlotFit, ...]:
    """The fits with remedies written into the flags of the slots that failed.

    Where several fields fail, their remedies are true together: the second is tried with the
    first one carried out.
    """
    fields = tuple(dict.fromkeys(item.slot.field for item in fitted if not item.lettering))
    if not fields:
        return fitted
    said = _together(order, template, fields, tries) if len(fields) > 1 else {}
    said = said or {field: _alone(order, template, field, fields, tries) for field in fields}
    return tuple(
        item if item.lettering else _with_remedy(item, said[item.slot.field]) for item in fitted
    )


def with_shortenings(
    order: Order, template: Template, flags: tuple[Flag, ...], tries: Tries
) -> tuple[Flag, ...]:
    """The flags; those of texts too long to be tried with the beginning that fits."""
    return tuple(
        replace(flag, remedy=_shortened(order, template, flag.where, tries))
        if flag.kind is kinds.TEXT_TOO_LONG
        else flag
        for flag in flags
    )


def _shortened(order: Order, template: Template, where: str, tries: Tries) -> str:
    """The remedy of one field, whatever becomes of the others; nothing where there is none."""
    field = next((field for field in template.fields if order.where(field) == where), "")
    others = tuple(other for other in template.fields if other != field)
    found = shortening(Case(order, template, field, tries, others)) if field else None
    return found.says() if found else ""


def _with_remedy(item: SlotFit, said: str) -> SlotFit:
    flags = tuple(
        replace(flag, remedy=said) if said and flag.kind.severity is Severity.STOP else flag
        for flag in item.flags
    )
    return replace(item, flags=flags)


def _alone(
    order: Order, template: Template, field: str, fields: tuple[str, ...], tries: Tries
) -> str:
    others = tuple(other for other in fields if other != field)
    found = _few(Case(order, template, field, tries, others))
    return " ".join(remedy.says() for remedy in found)


def _few(case: Case) -> Iterator[Remedy]:
    """The first remedies; the second only while looking for it costs little."""
    for number, remedy in enumerate(remedies(case), start=1):
        yield remedy
        if number == MOST or case.tries.fits > ENOUGH:
            return


def _together(
    order: Order, template: Template, fields: tuple[str, ...], tries: Tries
) -> dict[str, str]:
    """A remedy for each field, one carried out after the other; nothing where one has none."""
    first, *later = fields
    for remedy in _few(Case(order, template, first, tries, tuple(later))):
        said = {first: remedy.says(), **_after(remedy, order, template, fields, tries)}
        if all(said.values()):
            return said
    return {}


def _after(
    remedy: Remedy, order: Order, template: Template, fields: tuple[str, ...], tries: Tries
) -> dict[str, str]:
    """What is to be done about the later fields once the first has its remedy."""
    first, *later = fields
    said: dict[str, str] = {}
    now = remedy
    for number, field in enumerate(later, start=1):
        if field not in now.template.fields:
            said[field] = f"{remedy.do.removesuffix(': it')}, which letters no {field}."
            continue
        failing = fields[number + 1 :]
        reached = tries.reached(now.order, now.template, field, failing)
        if reached:
            said[field] = remedy.says(reached)
            continue
        case = Case(now.order, now.template, field, tries, failing)
        found = next(remedies(case), None)
        if found is None:
            return {field: ""}
        apart = _apart(remedy, order, template)
        said[field] = ("" if apart else f"Do what is said of the {first} first. ") + found.says()
        now = found
    return said


def _apart(remedy: Remedy, order: Order, template: Template) -> bool:
    """Whether it changes nothing that other fields feel."""
    same = remedy.template is template and remedy.order.options == order.options
    return same and not template.growth
