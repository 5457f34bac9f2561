"""Everything that can be told about a design before an order comes for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import chain

from proofgen.artwork.artwork import Made
from proofgen.checks import edges, hanging, lines, widths
from proofgen.checks.sample import sample, sample_flags
from proofgen.checks.wood import Wood, woods
from proofgen.designs.design import Template
from proofgen.designs.read import FILE
from proofgen.designs.scale import scaled
from proofgen.flags.about_drawings import DESIGN_UNREADABLE
from proofgen.flags.flag import Flag, stops
from proofgen.lettering.bench import Bench
from proofgen.workshop.workshop import Workshop


def check_template(
    template: Template, texts: Mapping[str, str], workshop: Workshop, bench: Bench
) -> tuple[Made, tuple[Flag, ...]]:
    """A sample of the design, and its findings, gravest first; of each size, what it alone has.

    `texts` are sample texts by field.
    """
    found = dict.fromkeys(_drawn(template, workshop))
    for size, factor in template.sizes[1:]:
        known = {(flag.kind, flag.where) for flag in found}
        for flag in _drawn(scaled(template, factor), workshop):
            if (flag.kind, flag.where) not in known:
                found[_at_size(flag, size)] = None
    made = sample(template, texts, workshop, bench)
    whole = all(wood.outline or wood.layer.backing for wood in woods(template, workshop))
    hangs = hanging.tilt(template, texts, workshop, bench) if whole else ()
    flags = (*found, *hangs, *sample_flags(made, FILE))
    return made, tuple(sorted(flags, key=lambda flag: -flag.kind.severity.rank))


def unreadable(sentence: str) -> Flag:
    """The finding for a fault that keeps a design from being read: "place: what is wrong." """
    place, _, said = sentence.partition(": ")
    return Flag(DESIGN_UNREADABLE, place, said.removesuffix("."))


def _at_size(flag: Flag, size: str) -> Flag:
    return replace(flag, where=f"{flag.where}, at the size {size}")


def _drawn(template: Template, workshop: Workshop) -> Iterator[Flag]:
    """The findings about the drawings; no width is measured where lines cross."""
    layers = woods(template, workshop)
    hangers = [hanger for hanger in workshop.hangers if hanger.id in template.hangers]
    widest = max(hangers, key=lambda hanger: hanger.hole, default=None)
    yield from lines.units(template)
    for wood in layers:
        broken = tuple(
            chain(
                lines.outline(wood),
                lines.crossings(wood),
                lines.doubled(wood),
                lines.outside(wood, template),
            )
        )
        yield from broken
        if not stops(broken):
            yield from widths.openings(wood)
            yield from widths.engraving(wood)
            yield from edges.engraving(wood)
            if wood.outline:
                yield from _in_its_outline(wood, template)
                yield from edges.hole(wood, widest)
    if all(wood.outline for wood in layers):
        yield from edges.number(layers, template)


def _in_its_outline(wood: Wood, template: Template) -> Iterator[Flag]:
    yield from edges.openings(wood)
    yield from widths.webs(wood)
    yield from edges.zones(wood, template)
    yield from hanging.grain(wood)
