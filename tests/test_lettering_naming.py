"""What parts of a text are called."""

from __future__ import annotations

import pytest

from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.geometry.affine import Affine
from proofgen.geometry.parts import parts
from proofgen.geometry.path import join
from proofgen.lettering.bench import Bench
from proofgen.lettering.lettering import Lettering, SetLine
from proofgen.lettering.naming import letters, named
from proofgen.resources import folder


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    return Bench(Faces(folder("fonts")), MeasureCache(tmp_path_factory.mktemp("cache")))


def line(bench: Bench, text: str, face: str = "pacifico") -> tuple[Lettering, float]:
    """A text at an em of 30 mm from the point (5, 40)."""
    found = bench.faces[face]
    cut = bench.cut(found, found.normal, 1.0)
    units = cut.units(text, 0.0)
    outline = join(cut.outline(u.key).moved(Affine.shift(u.x, 0.0)) for u in units)
    outline = outline.moved(Affine.scale(30.0)).moved(Affine.shift(5.0, 40.0))
    glyphs = tuple(g for unit in units for g, _, _ in unit.key)
    lines = (SetLine(text, glyphs, (5.0, 40.0)),)
    made = Lettering(
        "name", "front", text, face, cut.axes, 0.0, 10.0, 1.0, lines, outline, 1.0, 1.0, 1.0
    )
    return made, 30.0


def names_of(bench: Bench, text: str, face: str = "pacifico") -> list[str]:
    """What each part of a text is called, from left to right."""
    made, em = line(bench, text, face)
    own = letters(made, bench.faces[face], em)
    assert "".join(letter.character for letter in own) == text.replace(" ", "")
    by_place = sorted(parts(made.outline), key=lambda part: part.bounds().centre[0])
    return [named(part, own) for part in by_place]


def test_dots_are_counted(bench):
    """In a script the dot leans over the next letter; it still is its own letter's."""
    called = names_of(bench, "Vivi")
    assert [name for name in called if "dot" in name] == [
        "the dot of the first i",
        "the dot of the second i",
    ]
    assert "the dot of the j" in names_of(bench, "Sonja")


def test_accents_and_letters(bench):
    called = names_of(bench, "Åsa B", "vollkorn")
    assert "the ring above of the Å" in called
    assert {"the s", "the a", "the B"} <= set(called)
    assert names_of(bench, "Zoë", "vollkorn").count("the diaeresis of the ë") == 2


def test_a_part_of_several_letters_and_one_of_none(bench):
    made, em = line(bench, "me")
    own = letters(made, bench.faces["pacifico"], em)
    assert [named(part, own) for part in parts(made.outline)] == ["the m and the e"]
    away = made.outline.moved(Affine.shift(0.0, 200.0))
    x, y = away.bounds().centre
    assert named(away, own) == f"the part at {x:.1f}, {y:.1f} mm"
