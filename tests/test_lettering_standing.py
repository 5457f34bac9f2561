"""Script names on a bar: every one a single part, by an independent union."""

from __future__ import annotations

import pytest
from standing_names import BOLDER, WIDTH, bar_under, faults, lettered, sampled

from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.geometry.affine import Affine
from proofgen.geometry.bridge import Bridge
from proofgen.geometry.holding import held_on
from proofgen.geometry.parts import parts
from proofgen.geometry.path import join
from proofgen.geometry.weld import grown, weld
from proofgen.lettering.bench import Bench
from proofgen.lettering.lettering import Lettering, SetLine
from proofgen.lettering.naming import letters, named
from proofgen.resources import folder

NAMES = 30


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    return Bench(Faces(folder("fonts")), MeasureCache(tmp_path_factory.mktemp("cache")))


@pytest.mark.parametrize("top", [-0.8, 2.0], ids=["sunk", "above"])
@pytest.mark.parametrize("face", BOLDER)
def test_names_are_one_part_with_their_bar(face, top, bench):
    bridged = 0
    for name in (*sampled(NAMES), "Zoë", "Åsa", "Jiří", "D'Arcy", "Mary-Jo", "Bobbi Di"):
        outline = grown(lettered(bench, face, name), BOLDER[face])
        base = bar_under(outline, top)
        made = held_on(base, outline, WIDTH, 12.0)
        bridged += len(made.bridges)
        assert (name, made.loose) == (name, ())
        assert (name, faults(made.path, outline, base, made.bridges)) == (name, [])
    assert bridged > NAMES / 4


def test_the_measure_sees_what_is_wrong(bench):
    """A name whose dot hangs on nothing, and one whose dot hangs on a thread."""
    outline = grown(lettered(bench, "pacifico", "Jim"), 0.6)
    base = bar_under(outline, -0.8)
    made = held_on(base, outline, WIDTH, 12.0)
    alone = weld([join([outline, base])])
    assert faults(alone, outline, base, ()) != []
    thin = tuple(Bridge(b.start, b.end, 1.0) for b in made.bridges)
    thread = weld([join([outline, base, *(b.bar() for b in thin)])])
    assert any("thinner" in fault for fault in faults(thread, outline, base, thin))


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
