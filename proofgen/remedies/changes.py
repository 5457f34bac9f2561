"""Changes that a maker could make to a row, each tried before it is named."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from proofgen.designs.design import Slot, Template
from proofgen.designs.texts import text_of
from proofgen.orders.cells import LONGEST_TEXT
from proofgen.orders.order import Order
from proofgen.remedies.breaks import has_breaks, other_breaks, without_breaks
from proofgen.remedies.lost import lost
from proofgen.remedies.shorter import abbreviated, dropped, shortened, without
from proofgen.remedies.tries import Tries

NAME = "name"
# Of a date nothing can be dropped; a maker's own field may be "wedding-day".
DATES = frozenset(("born", "died", "date", "day", "birthday", "since", "year"))


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
    """What to do, the row once it is done, and the cap height that its field then reaches, mm.

    `lost` is a sentence of what the row then goes without, else empty.
    """

    do: str
    order: Order
    template: Template
    reached: float
    lost: str = ""

    def says(self, reached: float = 0.0) -> str:
        """What to do and what comes of it; of another field, with what that reaches."""
        said = f"{self.do} would reach {reached or self.reached:.2f} mm. {self.lost}"
        return said.rstrip()


def remedies(case: Case) -> Iterator[Remedy]:
    """The least change first: lines, face, characters left out, size, another design, less text.

    Where it is enough to leave characters out, no more of the text is.
    """
    strange = _without_strange(case)
    yield from _found(case, (_other_breaks, _without_breaks, _other_faces))
    if strange:
        yield strange
    yield from _found(case, (_larger_size, _other_designs))
    if not strange:
        yield from _found(case, (shortening, _initial))


def _found(case: Case, attempts: Iterable[Callable[[Case], Remedy | None]]) -> Iterator[Remedy]:
    yield from filter(None, (attempt(case) for attempt in attempts))


def _other_breaks(case: Case) -> Remedy | None:
    for lines in other_breaks(case.text, case.slot):
        quoted = [f'"{line}"' for line in lines]
        said = f"{', '.join(quoted[:-1])} and {quoted[-1]}"
        place = " in the cell" if case.order.booked else ""
        do = f"Break it over {len(lines)} lines{place}, {said}: it"
        if found := _tried(case, do, _with_text(case, "\n".join(lines))):
            return found
    return None


def _without_breaks(case: Case) -> Remedy | None:
    if not has_breaks(case.text, case.slot):
        return None
    changed = _with_text(case, without_breaks(case.text))
    return _tried(case, "Leave the line breaks out: it", changed)


def _other_faces(case: Case) -> Remedy | None:
    # A face can be asked for in a book alone.
    for face in case.slot.faces_asked if case.order.booked else ():
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
            booked = case.order.booked
            do = f"Type {size} in a Size column" if booked else f"Add --text size={size}"
            if found := _tried(case, f"{do}: it", changed):
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


def shortening(case: Case) -> Remedy | None:
    """The longest beginning that fits; of a text that is too long to be tried, too."""
    if DATES.intersection(case.field.split("-")):
        return None
    found: dict[str, Remedy | None] = {}

    def fits(part: str) -> bool:
        if part not in found:
            do = f'{dropped(case.text, part)}: "{part}"'
            found[part] = _tried(case, do, _with_text(case, part))
        return found[part] is not None

    # The last word of a text, which may be cut here, is in no beginning.
    part = shortened(case.text[: LONGEST_TEXT + 1], fits)
    return found[part] if part else None


def _initial(case: Case) -> Remedy | None:
    if case.field != NAME:
        return None
    for part, gone in abbreviated(case.text):
        without_them = f', without "{gone}"' if gone else ""
        do = f'Abbreviate it{without_them}: "{part}"'
        if found := _tried(case, do, _with_text(case, part)):
            return found
    return None


def _tried(case: Case, do: str, order: Order, template: Template | None = None) -> Remedy | None:
    template = template or case.template
    reached = case.tries.reached(order, template, case.field, case.failing)
    if not reached:
        return None
    moved = template.id != case.template.id
    missed = lost(order, case.template, template, case.tries.workshop) if moved else ""
    return Remedy(do, order, template, reached, missed)


def _with_text(case: Case, text: str) -> Order:
    fields = _without(case.order.fields, case.field)
    return replace(case.order, fields=(*fields, (case.field, text)))


def _with_option(order: Order, option: str, chosen: str) -> Order:
    return replace(order, options=(*_without(order.options, option), (option, chosen)))


def _without(pairs: tuple[tuple[str, str], ...], key: str) -> tuple[tuple[str, str], ...]:
    return tuple(pair for pair in pairs if pair[0] != key)
