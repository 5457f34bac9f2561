"""What the maker saw on the card, as changes of the workshop file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from proofgen.errors import UnusableError
from proofgen.testcard.series import (
    NAMES,
    PLAIN,
    SERIES,
    YEARS,
    Series,
    kerf_of,
    lot_of,
)
from proofgen.workshop.edit import Key
from proofgen.workshop.workshop import Bound, Machine, Material, Workshop

KERF = "kerf"
# Kerfs beyond these are slips of the caliper: a beam is no wider, and none is so narrow.
KERFS = (0.02, 1.0)
INSCRIPTION = PLAIN.key
# Fields that are never lettered smaller than the inscription can be.
LARGER = tuple(series.key for series in (NAMES, YEARS))
GOOD = "the smallest that also looks good enough to sell"
ACROSS = "kerf: the loose pieces pushed together, measured across all of them with a caliper"
_NUMBER = re.compile(r"(\d{1,4}(?:[.,]\d{1,6})?)\s*(?:mm)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to look for. `mark` is a series or the kerf, `good` whether it asks for what looks
    well and not for what merely came out; `now` is the answer that the workshop file has.
    """

    mark: str
    good: bool
    text: str
    least: float
    most: float
    now: float

    @property
    def until_now(self) -> str:
        """What the workshop file has, in brackets where it cannot be read off the card."""
        return f"{self.now:g}" if self.least <= self.now <= self.most else f"({self.now:g})"


@dataclass(frozen=True, slots=True)
class Answer:
    """A number read off the card, and where it was written, for sentences about it."""

    number: float
    place: str


Answers = Mapping[tuple[str, bool], Answer]


@dataclass(frozen=True, slots=True)
class Change:
    """A number of the workshop file, before and after."""

    key: Key
    was: float
    now: float


def questions(workshop: Workshop, material: Material) -> tuple[Question, ...]:
    """Everything that the card can tell, in its order; numbers are those printed on it."""
    found: list[Question] = []
    for series in SERIES:
        bound = _bound(series.key, workshop, material)
        ends = min(series.sizes), max(series.sizes)
        least, wanted = (
            _rounded(series.drawn(size, workshop.machine)) for size in (bound.least, bound.wanted)
        )
        whole = f"{series.title}: the smallest number whose {series.asks}"
        found.append(Question(series.id, False, whole, *ends, least))
        found.append(Question(series.id, True, GOOD, *ends, wanted))
    least, most = (_rounded(lot_of(kerf)) for kerf in reversed(KERFS))
    now = _rounded(lot_of(workshop.machine.kerf))
    return (*found, Question(KERF, False, ACROSS, least, most, now))


def number_of(text: str, question: Question, place: str) -> float:
    """The number that was typed, in millimetres; a decimal comma will do.

    UnusableError, naming the place, where it is none or cannot be read off the card.
    """
    typed = _NUMBER.fullmatch(text.strip())
    if not typed:
        raise UnusableError(f"{place}: '{text.strip()[:20]}' is no number of millimetres.")
    number = float(typed[1].replace(",", "."))
    if not question.least <= number <= question.most:
        raise UnusableError(
            f"{place}: {number:g} cannot be read off the card; "
            f"there is {question.least:g} to {question.most:g}."
        )
    return number


def changes(answers: Answers, workshop: Workshop, material: Material) -> tuple[Change, ...]:
    """What the answers change; an answer that is not there keeps what was.

    UnusableError where what looks good is smaller than what came out, or a gap that is said to
    be open would be closed by the dot.
    """
    kerf = answers.get((KERF, False))
    machine = workshop.machine
    found: list[Change] = []
    if kerf:
        machine = replace(machine, kerf=_rounded(kerf_of(kerf.number)))
        found.append(Change(("machine", "kerf"), workshop.machine.kerf, machine.kerf))
    bounds: dict[Key, tuple[Bound, Bound]] = {}
    for key, several in _by_key().items():
        was = _bound(key, workshop, material)
        told = [_new_bound(each, answers, was, machine) for each in several]
        bounds[key] = was, _combined(told, was) or was
    least = bounds[INSCRIPTION][1].least
    for key in LARGER:
        was, new = bounds[key]
        if was != new or bounds[INSCRIPTION][0] != bounds[INSCRIPTION][1]:
            bounds[key] = was, Bound(max(new.least, least), max(new.wanted, least))
    for key, (was, new) in bounds.items():
        found += _bound_changes(_path(key, material), was, new)
    return tuple(change for change in found if change.was != change.now)


def notes(answers: Answers, workshop: Workshop, material: Material) -> tuple[str, ...]:
    """What an answer does not change, and what would."""
    found: list[str] = []
    for key, several in _by_key().items():
        told = [each for each in several if _is_told(each, answers)]
        silent = [each.title for each in several if each not in told]
        was = _bound(key, workshop, material)
        new = [_new_bound(each, answers, was, workshop.machine) for each in told]
        if silent and any(each and each.least < was.least for each in new):
            found.append(
                f"{told[0].title} alone do not lower {key[-1]}: {' and '.join(silent)} count too, "
                "and of them nothing was said; read them off as well."
            )
    inscription = answers.get((PLAIN.id, False))
    least = inscription.number if inscription else workshop.cap_height(INSCRIPTION[1]).least
    for series in (NAMES, YEARS):
        told_ = answers.get((series.id, False))
        if told_ and told_.number < least:
            found.append(f"{series.key[-1]}: no smaller than an inscription can be, {least:g}.")
    return tuple(found)


def _is_told(series: Series, answers: Answers) -> bool:
    return any((series.id, good) in answers for good in (False, True))


def _by_key() -> dict[Key, list[Series]]:
    """The series that tell each limit: openings and holes tell one."""
    found: dict[Key, list[Series]] = {}
    for series in SERIES:
        found.setdefault(series.key, []).append(series)
    return found


def _new_bound(series: Series, answers: Answers, was: Bound, machine: Machine) -> Bound | None:
    """The bound that a series tells, None where nothing was said of it."""
    whole, good = answers.get((series.id, False)), answers.get((series.id, True))
    if whole and good and good.number < whole.number:
        raise UnusableError(
            f"{good.place}: {good.number:g} looks good, but {whole.number:g} is the smallest that "
            f"came out ({whole.place})."
        )
    least = _out(series, whole, machine) if whole else was.least
    wanted = _out(series, good, machine) if good else max(was.wanted, least)
    if good and wanted < least:
        raise UnusableError(
            f"{good.place}: {good.number:g} looks good, but up to now "
            f"{_rounded(series.drawn(least, machine)):g} is the smallest that comes out; "
            "say that one too."
        )
    return Bound(least, wanted) if whole or good else None


def _out(series: Series, answer: Answer, machine: Machine) -> float:
    size = _rounded(series.comes_out(answer.number, machine))
    if size <= 0:
        raise UnusableError(
            f"{answer.place}: {answer.number:g} cannot be left of it, as the workshop file says "
            f"that a cut takes {machine.kerf:g} and an engraved stroke grows by {machine.dot:g}; "
            "correct kerf or dot in [machine] first."
        )
    return size


def _combined(told: list[Bound | None], was: Bound) -> Bound | None:
    """The bound that suffices for all; one of which nothing was said is taken as it was."""
    if not any(told):
        return None
    bounds = [bound or was for bound in told]
    return Bound(max(each.least for each in bounds), max(each.wanted for each in bounds))


def _bound(key: Key, workshop: Workshop, material: Material) -> Bound:
    """The bound as it is now."""
    if len(key) == 1:
        found: Bound = getattr(material.limits, key[0])
        return found
    return workshop.cap_height(key[1]) if key[0] == "cap_heights" else workshop.script_x_height


def _path(key: Key, material: Material) -> Key:
    """Where the bound stands in the workshop file."""
    return key if len(key) > 1 else ("materials", material.id, "limits", *key)


def _bound_changes(path: Key, was: Bound, new: Bound) -> list[Change]:
    return [
        Change((*path, "least"), was.least, new.least),
        Change((*path, "wanted"), was.wanted, new.wanted),
    ]


def _rounded(size: float) -> float:
    """To a micrometre, so that sums of decimals read as such."""
    return round(size, 3)
