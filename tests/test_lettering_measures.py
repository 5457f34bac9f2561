"""Strokes and gaps of a text, from cached units and pairs, against those of the whole outline."""

from __future__ import annotations

from functools import partial

import pytest

from proofgen.faces.cache import MeasureCache
from proofgen.faces.collection import Faces
from proofgen.geometry.affine import Affine
from proofgen.geometry.path import join
from proofgen.geometry.strokes import narrowest_gap, thinnest_stroke
from proofgen.lettering.bench import Bench
from proofgen.lettering.layout import Layout
from proofgen.resources import folder

TOLERANCE = 2e-3  # em: flatness, and the step to which widths are refined

NAMES = (
    ("vollkorn", "Maribel"),
    ("vollkorn", "Nguyễn"),
    ("roboto-flex", "Wendeline"),
    ("open-sans", "Светлана"),
    ("nunito", "Otto"),
    ("roboto-slab", "Jolyon"),
    ("rubik", "Ффиона"),
    ("frank-ruhl-libre", "נועה"),
    ("noto-naskh-arabic", "سلام"),
    ("dancing-script", "Xavier"),
    ("pacifico", "Felicity"),
    ("saira-stencil", "Zoë"),
)


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    return Bench(Faces(folder("fonts")), MeasureCache(tmp_path_factory.mktemp("cache")))


def laid_out(
    bench: Bench, face: str, *texts: str, tracking: float = 0.0, leading: float = 1.2
) -> Layout:
    found = bench.faces[face]
    cut = bench.cut(found, found.normal, 1.0)
    return Layout(cut, partial(bench.supports, cut), texts, tracking, leading, "centre")


@pytest.mark.parametrize(("face", "text"), NAMES)
def test_measures_are_those_of_the_whole_outline(face, text, bench):
    layout = laid_out(bench, face, text)
    whole = join(layout.outlines())
    assert layout.stroke == pytest.approx(thinnest_stroke(whole, 1.0), abs=TOLERANCE)
    assert layout.gap == pytest.approx(narrowest_gap(whole, 1.0), abs=TOLERANCE)


def test_dots_of_one_mark_count_as_one(bench):
    """The two dots of an Arabic yeh lie closer than any gap that matters."""
    layout = laid_out(bench, "noto-naskh-arabic", "ليلى")
    whole = join(layout.outlines())
    assert layout.gap > narrowest_gap(whole, 1.0) + 0.01


# A weld may be thinner than each of its glyphs: where the two bars of a rounded tt meet, and
# where one stroke of a script crosses another. Measured with the definition in strokes.py.
@pytest.mark.parametrize(
    ("face", "text", "thinner"),
    [
        ("nunito", "Otto", True),
        ("dancing-script", "Xavier", True),
        ("pacifico", "Xavier", False),
    ],
)
def test_overlapping_letters_are_measured_as_they_are_cut(face, text, thinner, bench):
    layout = laid_out(bench, face, text)
    cut, (line,) = layout.cut, layout.lines
    glyphs, _ = cut.face.shape(cut.axes, text)
    assert len(line) < len(glyphs)
    least = min(cut.stroke(((glyph.id, 0.0, 0.0),)) for glyph in glyphs)
    placed = [
        cut.face.outline(cut.axes, glyph.id).moved(Affine.shift(glyph.x, glyph.y))
        for glyph in glyphs
    ]
    assert layout.stroke == pytest.approx(thinnest_stroke(join(placed), 1.0), abs=TOLERANCE)
    assert (layout.stroke < least - TOLERANCE) is thinner


def test_tracking_opens_gaps(bench):
    tight, loose = (laid_out(bench, "vollkorn", "Ili", tracking=t) for t in (0.0, 0.06))
    assert loose.gap > tight.gap + 0.03


def test_gap_between_lines_counts(bench):
    """Derived: two bars of H, one below the other, are as far apart as their boxes."""
    cap = bench.faces["open-sans"].cap_height(bench.faces["open-sans"].normal)
    layout = laid_out(bench, "open-sans", "H", "H", leading=cap + 0.05)
    assert layout.gap == pytest.approx(0.05, abs=TOLERANCE)
