"""Everything that can be told about a design before an order comes for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import chain, islice, product

from proofgen.artwork.artwork import Made
from proofgen.checks import covers, edges, hanging, lines, parts, widths, zones
from proofgen.checks.sample import sample, sample_flags
from proofgen.checks.wood import Wood, woods
from proofgen.designs.design import Template
from proofgen.designs.read import FILE
from proofgen.designs.scale import scaled
from proofgen.designs.when import as_usual, in_state, states
from proofgen.flags.about_drawings import DESIGN_UNREADABLE, FINDINGS_MORE
from proofgen.flags.about_layers import WOOD_LOOSE
from proofgen.flags.flag import Flag, FlagKind, stops
from proofgen.lettering.bench import Bench
from proofgen.workshop.workshop import Workshop

MOST = 6  # findings of a kind that are told of one drawing


def check_template(
    template: Template, texts: Mapping[str, str], workshop: Workshop, bench: Bench
) -> tuple[Made, tuple[Flag, ...]]:
    """A sample of the design, and its findings, gravest first.

    `texts` are sample texts by field.
    """
    found = drawn(template, workshop)
    made = sample(template, texts, workshop, bench)
    layers = woods(as_usual(template), workshop)
    whole = all(wood.outline or wood.layer.backing for wood in layers)
    # What falls apart hangs in no way.
    whole = whole and not any(flag.kind is WOOD_LOOSE for flag in found)
    hangs = hanging.tilt(template, texts, workshop, bench) if whole else ()
    flags = (*found, *hangs, *sample_flags(made, FILE, found))
    return made, tuple(sorted(flags, key=lambda flag: -flag.kind.severity.rank))


def drawn(template: Template, workshop: Workshop) -> tuple[Flag, ...]:
    """The findings about the drawings alone, at each size and in each state of what is drawn in
    some rows only; of a further size or state what only it has.
    """
    found: dict[Flag, None] = {}
    for (size, factor), state in product(_sizes(template), tuple(states(template))):
        known = {(flag.kind, flag.where) for flag in found}
        for flag in few(_at_this_size(scaled(in_state(template, state), factor), workshop)):
            if (flag.kind, flag.where) not in known:
                found[flag if factor == 1 else _at_size(flag, size)] = None
    return tuple(found)


def unreadable(sentence: str) -> Flag:
    """The finding for a fault that keeps a design from being read: "place: what is wrong." """
    place, _, said = sentence.partition(": ")
    if said.endswith("?"):
        said, _, question = said.rpartition("; ")
        said = f"{said} ({question})"
    return Flag(DESIGN_UNREADABLE, place, said.removesuffix("."))


def few(flags: Iterable[Flag]) -> Iterator[Flag]:
    """Of each kind in each drawing no more than so many, and a note that there are more."""
    told: Counter[tuple[FlagKind, str]] = Counter()
    for flag in flags:
        file = flag.where.partition(",")[0]
        told[flag.kind, file] += 1
        if told[flag.kind, file] <= MOST:
            yield flag
        elif told[flag.kind, file] == MOST + 1:
            yield Flag(FINDINGS_MORE, file, str(MOST), None, flag.kind.id)


def _sizes(template: Template) -> list[tuple[str, float]]:
    """All that are made; as drawn comes first, so that its findings are told without a size."""
    return sorted(template.sizes or (("", 1.0),), key=lambda size: size[1] != 1)


def _at_size(flag: Flag, size: str) -> Flag:
    return replace(flag, where=f"{flag.where}, at the size {size}")


def _at_this_size(template: Template, workshop: Workshop) -> Iterator[Flag]:
    """The findings about the drawings; nothing is measured on a layer whose lines cross."""
    layers = woods(template, workshop)
    yield from lines.units(template)
    sound = True
    for wood in layers:
        broken = tuple(
            chain(
                lines.outline(wood),
                lines.crossings(wood),
                lines.engraved_twice(wood),
                lines.outside(wood, template),
            )
        )
        yield from broken
        if stops(broken):
            sound = False
            continue
        yield from _on_its_layer(wood, template, workshop)
    if sound:
        loose = tuple(parts.loose(layers))
        yield from loose
        yield from covers.holes(layers)
        yield from covers.zones(layers, template)
        yield from covers.number(layers, template)
        yield from covers.placing(layers)


def _on_its_layer(wood: Wood, template: Template, workshop: Workshop) -> Iterator[Flag]:
    hangers = [hanger for hanger in workshop.hangers if hanger.id in template.hangers]
    # Each of them takes long to measure where there are many.
    yield from islice(widths.openings(wood), MOST + 1)
    yield from widths.engraving(wood)
    yield from edges.engraving(wood, template)
    yield from zones.kinks(wood, template)
    yield from zones.on_art(wood, template)
    yield from zones.on_each_other(wood, template)
    if wood.outline:
        yield from edges.openings(wood)
        yield from edges.engraving_outside(wood)
        yield from widths.webs(wood)
        yield from zones.near_cuts(wood, template)
        yield from hanging.grain(wood)
        yield from edges.hole(wood, max(hangers, key=lambda each: each.hole, default=None))
