"""What else is engraved on a layer where letters stand that run on into its wood."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from proofgen.designs.design import Mark
from proofgen.geometry.path import Path
from proofgen.geometry.weld import grown, without

# Width in mm of the groove that shows the letters within the wood that carries them, and what is
# left bare round it: read at arm's length in the pictures.
GROOVE = 1.0
BARE = 1.0
# Bits of a drawn line that are shorter would look like dirt, mm.
SHORTEST = 3.0
SPECK = 0.01  # mm²; rounding


def given_way(marks: Iterable[Mark], letters: Path) -> tuple[Mark, ...]:
    """The marks, of which drawn engraving ends where the letters, their groove and what is bare
    round it begin.
    """
    kept = (_given_way(mark, letters) for mark in marks)
    return tuple(mark for mark in kept if mark.path)


def crossed(marks: Iterable[Mark], letters: Path) -> float:
    """Square millimetres of lettering, symbols and hanger's hole across the letters.

    What is engraved counts as far as the groove round them.
    """
    from proofgen.geometry.relief import shared

    lettered = [mark for mark in marks if mark.field and mark.side == "front"]
    reach = {"engrave-area": GROOVE, "engrave-line": GROOVE, "cut-inside": 0.0}
    found = sum(
        shared(m.path, letters, reach[m.operation]) for m in lettered if m.operation in reach
    )
    return found if found > SPECK else 0.0


def _given_way(mark: Mark, letters: Path) -> Mark:
    from proofgen.geometry.relief import apart, off

    if mark.field or not _engraved(mark):
        return mark
    if mark.operation == "engrave-line":
        return replace(mark, path=off(mark.path, letters, GROOVE + BARE, SHORTEST))
    if apart(mark.path, letters, GROOVE + BARE):
        return mark
    return replace(mark, path=without(mark.path, grown(letters, GROOVE + BARE)))


def _engraved(mark: Mark) -> bool:
    return mark.side == "front" and mark.operation.startswith("engrave")
