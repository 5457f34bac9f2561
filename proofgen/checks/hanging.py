"""Findings about how a piece hangs: upright, and by a tab that holds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from proofgen.artwork.artwork import Artwork, Layer
from proofgen.artwork.compose import compose, fit_slots
from proofgen.artwork.settle import prepared
from proofgen.checks.sample import sample_order
from proofgen.checks.wood import Wood
from proofgen.designs.design import Design, DesignLayer, Growth, Template, TemplateLayer
from proofgen.designs.grow import crosses_askew, grown
from proofgen.flags import about_drawings as kinds, kinds as row_kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.affine import Point
from proofgen.geometry.mass import centroid, tab_foot
from proofgen.geometry.path import join
from proofgen.lettering.bench import Bench
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Workshop

HANGER = "hanger"
TILT = 2.0  # degrees; common practice, no source
# How far below its hole the middle of a piece lies for it to hang upright by itself, mm; from
# memory, no source. Nearer, any touch turns it, and no angle can be told from rounding.
DROP = 3.0
FOOT = 10.0  # mm of wood across the grain; from memory, no source
# Where the middle lies so high without any letters, a shorter text cures nothing.
NO_TEXT = "Choose another design, or draw its hole anew: no text makes it hang upright."
TAB = 0.4  # of the piece's smaller side: what a disc of that size does not reach is a tab


@dataclass(frozen=True, slots=True)
class Hung:
    """Where a piece hangs: the layer in front that has a hole, the hole, and the middle of mass."""

    layer: str
    hole: Point
    middle: Point

    @property
    def drop(self) -> float:
        """How far the middle lies below the hole, mm."""
        return self.middle[1] - self.hole[1]

    @property
    def tilt(self) -> float:
        """By how many degrees it hangs tilted, 0 to 180."""
        return math.degrees(math.atan2(abs(self.middle[0] - self.hole[0]), self.drop))

    @property
    def upright(self) -> bool:
        """Whether nobody sees that it hangs tilted."""
        return self.drop >= DROP and self.tilt <= TILT


def hung(layers: Sequence[Layer | DesignLayer], workshop: Workshop) -> Hung | None:
    """How a glued piece hangs, by the hole of its layer in front; None where it has no hole.

    Layers weigh by area and thickness; openings and letters that stand are as they are cut.
    """
    holes = (
        (layer.name, join(m.path for m in layer.marks if m.field == HANGER)) for layer in layers
    )
    found = [(name, hole.bounds().centre) for name, hole in holes if hole]
    if not found:
        return None
    weights = []
    for layer in layers:
        outline = join(m.path for m in layer.marks if m.operation == "cut-outside")
        openings = join(m.path for m in layer.marks if m.operation == "cut-inside")
        area, middle = centroid(outline, openings)
        weights.append((area * workshop.material(layer.material).thickness, middle))
    whole = sum(weight for weight, _ in weights)
    if not whole:
        return None
    x, y = (sum(weight * middle[i] for weight, middle in weights) / whole for i in (0, 1))
    return Hung(*found[-1], (x, y))


def tilted(
    artwork: Artwork, unlettered: Sequence[Layer | DesignLayer], workshop: Workshop
) -> Iterator[Flag]:
    """A flag for a row's piece that does not hang upright."""
    hangs = hung(artwork.layers, workshop)
    if hangs is not None and not hangs.upright:
        bare = hung(unlettered, workshop)
        cure = NO_TEXT if bare is not None and bare.drop < DROP and hangs.drop < DROP else ""
        where = artwork.order.where(HANGER)
        yield Flag(row_kinds.PIECE_TILTED, where, f"{hangs.tilt:.1f}", TILT, "", cure)


def tilt(
    template: Template, texts: Mapping[str, str], workshop: Workshop, bench: Bench
) -> Iterator[Flag]:
    """How the finished piece hangs with sample texts: as it is drawn, and grown to its most."""
    hangers = [hanger for hanger in workshop.hangers if hanger.id in template.hangers]
    if not hangers:
        return
    order = sample_order(template, texts, workshop, max(hangers, key=lambda each: each.hole).id)
    design, _ = prepared(template, order, workshop, bench)
    if design is None:
        return
    hangs = hung(_finished(order, design, workshop, bench), workshop)
    if hangs is None:
        return
    where = f"{_layer(template, hangs).file('front')}, element 'hole'"
    if not hangs.upright:
        yield _as_drawn(hangs, where)
    elif design.growth:
        most = tuple(growth.most for growth in design.growth)
        larger = hung(_finished(order, grown(design, most), workshop, bench), workshop)
        if larger and not larger.upright:
            subject = " and ".join(f"{by:g}" for by in most)
            remedy = _evenly(design, hangs, workshop)
            angle = f"{larger.tilt:.2f}"
            yield Flag(kinds.HANGS_TILTED_GROWN, where, angle, TILT, subject, remedy)


def _finished(
    order: Order, design: Design, workshop: Workshop, bench: Bench
) -> Sequence[Layer | DesignLayer]:
    """The layers with the sample's letters, or as they are drawn where those cannot be made."""
    fitted = fit_slots(order, design, workshop, bench)
    made = compose(order, design, fitted, workshop, bench, ())
    return made.artwork.layers if made.artwork else design.layers


def _as_drawn(hangs: Hung, where: str) -> Flag:
    if hangs.drop < DROP:
        way = "below" if hangs.drop >= 0 else "above"
        lies = f"{abs(hangs.drop):.2f} mm {way}"
        return Flag(kinds.HANGS_UNDECIDED, where, lies, DROP, "", _higher(hangs))
    x = hangs.middle[0]
    cure = f"Move the hole to x = {x:.1f} mm, the y as it is, in every layer."
    return Flag(kinds.HANGS_TILTED, where, hangs.tilt, TILT, "", cure)


def _higher(hangs: Hung) -> str:
    """The hole that makes a piece hang upright whose middle lies too high under it, or beside it.

    So far above the middle, rounded up; x only where the hole is not there already.
    """
    x, y = hangs.middle[0], math.floor((hangs.middle[1] - DROP) * 10 - 1) / 10
    if y <= 0:
        return ""
    beside = abs(hangs.middle[0] - hangs.hole[0]) > DROP * math.tan(math.radians(TILT))
    place = f"x = {x:.1f} and y = {y:.1f} mm" if beside else f"y = {y:.1f} mm"
    return (
        f"Move the hole to {place} or higher, in every layer, or make the piece heavier below it."
    )


def _evenly(design: Design, hangs: Hung, workshop: Workshop) -> str:
    """What to write for a piece that grows on one side of its hole, if that makes it hang upright.

    For each line across the width, one as far on the other side.
    """
    x = hangs.hole[0]
    lines = []
    for growth in design.growth:
        if growth.axis != "x":
            lines.append(growth)
            continue
        half = replace(growth, most=growth.most / 2)
        lines += [half, replace(half, at=2 * x - growth.at)]
    even = replace(design, growth=tuple(lines))
    if not all(_can(growth, design) for growth in lines):
        return ""
    larger = hung(grown(even, tuple(growth.most for growth in lines)).layers, workshop)
    if larger is None or not larger.upright:
        return ""
    wide = [f"at x = {growth.at:g} by {growth.most:g}" for growth in lines if growth.axis == "x"]
    return f"Let it grow {' and '.join(wide)} mm."


def _can(growth: Growth, design: Design) -> bool:
    """Whether a line lies in the zone of its field and nothing crosses it askew."""
    marks = [mark for layer in design.layers for mark in layer.marks if mark.side == "front"]
    own = [slot.zone for slot in design.slots if slot.field == growth.field]
    along = [x for zone in own for x, _ in zone]
    through = growth.axis == "y" or min(along) < growth.at < max(along)
    return through and not any(
        crosses_askew(mark.path, growth) for mark in marks if mark.field != HANGER
    )


def _layer(template: Template, hangs: Hung) -> TemplateLayer:
    return next(layer for layer in template.layers if layer.name == hangs.layer)


def grain(wood: Wood) -> Iterator[Flag]:
    """A tab that stands across the grain, which runs along x, needs a wide foot."""
    if wood.layer.hole is None or not wood.hole:
        return
    box = wood.outline.bounds()
    tab = tab_foot(wood.outline, wood.layer.hole, TAB * min(box.width, box.height))
    if tab is None:
        return
    width, (dx, dy) = tab
    if abs(dy) > abs(dx) and width < FOOT:
        yield Flag(kinds.GRAIN_SHORT, wood.where("hole"), width, FOOT)
