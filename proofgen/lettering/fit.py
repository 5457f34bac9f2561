"""Choosing how a text is set in its slot, and setting it.

Order of choice: face, fewer lines, least narrowed; the first setting that meets every limit at
the wanted cap height wins, unless an earlier face comes near it without being much narrower; else
the greatest cap height that meets them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from proofgen.designs.design import Slot
from proofgen.faces.face import Face
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.geometry.path import join
from proofgen.lettering.bench import Bench
from proofgen.lettering.lettering import Lettering, SetLine
from proofgen.lettering.lines import arrangements
from proofgen.lettering.rules import Rules
from proofgen.lettering.rung import Rung, largest_first, rungs
from proofgen.lettering.trial import SAME, Task, Trial

# So many missing characters are named in a sentence.
NAMED = 3
# This share of the wanted cap height is near it: nobody sees the difference, as everybody does
# between two faces. A later face wins all the same where this one is narrower by more than a fifth,
# which is as far as plain scaling goes. Choices of this program.
NEAR = 0.97
LIKE = 0.8
STEP = 0.01  # mm of cap height, as finely as sizes are made

Found = tuple[Lettering | None, tuple[Flag, ...]]


@dataclass(frozen=True, slots=True)
class Choice:
    """The trial that was chosen, and how far it is narrowed."""

    trial: Trial
    narrowed: float

    @property
    def face(self) -> Face:
        """The face that it is set in."""
        return self.trial.task.face


def fit(text: str, slot: Slot, rules: Rules, bench: Bench, where: str) -> Found:
    """Set a text in a slot: the lettering, or None with the flags that say why not."""
    text = text.upper() if slot.case == "capitals" else text
    if all(bench.faces[name].missing(text) for name in slot.faces):
        return None, (_glyph_missing(text, slot.faces, bench, where),)
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
            return lettering, _notes(text, choice, lettering, slot, rules, bench, where)
        asked = _smaller(slot, choice.trial.cap_height)


def choose(text: str, slot: Slot, rules: Rules, bench: Bench, face: str = "") -> Choice | None:
    """The setting that wins, whether or not it meets the limits; None if nothing can be drawn."""
    seen: list[Rung] = []
    near: Choice | None = None
    for each in (face,) if face else slot.faces:
        own: list[Rung] = []
        tried = _noted(_rungs(text, slot, rules, bench, (each,)), own)
        found = _first(tried, slot.cap_height.wanted)
        if found:
            return near if near and as_wide(near.narrowed, found.narrowed) else found
        near = near or _near(own, slot, rules)
        seen += own
    return near or _greatest(largest_first(seen), slot.cap_height.least)


def _noted(rungs: Iterable[Rung], seen: list[Rung]) -> Iterator[Rung]:
    """The same, each noted as it is asked for: most texts need but the first."""
    for rung in rungs:
        seen.append(rung)
        yield rung


def _smaller(slot: Slot, reached: float) -> Slot:
    """The slot for a text a step smaller than it reached, mm, where a search that is not exact
    found a size for which there is no place.
    """
    return replace(slot, cap_height=replace(slot.cap_height, wanted=round(reached - STEP, 2)))


def as_wide(near: float, full: float) -> bool:
    """Whether a setting near the wanted size, by how far it is narrowed, is as good as one that
    reaches it in a later face.
    """
    return near >= LIKE * full


def nearly(slot: Slot) -> float:
    """The cap height, mm, that is near enough to the wanted one."""
    return max(NEAR * slot.cap_height.wanted, slot.cap_height.least)


def _near(ordered: Iterable[Rung], slot: Slot, rules: Rules) -> Choice | None:
    found = _first(ordered, nearly(slot))
    small = found and found.trial.cap_height < least_cap_height(found, slot, rules) - SAME
    return None if small else found


def _first(ordered: Iterable[Rung], size: float) -> Choice | None:
    """The first that is legible at that cap height, mm, or above."""
    for rung in ordered:
        if rung.reaches(size):
            trial = rung.best
            if trial.legible and trial.cap_height >= size - SAME:
                return Choice(trial, rung.narrowed)
    return None


def unshrunk(text: str, slot: Slot, rules: Rules, bench: Bench) -> bool:
    """Whether some face sets the text at the wanted cap height without narrowing it."""
    wanted = slot.cap_height.wanted
    text = text.upper() if slot.case == "capitals" else text
    naturals = (r for r in _rungs(text, slot, rules, bench, slot.faces) if r.narrowed == 1.0)
    trials = (rung.best for rung in naturals if rung.reaches(wanted))
    return any(trial.legible and trial.cap_height >= wanted - SAME for trial in trials)


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


def _greatest(ordered: Iterator[Rung], least: float) -> Choice | None:
    """The greatest legible trial of at least that cap height, else the first; None without any.

    `ordered` by what they could reach, so most need no search.
    """
    best: Choice | None = None
    first: Choice | None = None
    for rung in ordered:
        first = first or Choice(rung.first, rung.narrowed)
        enough = best.trial.cap_height + 0.005 if best else least
        if rung.first.cap_height < least or (best and rung.first.cap_height <= enough):
            break
        trial = rung.best
        if trial.legible and (best is None or trial.cap_height > enough):
            best = Choice(trial, rung.narrowed)
    return best or first


def _rungs(
    text: str, slot: Slot, rules: Rules, bench: Bench, faces: tuple[str, ...]
) -> Iterator[Rung]:
    """All settings in their order of choice, of those faces that have every character."""
    seat = bench.seat(slot)
    for face in map(bench.faces.__getitem__, faces):
        if face.missing(text):
            continue
        cap = cap_of(face, slot, bench)
        for texts in arrangements(text, slot):
            yield from rungs(Task(texts, face, cap, slot, rules, bench, seat))


def cap_of(face: Face, slot: Slot, bench: Bench) -> float:
    """The cap height of one em; of the slot's first face that has one where this one has not."""
    own = face.cap_height(face.normal)
    if own:
        return own
    others = map(bench.faces.__getitem__, slot.faces)
    return next(height for other in others if (height := other.cap_height(other.normal)))


def least_cap_height(choice: Choice, slot: Slot, rules: Rules) -> float:
    """The slot's least cap height; letters that join also keep their least x-height."""
    trial, face = choice.trial, choice.face
    x_height = face.x_height(trial.layout.cut.axes) if face.joined else None
    if not x_height:
        return slot.cap_height.least
    return max(slot.cap_height.least, rules.x_height_joined.least * trial.task.cap / x_height)


def failure(choice: Choice, slot: Slot, rules: Rules, where: str) -> Flag | None:
    """The limit that the choice does not meet, as a flag; None where it can be made."""
    trial = choice.trial
    least = least_cap_height(choice, slot, rules)
    set_so = _set_so(choice, slot, rules)
    if trial.cap_height < least - 1e-6:
        return Flag(kinds.LETTERING_TOO_SMALL, where, trial.cap_height, least, choice.face.title)
    if trial.stroke_too_thin:
        drawn = trial.stroke + rules.dot
        return Flag(kinds.STROKE_TOO_THIN, where, drawn, rules.stroke, set_so)
    if trial.gap_too_narrow:
        drawn = max(trial.gap - rules.dot, 0.0)
        return Flag(kinds.GAP_TOO_NARROW, where, drawn, rules.gap, set_so)
    return None


def _set_so(choice: Choice, slot: Slot, rules: Rules) -> str:
    """How large a setting is, in what face and on what, and whether its length keeps it smaller."""
    size = choice.trial.cap_height
    there = f"{choice.face.title} on {rules.material}"
    if size < slot.cap_height.wanted - SAME:
        return (
            f"the text is too long: at {size:.2f} mm, the largest cap height that fits, {there} has"
        )
    return f"at a cap height of {size:.2f} mm {there} has"


def _notes(
    text: str,
    choice: Choice,
    lettering: Lettering,
    slot: Slot,
    rules: Rules,
    bench: Bench,
    where: str,
) -> tuple[Flag, ...]:
    found: list[Flag] = []
    first = bench.faces[slot.faces[0]]
    absent = first.missing(text)
    if absent:
        found.append(
            Flag(kinds.FACE_WITHOUT_GLYPH, where, _spelled(absent), choice.face.title, first.title)
        )
    elif choice.face is not first:
        why = _why_not(text, first, lettering.cap_height, slot, rules, bench)
        found.append(Flag(kinds.FACE_CHANGED, where, choice.face.title, first.title, why))
    if lettering.cap_height < slot.cap_height.wanted - 0.0051:
        kind, limit = kinds.LETTERING_SMALL, slot.cap_height.wanted
        found.append(Flag(kind, where, lettering.cap_height, limit, f"{slot.cap_height.least:g}"))
    if text.count("\n") + 1 > slot.lines_asked:
        found.append(
            Flag(kinds.LINES_TOO_MANY, where, str(text.count("\n") + 1), str(slot.lines_asked))
        )
    return tuple(found)


def _why_not(text: str, face: Face, reached: float, slot: Slot, rules: Rules, bench: Bench) -> str:
    """What the text comes to in a face that was not taken."""
    choice = choose(text, slot, rules, bench, face.id)
    assert choice is not None
    failed = failure(choice, slot, rules, "")
    if failed and failed.kind is not kinds.LETTERING_TOO_SMALL:
        failed = replace(failed, subject=f"at {choice.trial.cap_height:.2f} mm it has")
    if failed:
        return failed.says
    return f"cap height {choice.trial.cap_height:.2f} mm; {reached:.2f} mm here"


def _glyph_missing(text: str, wanted: tuple[str, ...], bench: Bench, where: str) -> Flag:
    """Names the characters that the face which comes nearest does not have."""
    faces = [bench.faces[name] for name in wanted]
    absent = min((face.missing(text) for face in faces), key=len)
    titles = ", ".join(face.title for face in faces)
    return Flag(kinds.GLYPH_MISSING, where, _spelled(absent), subject=titles)


def _spelled(characters: str) -> str:
    """The first few characters, so that they can be found in the text."""
    named = ", ".join(f"{c} (U+{ord(c):04X})" for c in characters[:NAMED])
    more = len(characters) - NAMED
    return f"{named} and {more} more" if more > 0 else named
