"""Cautions near small children, and materials that must not be cut."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from designs_folder import TOML, make
from hypothesis import given, settings, strategies as st
from sheets import artwork

from proofgen.checks.cord import long_cord
from proofgen.day import design_check, pipeline
from proofgen.geometry.affine import Point
from proofgen.geometry.cylinder import BORE, CHORD, DEEP, SHALLOW, Slab, fits, narrowest_width
from proofgen.geometry.path import Path, circle, polygon
from proofgen.workshop.read import load


def disc(diameter: float) -> Path:
    return circle((0, 0), diameter / 2)


def rectangle(width: float, height: float) -> Path:
    return polygon(((0, 0), (width, 0), (width, height), (0, height)))


# 16 CFR 1501.4: 1.25 in wide, 1 in deep on one side and 2.25 in on the other.
def test_the_dimensions_of_the_cylinder() -> None:
    assert (BORE, SHALLOW, DEEP) == (1.25 * 25.4, 25.4, 2.25 * 25.4)


@pytest.mark.parametrize(
    ("outline", "thickness", "small"),
    [
        # Every plane holds a level line, and a disc is as wide along it as along any other.
        (disc(31.72), 3, True),
        (disc(31.80), 3, False),
        (disc(31.72), 25.3, True),
        # Upright, square to the slope, the bottom in the middle is (1 + 2.25) / 2 in deep.
        (rectangle(31.5, 40), 0.5, True),
        (rectangle(31.5, 46), 0.5, False),
        # The longest line inside leads from the rim, where it is shallow, to the deep corner.
        (rectangle(2, 60), 2, True),
        (rectangle(2, CHORD + 0.1), 2, False),
        (rectangle(32, 32), 3, False),
        (rectangle(31, 31), 3, True),
        # A triangle's least width is its height; upright it stands on its point.
        (polygon(((0, 0), (36.5, 0), (18.25, 31.6))), 3, True),
        (polygon(((0, 0), (37, 0), (18.5, 32.0))), 3, False),
    ],
)
def test_what_fits_the_small_parts_cylinder(outline: Path, thickness: float, small: bool) -> None:
    assert fits((Slab(outline, 0, thickness),)) is small


def test_layers_count_together_and_each_as_wide_as_it_is() -> None:
    top, bottom = Slab(rectangle(10, 10), 3, 6), Slab(rectangle(33, 33), 0, 3)
    assert fits((top,))
    assert not fits((bottom, top))
    assert narrowest_width((bottom, top)) == pytest.approx(33)
    # What the kerf takes makes it fit: 32 mm less 0.15 mm on either side.
    assert fits((Slab(disc(32), 0, 3),), 0.15)
    assert not fits((Slab(disc(32), 0, 3),), 0.1)


@given(
    st.floats(0.0, math.pi / 2),
    st.floats(0.0, 2 * math.pi),
    st.floats(0.15, 0.85),
    st.floats(0.0, 2 * math.pi),
)
@settings(max_examples=10, deadline=None)
def test_a_slice_of_the_cylinder_fits_it_however_it_is_laid(
    tilt: float, azimuth: float, place: float, turned: float
) -> None:
    """What any plane cuts out of the cylinder, a hair smaller, is a flat piece that fits it."""
    corners = sliced(tilt, azimuth, place)
    c, s = 0.9995 * math.cos(turned), 0.9995 * math.sin(turned)
    laid = polygon((c * x - s * y, s * x + c * y) for x, y in corners)
    assert fits((Slab(laid, 0, 0.001),))


def sliced(tilt: float, azimuth: float, place: float) -> list[Point]:
    """The corners, in its own coordinates, of the cylinder's section by a plane."""
    c, s = math.cos(azimuth), math.sin(azimuth)
    level, rising = (-s, c, 0.0), (c * math.cos(tilt), s * math.cos(tilt), math.sin(tilt))
    middle = (0.0, 0.0, -place * (SHALLOW + DEEP) / 2)
    found: list[Point] = []
    for i in range(72):
        u, v = math.cos(i * math.pi / 36), math.sin(i * math.pi / 36)
        way = [u * a + v * b for a, b in zip(level, rising, strict=True)]
        reach = min(_reaches(middle, way))
        found.append((u * reach, v * reach))
    return found


def _reaches(middle: tuple[float, float, float], way: list[float]) -> list[float]:
    """How far it is from a point on the axis to the wall, the rim and the slanted bottom."""
    x, y, z = way
    across, top = math.hypot(x, y), max(z, 1e-12)
    bottom = max(-z - x, 1e-12)
    return [
        BORE / 2 / max(across, 1e-12),
        -middle[2] / top,
        (SHALLOW + BORE / 2 + middle[2]) / bottom,
    ]


# EN 71-1:2005+A8 5.4 (superseded; see the current edition): at most 220 mm of free length.
@pytest.mark.parametrize(
    ("length", "told"), [(219.9, []), (220, []), (220.1, ["220.1"]), (221, ["221"])]
)
def test_a_cord_may_be_as_long_as_the_limit_and_no_longer(length: float, told: list[str]) -> None:
    workshop = load(None)
    hangers = tuple(
        replace(each, length=length) if each.id == "cord" else each for each in workshop.hangers
    )
    own = replace(workshop, hangers=hangers)
    flags = list(long_cord(replace(artwork("boat"), hanger="cord"), own))
    assert [flag.kind.id for flag in flags] == ["cord-long"] * len(told)
    assert all(each in flag.text for each, flag in zip(told, flags, strict=True))
    assert not list(long_cord(replace(artwork("boat"), hanger="none"), own))


@pytest.mark.parametrize(
    ("material", "says"),
    [
        ("[materials.foil]\ntitle = 'PVC foil'\nthickness = 1", "hydrogen chloride"),
        ("[materials.foil]\ntitle = 'foil'\nthickness = 1\nunsafe = true", "marked unsafe"),
        (
            "[materials.foil]\ntitle = 'foil'\nthickness = 1\nunsafe = true\nreason = 'it melts'",
            "it melts",
        ),
        ("[materials.foil]\ntitle = 'vinyl-free foil'\nthickness = 1\nunsafe = false", ""),
    ],
)
def test_a_design_of_unsafe_material_is_refused(
    tmp_path: FilePath, material: str, says: str
) -> None:
    workshop = tmp_path / "workshop.toml"
    workshop.write_text(f"format = 1\n{material}\n", encoding="utf-8")
    assert load(workshop).material("foil").unsafe == says
    place = make(tmp_path / "tag", toml=TOML.replace('"birch-3"', '"foil"'))
    flags = design_check.check_design(place, {}, None, pipeline.Options(workshop=workshop))
    told = [flag.text for flag in flags if "'foil' must not be cut" in flag.text]
    assert bool(told) == bool(says)
    assert all(says in text and text.endswith(".") for text in told)
