"""What is said of how a text is set: the limit that it does not meet, and what to look at."""

from __future__ import annotations

from dataclasses import replace

from proofgen.designs.design import Slot
from proofgen.faces.face import Face
from proofgen.flags import kinds
from proofgen.flags.flag import Flag
from proofgen.lettering.bench import Bench
from proofgen.lettering.choose import Choice, choose, least_cap_height
from proofgen.lettering.lettering import Lettering
from proofgen.lettering.rules import Rules
from proofgen.lettering.trial import SAME

# So many missing characters are named in a sentence.
NAMED = 3


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


def notes(
    text: str,
    choice: Choice,
    lettering: Lettering,
    slot: Slot,
    rules: Rules,
    bench: Bench,
    where: str,
) -> tuple[Flag, ...]:
    """What to look at in a text that was set: another face, a smaller size, more lines."""
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


def glyph_missing(text: str, wanted: tuple[str, ...], bench: Bench, where: str) -> Flag:
    """Names the characters that the face which comes nearest does not have."""
    faces = [bench.faces[name] for name in wanted]
    absent = min((face.missing(text) for face in faces), key=len)
    titles = ", ".join(face.title for face in faces)
    return Flag(kinds.GLYPH_MISSING, where, _spelled(absent), subject=titles)


def _set_so(choice: Choice, slot: Slot, rules: Rules) -> str:
    """How large a setting is, in what face and on what, and whether its length keeps it smaller."""
    size = choice.trial.cap_height
    there = f"{choice.face.title} on {rules.material}"
    if size < slot.cap_height.wanted - SAME:
        return (
            f"the text is too long: at {size:.2f} mm, the largest cap height that fits, {there} has"
        )
    return f"at a cap height of {size:.2f} mm {there} has"


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


def _spelled(characters: str) -> str:
    """The first few characters, so that they can be found in the text."""
    named = ", ".join(f"{c} (U+{ord(c):04X})" for c in characters[:NAMED])
    more = len(characters) - NAMED
    return f"{named} and {more} more" if more > 0 else named
