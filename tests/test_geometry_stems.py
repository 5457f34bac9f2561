"""Strokes of letters against what their font files declare.

StdVW and StdHW of a CFF font are its dominant vertical and horizontal stem (Adobe Technical
Note 5176); XOPQ and YOPQ of Roboto Flex are its stems in 1024ths of an em (its design notes).
"""

from importlib.util import find_spec
from pathlib import Path as File

import pytest
from fontTools.ttLib import TTFont
from outlines import FONTS, clipped, glyph

from proofgen.geometry.affine import Affine
from proofgen.geometry.path import Path
from proofgen.geometry.strokes import thinnest_stroke

LMODERN = File("/usr/share/texmf/fonts/opentype/public/lm")
DOSIS = File("/usr/share/fonts/opentype/dosis")
CURSOR = File(find_spec("rinoh_typeface_texgyrecursor").submodule_search_locations[0])
ROBOTO = FONTS / "RobotoFlex-13axes.ttf"

DECLARED = [
    *[
        (CURSOR / f"texgyrecursor-{name}.otf", v, h, "rinoh-typeface-texgyrecursor")
        for name, v, h in (("regular", 41, 41), ("bold", 100, 100))
    ],
    *[
        (LMODERN / f"{name}.otf", v, h, "fonts-lmodern")
        for name, v, h in (
            ("lmmono10-regular", 69, 61),
            ("lmmono12-regular", 65, 58),
            ("lmmono8-regular", 76, 66),
            ("lmmonolt10-regular", 51, 42),
            ("lmmonolt10-bold", 83, 75),
            ("lmmonoproplt10-bold", 85, 77),
        )
    ],
    *[
        (DOSIS / f"Dosis-{name}.otf", v, h, "fonts-dosis")
        for name, v, h in (
            ("ExtraLight", 35, 36),
            ("Light", 49, 48),
            ("Book", 65, 61),
            ("Medium", 83, 76),
            ("SemiBold", 105, 94),
            ("Bold", 129, 114),
            ("ExtraBold", 155, 136),
        )
    ],
]


def stem(path: Path) -> float:
    """The upright of an l: without the serifs at its head and foot."""
    return thinnest_stroke(clipped(path, 0, 0.3, 1, 0.7), 1000)


def crossbar(path: Path) -> float:
    """The bar of an H: without stems and serifs."""
    return thinnest_stroke(clipped(path, 0.32, 0.2, 0.68, 0.8), 1000)


def foot(path: Path) -> float:
    """The foot of an L without its stem; the one bar that is StdHW in every weight of Dosis."""
    return thinnest_stroke(clipped(path, 0.5, 0.6, 0.95, 1), 1000)


def present(file: File, package: str) -> File:
    if not file.exists():
        pytest.skip(f"{file.name} comes with the Debian package {package}")
    return file


@pytest.mark.parametrize(
    ("file", "vertical", "horizontal", "package"), DECLARED, ids=[d[0].stem for d in DECLARED]
)
def test_declared_stems(file, vertical, horizontal, package):
    file = present(file, package)
    private = TTFont(file)["CFF "].cff[0].Private
    assert (private.StdVW, private.StdHW) == (vertical, horizontal)
    assert stem(glyph(file, "l")) == pytest.approx(vertical, abs=0.5)
    measured = foot(glyph(file, "L")) if file.parent == DOSIS else crossbar(glyph(file, "H"))
    assert measured == pytest.approx(horizontal, abs=0.5)


def test_condensing_thins_uprights_alone():
    file = present(LMODERN / "lmmono10-regular.otf", "fonts-lmodern")
    narrow = Affine.scale(0.75, 1)
    assert stem(glyph(file, "l").moved(narrow)) == pytest.approx(51.75, abs=0.5)
    assert thinnest_stroke(glyph(file, "l").moved(narrow), 1000) == pytest.approx(51.75, abs=0.5)
    assert crossbar(glyph(file, "H").moved(narrow)) == pytest.approx(61, abs=0.5)


@pytest.mark.parametrize("xopq", [27, 60, 96, 130, 175])
def test_roboto_flex_stems(xopq):
    """Above the bar the H is two uprights."""
    upper = clipped(glyph(ROBOTO, "H", {"XOPQ": xopq}), 0, 0, 1, 0.4)
    assert thinnest_stroke(upper, 1000) == pytest.approx(xopq / 1.024, abs=0.5)


@pytest.mark.parametrize("yopq", [25, 50, 79, 110, 135])
def test_roboto_flex_bars(yopq):
    assert crossbar(glyph(ROBOTO, "H", {"YOPQ": yopq})) == pytest.approx(yopq / 1.024, abs=0.5)


@pytest.mark.parametrize(("xopq", "yopq"), [(27, 79), (96, 79), (130, 50), (60, 25)])
def test_the_whole_letter_is_as_thin_as_its_thinner_stem(xopq, yopq):
    whole = glyph(ROBOTO, "H", {"XOPQ": xopq, "YOPQ": yopq})
    assert thinnest_stroke(whole, 1000) == pytest.approx(min(xopq, yopq) / 1.024, abs=0.5)
