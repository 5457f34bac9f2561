"""Changes of a row tried for real; nothing is fitted twice."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import replace

from proofgen.artwork.compose import SlotFit, fit_slots
from proofgen.artwork.settle import Piece, prepared, settled
from proofgen.designs.design import Design, Slot, Template
from proofgen.designs.texts import text_of
from proofgen.flags.flag import stops
from proofgen.lettering.bench import Bench
from proofgen.orders.order import Order
from proofgen.workshop.workshop import Workshop


class Tries:
    """For one row: what its fields reach when something about it is changed."""

    def __init__(self, templates: Mapping[str, Template], workshop: Workshop, bench: Bench) -> None:
        self.templates = templates
        self.faces = bench.faces
        self.workshop = workshop
        self._bench = bench
        self._designs: dict[Hashable, Design | None] = {}
        self._fits: dict[Hashable, SlotFit] = {}

    @property
    def fits(self) -> int:
        """How many texts were fitted so far."""
        return len(self._fits)

    def reached(
        self, order: Order, template: Template, field: str, failing: tuple[str, ...] = ()
    ) -> float:
        """The cap height of the field if the order then passes, else 0.

        It need not pass in the fields that are `failing` anyway.
        """
        design = self._design(order, template)
        if design is None:
            return 0.0
        slots = [slot for slot in design.slots if text_of(order, slot)]
        slots.sort(key=lambda slot: slot.field != field)
        reached = 0.0
        for slot in slots:
            lettering = self._fit(order, design, slot).lettering
            if lettering is None and slot.field not in failing:
                return 0.0
            if lettering and slot.field == field:
                reached = reached or lettering.cap_height
        return reached

    def _design(self, order: Order, template: Template) -> Design | None:
        """The design as it is settled for that order; the texts that it grows for decide."""
        grows = {growth.field for growth in template.growth}
        texts = tuple((name, name in grows and text) for name, text in sorted(order.fields))
        at = (template.id, order.options, texts)
        if at not in self._designs:
            self._designs[at] = self._new_design(order, template)
        return self._designs[at]

    def _new_design(self, order: Order, template: Template) -> Design | None:
        design, flags = prepared(template, order, self.workshop, self._bench)
        if design is None or stops(flags):
            return None
        (design,) = settled([Piece(order, design)], False, self.workshop, self._bench)
        return design

    def _fit(self, order: Order, design: Design, slot: Slot) -> SlotFit:
        number, text = design.slots.index(slot), text_of(order, slot)
        at = (design.id, design.grown, order.options, number, text)
        if at not in self._fits:
            alone = replace(design, slots=(slot,))
            (self._fits[at],) = fit_slots(order, alone, self.workshop, self._bench)
        return self._fits[at]
