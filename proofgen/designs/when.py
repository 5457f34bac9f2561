"""What is drawn only in some rows: the tables [[when]] in design.toml, and a design in one state.

A state is what a row has: the fields that are lettered, "symbol" and "hanger".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from proofgen import config
from proofgen.designs.design import Template, TemplateLayer, When
from proofgen.designs.read_layer import combined
from proofgen.designs.texts import NONE
from proofgen.errors import UnusableError

WHEN_KEYS = ("drawn", "with", "without")
SYMBOL, HANGER = "symbol", "hanger"

State = frozenset[str]


def read_when(table: config.Table, file: str) -> tuple[When, ...]:
    """Read them all; UnusableError names the table that is wrong."""
    tables = config.tables(table, "when", file, [])
    return tuple(_one(each, f"{file}, when {number}") for number, each in enumerate(tables, 1))


def check_when(template: Template, file: str) -> None:
    """UnusableError where a table names an element or a field that there is not."""
    names = {mark.name for layer in template.layers for mark in layer.marks if mark.name}
    known = sorted(_every(template) | {HANGER, SYMBOL})
    for number, each in enumerate(template.when, 1):
        for wanted, there in ((each.drawn, names), (each.asks, known)):
            for one in wanted:
                if one not in there:
                    raise UnusableError(
                        f"{file}, when {number}: there is no '{one}'; {config.nearest(one, there)}"
                    )


def in_state(template: Template, state: State) -> Template:
    """The template with nothing but what is drawn in that state."""
    hidden = {
        name
        for each in template.when
        if not state.issuperset(each.present) or state.intersection(each.absent)
        for name in each.drawn
    }
    if not template.when:
        return template
    hangers = tuple(h for h in template.hangers if (h != NONE) == (HANGER in state))
    layers = tuple(_without(layer, hidden) for layer in template.layers)
    return replace(template, layers=layers, hangers=hangers, when=())


def states(template: Template) -> Iterator[State]:
    """Such that each element that is drawn in some rows is there in one and left out in another."""
    hung = [hanger for hanger in template.hangers if hanger != NONE]
    always = {HANGER} if hung and NONE not in template.hangers else set()
    never = set() if hung else {HANGER}
    tried = [_every(template)]
    for each in template.when:
        tried += [tried[0] - set(each.absent), tried[0] - set(each.present)]
    yield from dict.fromkeys(frozenset((state | always) - never) for state in tried)


def as_usual(template: Template) -> Template:
    """The template as it is drawn for a row with every text, and the usual hanger."""
    bare = not template.hangers or template.hangers[0] == NONE
    return in_state(template, _every(template) - ({HANGER} if bare else set()))


def _every(template: Template) -> State:
    """All that a row may have."""
    return frozenset((*template.fields, *((SYMBOL,) if template.symbol_slots else ()), HANGER))


def _without(layer: TemplateLayer, hidden: set[str]) -> TemplateLayer:
    """What a layer's digest covers is what is drawn on it."""
    gone = sorted({mark.name for mark in layer.marks} & hidden)
    if not gone:
        return layer
    marks = tuple(mark for mark in layer.marks if mark.name not in hidden)
    return replace(layer, marks=marks, sha256=combined(layer.sha256, f"without {gone}"))


def _one(table: config.Table, place: str) -> When:
    config.check_keys(table, WHEN_KEYS, place)
    found = When(
        drawn=config.texts(table, "drawn", place),
        present=config.texts(table, "with", place, ()),
        absent=config.texts(table, "without", place, ()),
    )
    if not found.drawn or not found.asks:
        raise UnusableError(
            f"{place}: name the elements that are 'drawn', and fields that they go 'with', or "
            f"'without'."
        )
    return found


def names_of(when: Sequence[When]) -> frozenset[str]:
    """The names of all elements that are drawn only in some rows."""
    return frozenset(name for each in when for name in each.drawn)
