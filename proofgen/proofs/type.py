"""Text in the faces that ship, shaped like any lettering, so that every script reads right.

A text is placed by the left end of its baseline; lengths in pixels.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from proofgen.faces.collection import Faces
from proofgen.faces.face import Face
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Points
from proofgen.resources import folder

# Tried in this order: Latin, Cyrillic and Vietnamese; Greek; Hebrew; Arabic.
FACES = ("nunito", "open-sans", "frank-ruhl-libre", "noto-naskh-arabic")
FLATNESS = 0.1  # px, for letters as large as those of the caption
REGULAR, BOLD = 600.0, 800.0


@dataclass(frozen=True, slots=True, eq=False)
class Letter:
    """The polygons of a glyph at some size; equal to itself alone, so that what is drawn of it
    can be kept.
    """

    polygons: tuple[Points, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Words:
    """A text set from x = 0 on the baseline y = 0: letters, each with its place, and the advance.

    Each is equal to itself alone, as a letter is.
    """

    letters: tuple[tuple[Letter, float, float], ...]
    width: float

    @property
    def polygons(self) -> tuple[Points, ...]:
        """Those of all letters, where they are."""
        return tuple(
            line + np.array([x, y]) for letter, x, y in self.letters for line in letter.polygons
        )

    def at(self, x: float, y: float, scale: float = 1.0) -> tuple[Points, ...]:
        """The polygons, scaled, moved to (x, y)."""
        return tuple(
            polygon * scale + np.array([x + right * scale, y + down * scale])
            for letter, right, down in self.letters
            for polygon in letter.polygons
        )


@lru_cache(maxsize=4096)
def words(text: str, size: float, weight: float = REGULAR) -> Words:
    """The text on one line at that size, in the first face that has all its characters."""
    if not text:
        return Words((), 0.0)
    face = _face(text)
    chosen = dict(face.normal)
    if face.weights:
        chosen["wght"] = min(face.weights, key=lambda known: abs(known - weight))
    axes = face.axes(**chosen)
    glyphs, advance = face.shape(axes, text)
    letters = tuple(
        (_letter(face.id, axes, glyph.id, size), glyph.x * size, glyph.y * size) for glyph in glyphs
    )
    return Words(letters, advance * size)


def turned(found: Words, affine: Affine) -> tuple[Points, ...]:
    """The polygons under an affine map."""
    across = np.array([[affine.a, affine.b], [affine.c, affine.d]])
    return tuple(polygon @ across + (affine.e, affine.f) for polygon in found.polygons)


def _face(text: str) -> Face:
    """The first face with every character, else the one that lacks the fewest."""
    faces = [_faces()[wanted] for wanted in FACES]
    whole = (face for face in faces if not face.missing(text))
    return next(whole, None) or min(faces, key=lambda face: len(face.missing(text)))


def unwritten(text: str) -> str:
    """The characters of a text that its face lacks; they are drawn as boxes."""
    return "".join(dict.fromkeys(_face(text).missing(text)))


@lru_cache(maxsize=1)
def _faces() -> Faces:
    return Faces(folder("fonts"))


@lru_cache(maxsize=2048)
def _letter(face: str, axes: tuple[tuple[str, float], ...], glyph: int, size: float) -> Letter:
    """A glyph at that size."""
    outline = _faces()[face].outline(axes, glyph).flatten(FLATNESS / size)
    return Letter(tuple(polygon * size for polygon in outline))
