"""Script names on a bar: every one a single part, by an independent union."""

from __future__ import annotations

import pytest
from standing_names import BOLDER, WIDTH, bar_under, faults, lettered, sampled

from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.geometry.bridge import Bridge
from proofgen.geometry.holding import held_on
from proofgen.geometry.path import join
from proofgen.geometry.weld import grown, weld
from proofgen.lettering.bench import Bench
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
