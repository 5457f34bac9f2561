"""Choosing how a text is set in its slot.

Order of choice: face, fewer lines, least narrowed; the first setting that meets every limit at
the wanted cap height wins, unless an earlier face comes near it without being much narrower; else
the greatest cap height that meets them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from proofgen.designs.design import Slot
from proofgen.faces.face import Face
from proofgen.lettering.bench import Bench
from proofgen.lettering.lines import arrangements
from proofgen.lettering.rules import Rules
from proofgen.lettering.rung import Rung, largest_first, rungs
from proofgen.lettering.trial import SAME, Task, Trial

# This share of the wanted cap height is near it: nobody sees the difference, as everybody does
# between two faces. A later face wins all the same where this one is narrower by more than a fifth,
# which is as far as plain scaling goes. Choices of this program.
NEAR = 0.97
LIKE = 0.8


@dataclass(frozen=True, slots=True)
class Choice:
    """The trial that was chosen, and how far it is narrowed."""

    trial: Trial
    narrowed: float

    @property
    def face(self) -> Face:
        """The face that it is set in."""
        return self.trial.task.face


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


def unshrunk(text: str, slot: Slot, rules: Rules, bench: Bench) -> bool:
    """Whether some face sets the text at the wanted cap height without narrowing it."""
    wanted = slot.cap_height.wanted
    text = text.upper() if slot.case == "capitals" else text
    rules = replace(rules, squeeze=1.0, squeeze_joined=1.0)
    naturals = (r for r in _rungs(text, slot, rules, bench, slot.faces) if r.narrowed == 1.0)
    trials = (rung.best for rung in naturals if rung.reaches(wanted))
    return any(trial.legible and trial.cap_height >= wanted - SAME for trial in trials)


def as_wide(near: float, full: float) -> bool:
    """Whether a setting near the wanted size, by how far it is narrowed, is as good as one that
    reaches it in a later face.
    """
    return near >= LIKE * full


def nearly(slot: Slot) -> float:
    """The cap height, mm, that is near enough to the wanted one."""
    return max(NEAR * slot.cap_height.wanted, slot.cap_height.least)


def least_cap_height(choice: Choice, slot: Slot, rules: Rules) -> float:
    """The slot's least cap height; letters that join also keep their least x-height."""
    trial, face = choice.trial, choice.face
    x_height = face.x_height(trial.layout.cut.axes) if face.joined else None
    if not x_height:
        return slot.cap_height.least
    return max(slot.cap_height.least, rules.x_height_joined.least * trial.task.cap / x_height)


def cap_of(face: Face, slot: Slot, bench: Bench) -> float:
    """The cap height of one em; of the slot's first face that has one where this one has not."""
    own = face.cap_height(face.normal)
    if own:
        return own
    others = map(bench.faces.__getitem__, slot.faces)
    return next(height for other in others if (height := other.cap_height(other.normal)))


def _noted(rungs: Iterable[Rung], seen: list[Rung]) -> Iterator[Rung]:
    """The same, each noted as it is asked for: most texts need but the first."""
    for rung in rungs:
        seen.append(rung)
        yield rung


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
