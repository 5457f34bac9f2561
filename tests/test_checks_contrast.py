"""Whether lettering is told from its wood: what is flagged, and that pictures show it so."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from proofgen.artwork.artwork import Made
from proofgen.day.shop import Home, Shop, make_row, open_shop
from proofgen.designs.design import Mark
from proofgen.flags.flag import Flag
from proofgen.geometry.path import Path as Outline, polygon
from proofgen.orders.read import typed
from proofgen.proofs.backdrop import backdrop
from proofgen.proofs.paint import lay
from proofgen.proofs.raster import Floats, polygon_coverage
from proofgen.proofs.scene import Scene, scene
from proofgen.proofs.soft import amounts, blurred
from proofgen.proofs.stage import stage
from proofgen.proofs.view import behind, layer, view
from proofgen.proofs.zone_means import zone_means
from proofgen.proofs.zones import bare
from proofgen.resources import folder
from proofgen.workshop.contrast import LEAST, ratio

DESIGNS = sorted(place.parent.name for place in folder("templates").glob("*/design.toml"))
FINISHES = ("natural", "walnut", "burgundy", "weathered")
BAND = 1.0  # mm round the letters, by which their outline is told


Corners = tuple[tuple[float, float], ...]


def shop_with(place: Path, text: str) -> Shop:
    file = place / "workshop.toml"
    file.write_text(f"format = 1\n{text}", encoding="utf-8")
    return open_shop(Home(file))


@lru_cache(maxsize=1)
def as_shipped() -> Shop:
    return open_shop()


def made(shop: Shop, design: str, finish: str, **texts: str) -> Made:
    row = {"order": "1", "name": "Ida", "year": "2027", "design": design, "finish": finish}
    return make_row(typed({**row, **texts}, shop.workshop), shop)


def faint(found: Made) -> list[Flag]:
    assert found.artwork is not None
    return [flag for flag in found.flags if flag.kind.id == "contrast-low"]


@pytest.mark.parametrize("design", DESIGNS)
def test_no_shipped_finish_leaves_engraving_or_standing_letters_faint(design: str) -> None:
    for finish in as_shipped().templates[design].finishes:
        assert faint(made(as_shipped(), design, finish)) == []


def test_letters_that_stand_before_wood_like_theirs_are_looked_at(tmp_path: Path) -> None:
    shop = shop_with(tmp_path, "[finishes.natural]\ndesigns = ['wavename']")
    (flag,) = faint(made(shop, "wavename", "natural"))
    assert flag.measured == pytest.approx(1)
    assert "contrast of name in natural before natural" in flag.says
    best = made(shop, "wavename", "burgundy")
    # Of its letters 7.4, of the year that is engraved in them 4.6.
    # Walnut is bound by the same year, and is offered first.
    assert flag.to_do.startswith("Choose the finish walnut stain: it would have 4.6")
    assert faint(best) == []


def test_letters_cut_in_the_rearmost_layer_say_that_what_is_behind_shows() -> None:
    """No rule can be kept for them: how light the wall is, nobody knows."""
    found = made(as_shipped(), "medallion", "weathered")
    assert faint(found) == []
    (note,) = (flag for flag in found.flags if flag.kind.id == "counters-held")
    assert "what is behind the piece shows through" in note.to_do


def test_no_finish_is_named_that_would_not_help(tmp_path: Path) -> None:
    """The lantern's name is on a back whose finish the row does not choose."""
    shop = shop_with(tmp_path, "[finishes.natural]\nengraving = '#c8a882'")
    (flag,) = faint(made(shop, "lantern", "walnut"))
    assert "contrast of name in natural is" in flag.says
    assert flag.to_do == flag.kind.do


def test_the_order_number_is_not_for_the_buyer(tmp_path: Path) -> None:
    dark = "title = 'tar'\nwhen = 'after'\nstain = '#1c1410'"
    shop = shop_with(tmp_path, f"[finishes.tar]\n{dark}")
    (engraved,) = faint(made(shop, "boat", "tar"))
    assert "contrast of name and year in tar is" in engraved.says
    assert faint(made(shop, "wavename", "tar")) == []


@pytest.mark.parametrize(("design", "finish"), [("lantern", "walnut"), ("boat", "burgundy")])
def test_a_zone_is_measured_as_its_picture_shows_it(design: str, finish: str) -> None:
    """Against the whole scene at full size: its wood, and the same wood engraved all over."""
    shop = as_shipped()
    found = made(shop, design, finish)
    assert found.artwork is not None
    shown = [shop.workshop.finish(each.finish) for each in found.artwork.layers]
    piece = bare(found.artwork, shown, shop.workshop)
    assert piece is not None
    slot = next(each for each in shop.templates[design].slots if each.field == "name")
    depth = [each.name for each in piece.layers].index(slot.layer)
    area = Mark("engrave-area", polygon(slot.zone))
    marks = (*piece.layers[depth].marks, area)
    layers = (*piece.layers[:depth], replace(piece.layers[depth], marks=marks))
    engraved = replace(piece, layers=(*layers, *piece.layers[depth + 1 :]))
    wood, tone = (in_zone(each, polygon(inner(slot.zone))) for each in (piece, engraved))
    assert ratio(*zone_means(piece, depth, slot.zone)) == pytest.approx(ratio(wood, tone), rel=0.04)


def inner(zone: Corners) -> Corners:
    """Without the shaded edges of what is engraved all over."""
    middle = np.mean(zone, axis=0)
    return tuple((x, y) for x, y in middle + 0.9 * (np.array(zone) - middle))


def in_zone(piece: Scene, zone: Outline) -> float:
    place = stage(piece.size, False)
    shown = view(piece, place)
    canvas = backdrop(place.canvas)
    for depth in range(len(piece.layers)):
        lay(layer(shown, depth), canvas)
    inside = polygon_coverage(place.polygons(zone), place.shape) > 0.99
    return float(bright(canvas[:, place.rows, place.columns])[inside].mean())


def test_shade_counts() -> None:
    """A zone at the upper left edge of the lantern's back lies in the shade of its front."""
    shop = as_shipped()
    found = made(shop, "lantern", "walnut")
    assert found.artwork is not None
    shown = [shop.workshop.finish(each.finish) for each in found.artwork.layers]
    piece = bare(found.artwork, shown, shop.workshop)
    assert piece is not None
    single = replace(piece, layers=piece.layers[:1], finishes=piece.finishes[:1])
    single = replace(single, thicknesses=piece.thicknesses[:1])
    slot = next(each for each in shop.templates["lantern"].slots if each.field == "name")
    (shaded, _), (lit, _) = (zone_means(each, 0, slot.zone) for each in (piece, single))
    assert shaded < 0.995 * lit


def test_the_buyers_text_does_not_change_what_is_known_of_a_zone() -> None:
    shop = as_shipped()
    pieces = []
    for name in ("Ida", "Odalys"):
        found = made(shop, "medallion", "walnut", name=name)
        assert found.artwork is not None
        shown = [shop.workshop.finish(each.finish) for each in found.artwork.layers]
        pieces.append(bare(found.artwork, shown, shop.workshop))
    assert pieces[0] == pieces[1]


@pytest.mark.parametrize("finish", FINISHES)
def test_pictures_show_the_letters_so(tmp_path: Path, finish: str) -> None:
    """Standing letters against the band of backing round them, wall and shadow included."""
    shop = shop_with(
        tmp_path,
        "[finishes.natural]\ndesigns = ['wavename']\n[finishes.weathered]\ndesigns = ['wavename']",
    )
    found = made(shop, "wavename", finish, name="Odalys")
    assert found.artwork is not None
    assert (drawn(found, shop) >= LEAST) == (faint(found) == [])


def drawn(found: Made, shop: Shop) -> float:
    assert found.artwork is not None
    seen = scene(found.artwork, shop.workshop)
    place = stage(seen.size, False)
    shown = view(seen, place)
    canvas = backdrop(place.canvas)
    lay(behind(shown), canvas)
    for depth in (0, 1):
        lay(layer(shown, depth), canvas)
    light = bright(canvas[:, place.rows, place.columns])
    backing, letters = map(amounts, shown.masks)
    near = amounts(blurred(shown.masks[1], BAND * place.scale)) > 0.1
    band = near & (letters < 0.02) & (backing > 0.98)
    return ratio(float(light[letters > 0.98].mean()), float(light[band].mean()))


def bright(canvas: Floats) -> Floats:
    part = canvas / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return np.tensordot([0.2126, 0.7152, 0.0722], linear, 1).astype(np.float32)
