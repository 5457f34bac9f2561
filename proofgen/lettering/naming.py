"""What a person calls a part of some lettering: "the dot of the second i"."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

import unicodedata2

from proofgen.faces.face import Face
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path, join
from proofgen.lettering.lettering import Lettering, SetLine

ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
# A part that has at least this share of a letter's ink is the letter.
WHOLE = 0.5
DOTTED = "ij"


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter as it is set: `number` counts letters like it from 1, and `of` is how many.

    It is `drawn` in ems about its own origin, alike for all letters like it, and lies where `at`
    puts it.
    """

    character: str
    number: int
    of: int
    drawn: Path
    at: Affine

    @property
    def outline(self) -> Path:
        """In millimetres, where it is."""
        return self.drawn.moved(self.at)

    @property
    def title(self) -> str:
        """How it is told from others."""
        if self.of == 1:
            return f"the {self.character}"
        if self.number <= len(ORDINALS):
            return f"the {ORDINALS[self.number - 1]} {self.character}"
        return f"{self.character} number {self.number}"


def letters(lettering: Lettering, face: Face, em: float) -> tuple[Letter, ...]:
    """The letters of straight lettering in its face, whose em is so many millimetres."""
    found = [pair for line in lettering.lines for pair in _set(line, lettering, face, em)]
    of = Counter(character for character, _, _ in found)
    so_far: Counter[str] = Counter()
    named = []
    for character, drawn, at in found:
        so_far[character] += 1
        named.append(Letter(character, so_far[character], of[character], drawn, at))
    return tuple(named)


def named(part: Path, letters: tuple[Letter, ...]) -> str:
    """The name of a part: its letters where it is whole ones, else what it is of its letter."""
    from proofgen.geometry.parts import overlap
    from proofgen.geometry.polygons import area

    shared = [overlap(part, letter.outline) for letter in letters]
    if not any(shared):
        x, y = part.bounds().centre
        return f"the part at {x:.1f}, {y:.1f} mm"
    whole = [
        letter.title
        for letter, common in zip(letters, shared, strict=True)
        if common and common >= WHOLE * area(letter.outline)
    ]
    if whole:
        return " and ".join(whole)
    nearest = letters[max(range(len(letters)), key=shared.__getitem__)]
    return f"{_bit(nearest.character)} of {nearest.title}"


def _bit(character: str) -> str:
    """What may come loose of a letter."""
    if character in DOTTED:
        return "the dot"
    marks = [c for c in unicodedata2.normalize("NFD", character) if unicodedata2.combining(c)]
    if len(marks) != 1:
        return "a part"
    return "the " + str(unicodedata2.name(marks[0], "MARK")).removeprefix("COMBINING ").lower()


def _set(
    line: SetLine, lettering: Lettering, face: Face, em: float
) -> Iterator[tuple[str, Path, Affine]]:
    """Each cluster of characters with its ink in ems and where it goes, left to right; blanks are
    left out.
    """
    squeeze = dict(lettering.axes).get("squeeze", 1.0)
    axes = tuple(axis for axis in lettering.axes if axis[0] != "squeeze")
    glyphs, _ = face.shape(axes, line.text, tracked=lettering.tracking != 0)
    starts = sorted({glyph.cluster for glyph in glyphs})
    ends = dict(pairwise([*starts, len(line.text)]))
    for number, (start, cluster) in enumerate(groupby(glyphs, key=lambda glyph: glyph.cluster)):
        first, *more = cluster
        origin = first.x * squeeze + lettering.tracking / 1000 * number
        drawn = join(
            face.outline(axes, glyph.id).moved(
                Affine(squeeze, d=1.0, e=round((glyph.x - first.x) * squeeze, 6), f=glyph.y)
            )
            for glyph in (first, *more)
        )
        if drawn:
            at = Affine.shift(origin, 0.0).then(Affine.scale(em)).then(Affine.shift(*line.origin))
            yield line.text[start : ends[start]], drawn, at
