"""Setting a text in its slot, as large as is chosen."""

from __future__ import annotations

import math
from dataclasses import replace

from proofgen.designs.design import Slot
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.path import join
from proofgen.lettering.bench import Bench
from proofgen.lettering.choose import Choice, choose
from proofgen.lettering.lettering import Lettering, SetLine
from proofgen.lettering.notes import failure, glyph_missing, notes
from proofgen.lettering.rules import Rules

STEP = 0.01  # mm of cap height, as finely as sizes are made

Found = tuple[Lettering | None, tuple[Flag, ...]]


def fit(text: str, slot: Slot, rules: Rules, bench: Bench, where: str) -> Found:
    """Set a text in a slot: the lettering, or None with the flags that say why not."""
    text = text.upper() if slot.case == "capitals" else text
    if all(bench.faces[name].missing(text) for name in slot.faces):
        return None, (glyph_missing(text, slot.faces, bench, where),)
    asked = slot
    while True:
        choice = choose(text, asked, rules, bench)
        if choice is None:
            return None, (Flag(kinds.NOTHING_TO_LETTER, where, text),)
        failed = failure(choice, slot, rules, where)
        if failed:
            return None, (failed,)
        lettering = place(choice, slot)
        if lettering:
            return lettering, notes(text, choice, lettering, slot, rules, bench, where)
        asked = _smaller(slot, choice.trial.cap_height)


def place(choice: Choice, slot: Slot) -> Lettering | None:
    """Set the chosen trial: size and places are snapped first, geometry is made from them. None
    where no place is found for that size.
    """
    trial = choice.trial
    layout = trial.layout
    places = trial.task.seat.place(layout, trial.largest)
    if places is None:
        return None
    origins, outlines = places
    lines = tuple(
        SetLine(text, tuple(g for unit in line for g, _, _ in unit.key), origin)
        for text, line, origin in zip(layout.texts, layout.lines, origins, strict=True)
    )
    cut = layout.cut
    axes = (*cut.axes, ("squeeze", cut.squeeze)) if cut.squeeze != 1.0 else cut.axes
    return Lettering(
        field=slot.field,
        layer=slot.layer,
        text="\n".join(layout.texts),
        face=choice.face.id,
        axes=axes,
        tracking=round(trial.tracking * 1000, 3),
        cap_height=round(trial.cap_height, 2),
        narrowed=choice.narrowed,
        lines=lines,
        outline=join(outlines),
        thinnest_stroke=trial.stroke,
        narrowest_gap=trial.gap,
        clearance=math.inf,
    )


def _smaller(slot: Slot, reached: float) -> Slot:
    """The slot for a text a step smaller than it reached, mm, where a search that is not exact
    found a size for which there is no place.
    """
    return replace(slot, cap_height=replace(slot.cap_height, wanted=round(reached - STEP, 2)))
