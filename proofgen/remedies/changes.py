"""Changes that a maker could make to a row, each tried before it is named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from proofgen.designs.design import Slot, Template
from proofgen.designs.texts import text_of
from proofgen.lettering.lines import broken
from proofgen.orders.order import Order
from proofgen.remedies.shorter import abbreviated, beginnings, left_out, longest, without
from proofgen.remedies.tries import Tries

NAME = "name"


@dataclass(frozen=True, slots=True)
class Case:
    """A field that does not fit.

    `failing` are other fields that fail with or without a change: they have remedies of their own.
    """

    order: Order
    template: Template
    field: str
    tries: Tries
    failing: tuple[str, ...] = ()

    @property
    def slot(self) -> Slot:
        """The field's first slot."""
        return next(slot for slot in self.template.slots if slot.field == self.field)

    @property
    def text(self) -> str:
        """What is lettered."""
        return text_of(self.order, self.slot)


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do, the row once it is done, and the cap height that its field then reaches, mm."""

    do: str
    order: Order
    template: Template
    reached: float

    def says(self, reached: float = 0.0) -> str:
        """What to do and what comes of it; of another field, with what that reaches."""
        unused = [field for field, _ in self.order.fields if field not in self.template.fields]
        note = f" {self.template.title} letters no {' and no '.join(unused)}." if unused else ""
        return f"{self.do} would reach {reached or self.reached:.2f} mm.{note}"


def remedies(case: Case) -> Iterator[Remedy]:
    """The least change first: lines, face, characters left out, size, another design, less text."""
    tries = (
        *(_more_lines, _other_faces, _without_strange),
        *(_larger_size, _other_designs, _longest_part, _initial),
    )
    for attempt in tries:
        found = attempt(case)
        if found:
            yield found


def _more_lines(case: Case) -> Remedy | None:
    words, slot = case.text.split(), case.slot
    for count in range(slot.lines + 1, min(slot.lines_asked, len(words)) + 1):
        changed = _with_text(case, "\n".join(broken(words, count)))
        if found := _tried(case, f"Break it over {count} lines in the cell: it", changed):
            return found
    return None


def _other_faces(case: Case) -> Remedy | None:
    for face in case.slot.faces_asked:
        title = case.tries.faces[face].title
        changed = _with_option(case.order, "face", face)
        if found := _tried(case, f"Type {title} in a Face column: it", changed):
            return found
    return None


def _without_strange(case: Case) -> Remedy | None:
    """Without the characters that no face has."""
    faces = map(case.tries.faces.__getitem__, case.slot.faces)
    strange = min((face.missing(case.text) for face in faces), key=len)
    kept = without(case.text, strange)
    if not strange or not kept:
        return None
    return _tried(case, f"Leave {strange} out: it", _with_text(case, kept))


def _larger_size(case: Case) -> Remedy | None:
    """The smallest size that helps."""
    sizes = case.template.sizes
    now = dict(sizes).get(case.order.option("size").casefold(), sizes[0][1] if sizes else 0.0)
    for size, factor in sorted(sizes, key=lambda each: each[1]):
        if factor > now:
            changed = _with_option(case.order, "size", size)
            if found := _tried(case, f"Type {size} in a Size column: it", changed):
                return found
    return None


def _other_designs(case: Case) -> Remedy | None:
    """The one where it is largest; letters that are cut are tried where no engraving helps."""
    # The whole row moves, so that all of it has to fit there.
    case = replace(case, failing=())
    fields = set(dict(case.order.fields))
    others = [
        other
        for other in case.tries.templates.values()
        if other.id != case.template.id and fields <= {*other.fields, "year"}
    ]
    for engraved in (True, False):
        found = [
            remedy
            for other in others
            if all(slot.made == "engrave" for slot in other.slots) is engraved
            if (remedy := _tried(case, f"Choose the design {other.title}: it", case.order, other))
        ]
        if found:
            return max(found, key=lambda remedy: remedy.reached)
    return None


def _longest_part(case: Case) -> Remedy | None:
    found: dict[str, Remedy | None] = {}

    def fits(part: str) -> bool:
        if part not in found:
            found[part] = _tried(case, _dropping(case.text, part), _with_text(case, part))
        return found[part] is not None

    part = longest(beginnings(case.text), fits)
    return found[part] if part else None


def _initial(case: Case) -> Remedy | None:
    if case.field != NAME:
        return None
    for part in abbreviated(case.text):
        if found := _tried(case, f'Abbreviate it: "{part}"', _with_text(case, part)):
            return found
    return None


def _dropping(text: str, part: str) -> str:
    """Nothing of a text is thrown away unsaid."""
    return f'Drop "{left_out(text, part)}": "{part}"'


def _tried(case: Case, do: str, order: Order, template: Template | None = None) -> Remedy | None:
    template = template or case.template
    reached = case.tries.reached(order, template, case.field, case.failing)
    return Remedy(do, order, template, reached) if reached else None


def _with_text(case: Case, text: str) -> Order:
    fields = _without(case.order.fields, case.field)
    return replace(case.order, fields=(*fields, (case.field, text)))


def _with_option(order: Order, option: str, chosen: str) -> Order:
    return replace(order, options=(*_without(order.options, option), (option, chosen)))


def _without(pairs: tuple[tuple[str, str], ...], key: str) -> tuple[tuple[str, str], ...]:
    return tuple(pair for pair in pairs if pair[0] != key)
