"""Shaping and outlines of every face that ships."""

from __future__ import annotations

import pytest
import uharfbuzz as hb
from bidi.algorithm import get_display
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

from proofgen.errors import UnusableError
from proofgen.faces.collection import Faces
from proofgen.faces.direction import visual_runs
from proofgen.faces.face import Face
from proofgen.geometry.path import join
from proofgen.resources import folder

FACES = Faces(folder("fonts"))
SAMPLES = {"Latin": "Anneliese", "i": "i", "ring": "Å", "Hebrew": "נועה", "Arabic": "ليلى"}
# What each face covers, read once from the character maps (cmap) of the files.
LATIN = {"Latin", "i", "ring"}
COVERS = dict.fromkeys(FACES, LATIN) | {
    "open-sans": {*LATIN, "Hebrew"},
    "rubik": {*LATIN, "Hebrew", "Arabic"},
    "frank-ruhl-libre": {*LATIN, "Hebrew"},
    "noto-naskh-arabic": {*LATIN, "Arabic"},
}


def font_file(face: str) -> str:
    return str(folder("fonts") / FACES._tables[face]["file"])


@pytest.mark.parametrize("name", FACES)
def test_every_face_draws_what_it_covers(name):
    face = FACES[name]
    covered = {kind for kind, text in SAMPLES.items() if not face.missing(text)}
    assert covered == COVERS[name]
    for kind in covered:
        glyphs, advance = face.shape(face.normal, SAMPLES[kind])
        assert advance > 0 and all(glyph.id for glyph in glyphs), kind
        drawn = join(face.outline(face.normal, glyph.id) for glyph in glyphs).bounds()
        assert 0 < drawn.height < 2 and drawn.width > 0, kind


@pytest.mark.parametrize("name", ["vollkorn", "roboto-flex", "open-sans", "pacifico"])
@pytest.mark.parametrize("text", ["Wendeline", "Av To", "fjord 2027"])
def test_advances_are_those_of_harfbuzz(name, text):
    """HarfBuzz asked directly, at a scale where it rounds a thousand times finer."""
    face = FACES[name]
    font = hb.Font(hb.Face(hb.Blob.from_file_path(font_file(name))))
    font.scale = (1000 * font.face.upem, 1000 * font.face.upem)
    font.set_variations(dict(face.normal))
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    hb.shape(font, buffer, {"kern": True, "liga": True, "lnum": True})
    exact = sum(at.x_advance for at in buffer.glyph_positions) / font.scale[0]
    glyphs, advance = face.shape(face.normal, text)
    assert [glyph.id for glyph in glyphs] == [info.codepoint for info in buffer.glyph_infos]
    # Our advances are in whole font units, so each glyph may be off by half of one, kerned by one.
    assert advance == pytest.approx(exact, abs=len(text) / font.face.upem)


@pytest.mark.parametrize("name", ["vollkorn", "open-sans", "rubik"])
def test_advances_are_those_of_the_tables(name):
    """fontTools makes the instance (hmtx with HVAR, OpenType specification); no kerning."""
    face = FACES[name]
    instance = instantiateVariableFont(TTFont(font_file(name)), dict(face.normal))
    glyph_ids = instance.getReverseGlyphMap()
    for letter in "HoÅ":
        glyph = instance.getBestCmap()[ord(letter)]
        glyphs, advance = face.shape(face.normal, letter)
        assert glyphs[0].id == glyph_ids[glyph]
        units = instance["hmtx"][glyph][0] / instance["head"].unitsPerEm
        assert advance == pytest.approx(units, abs=1.01 / instance["head"].unitsPerEm)
        pen = BoundsPen(instance.getGlyphSet())
        instance.getGlyphSet()[glyph].draw(pen)
        ours = face.outline(face.normal, glyphs[0].id).bounds()
        found = [ours.left, -ours.bottom, ours.right, -ours.top]
        # Instances round every point to whole units.
        drawn = [value / instance["head"].unitsPerEm for value in pen.bounds]
        assert found == pytest.approx(drawn, abs=1.5 / instance["head"].unitsPerEm)


@pytest.mark.parametrize(
    "text",
    ["Noa נועה 2027", "נועה & Otto 2027", "ליאם 12 Al", "(נועה) Zoe", "Zoe (נועה)", "Otto 2027"],
)
def test_order_of_mixed_directions(text):
    """python-bidi's whole algorithm (UAX #9); it mirrors brackets, which here HarfBuzz does."""
    swapped = str.maketrans("()", ")(")
    seen = "".join(
        part if rightward else part[::-1].translate(swapped)
        for _, part, rightward in visual_runs(text)
    )
    assert seen == get_display(text)


def test_characters_of_a_mixed_text_run_from_left_to_right():
    face = FACES["frank-ruhl-libre"]
    text = "Al נועה 27"
    glyphs, _ = face.shape(face.normal, text)
    seen = "".join(text[glyph.cluster] for glyph in glyphs)
    assert seen == get_display(text)
    assert [glyph.x for glyph in glyphs] == sorted(glyph.x for glyph in glyphs)


def test_every_axis_is_set():
    axes = dict(FACES["roboto-flex"].normal)
    file = TTFont(font_file("roboto-flex"))
    assert set(axes) == {axis.axisTag for axis in file["fvar"].axes}
    assert (axes["opsz"], axes["wght"], axes["wdth"]) == (72, 500, 100)
    with pytest.raises(UnusableError, match="XXXX"):
        FACES["rubik"].axes(XXXX=1)


def test_cap_height_is_that_of_os2_or_of_the_letter_h():
    """OS/2 sCapHeight, else the measured H: Noto Naskh Arabic declares none."""
    for name in ("vollkorn", "nunito", "pacifico"):
        table = TTFont(font_file(name))
        declared = table["OS/2"].sCapHeight / table["head"].unitsPerEm
        face = FACES[name]
        assert face.cap_height(face.axes()) == pytest.approx(declared)
    table = TTFont(font_file("noto-naskh-arabic"))
    assert not getattr(table["OS/2"], "sCapHeight", 0)
    measured = table["glyf"][table.getBestCmap()[ord("H")]].yMax / table["head"].unitsPerEm
    arabic = FACES["noto-naskh-arabic"]
    assert arabic.cap_height(arabic.normal) == pytest.approx(measured)


def test_missing_names_each_character_once():
    face = FACES["vollkorn"]
    assert face.missing("Zoë") == ""
    assert face.missing("נoנ日") == "נ日"
    assert face.missing("a\u200db\u200f") == ""


def test_a_damaged_face_is_named(tmp_path):
    file = tmp_path / "broken.ttf"
    file.write_bytes(b"not a font at all")
    with pytest.raises(UnusableError, match=r"broken\.ttf is damaged"):
        Face(file, {"id": "broken", "title": "Broken"})
    with pytest.raises(UnusableError, match=r"absent\.ttf cannot be read"):
        Face(tmp_path / "absent.ttf", {"id": "absent", "title": "Absent"})
