"""The designs that ship can be cut: webs, edges and zones, measured by shapely."""

from itertools import combinations

import pytest
import shapely
from designs_folder import order, shipped, workshop
from shapely import MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from proofgen.artwork.artwork import Made
from proofgen.day.shop import make_row, open_shop
from proofgen.designs.design import Design, DesignLayer, Mark
from proofgen.designs.outlines import extent
from proofgen.designs.resolve import resolve
from proofgen.orders.read import typed
from proofgen.proofs.caption import DETAIL, rows
from proofgen.proofs.type import words

WORKSHOP = workshop()
TEMPLATES = shipped()
SHOP = open_shop()
KERF = WORKSHOP.machine.kerf
FINE = 0.005


def design(name: str, hanger: str, size: str = "") -> Design:
    fields = {"name": "Ada", "year": str(WORKSHOP.edition_year)}
    resolved, flags = resolve(TEMPLATES[name], order(fields, hanger=hanger, size=size), WORKSHOP)
    assert resolved is not None
    assert not flags
    return resolved


CASES = [
    (name, hanger, size)
    for name, t in TEMPLATES.items()
    for hanger in t.hangers or ("",)
    for size, _ in t.sizes or (("", 1.0),)
]
# A backing's outline is made from the lettering, so it has nothing to measure yet.
LAYERS = [
    pytest.param(made, layer, id=f"{name}-{layer.name}-{hanger}-{size}")
    for name, hanger, size in CASES
    for made in [design(name, hanger, size)]
    for layer in made.layers
    if not layer.backing
]


def areas(layer: DesignLayer, operation: str) -> list[Polygon]:
    paths = [mark.path for mark in layer.marks if mark.operation == operation]
    return [Polygon(points) for path in paths for points in path.flatten(FINE)]


def lines(mark: Mark) -> BaseGeometry:
    return MultiLineString(list(mark.path.flatten(FINE)))


def cut_edges(layer: DesignLayer) -> list[BaseGeometry]:
    cuts = areas(layer, "cut-outside") + areas(layer, "cut-inside")
    return [cut.exterior for cut in cuts]


@pytest.mark.parametrize(("made", "layer"), LAYERS)
def test_webs_after_kerf(made: Design, layer: DesignLayer) -> None:
    (outline,) = areas(layer, "cut-outside")
    openings = areas(layer, "cut-inside")
    assert outline.is_valid
    assert shapely.box(0, 0, *made.size).buffer(0.01).contains(outline)
    assert all(outline.contains(opening) and opening.is_valid for opening in openings)
    web = WORKSHOP.material(layer.material).limits.web.wanted
    apart = [a.distance(b) - KERF for a, b in combinations(cut_edges(layer), 2)]
    assert min(apart, default=web) >= web
    # Necks of the outline itself: what is left hangs together when a web's half is taken off too.
    wood = outline.buffer(-KERF / 2)
    for opening in openings:
        wood = wood.difference(opening.buffer(KERF / 2))
    left = wood.buffer(-web / 2)
    assert left.geom_type == "Polygon"
    assert len(left.interiors) == len(openings)


@pytest.mark.parametrize(("made", "layer"), LAYERS)
def test_holes_and_openings(made: Design, layer: DesignLayer) -> None:
    limits = WORKSHOP.material(layer.material).limits
    (outline,) = areas(layer, "cut-outside")
    holes = [
        Polygon(points)
        for mark in layer.marks
        if mark.field == "hanger"
        for points in mark.path.flatten(FINE)
    ]
    assert len(holes) == (1 if made.hanger in ("ribbon", "cord") else 0)
    for hole in holes:
        assert hole.distance(outline.exterior) - KERF >= limits.hole_to_edge.wanted
    for opening in areas(layer, "cut-inside"):
        assert not opening.buffer(-limits.cut_opening.wanted / 2).is_empty


@pytest.mark.parametrize(("made", "layer"), LAYERS)
def test_engraving_keeps_from_cut_edges(made: Design, layer: DesignLayer) -> None:
    wanted = WORKSHOP.material(layer.material).limits.engraving_to_cut.wanted
    edges = shapely.union_all(cut_edges(layer))
    engraved = [lines(mark) for mark in layer.marks if mark.operation.startswith("engrave")]
    own = [slot for slot in made.slots if slot.layer == layer.name and slot.made == "engrave"]
    zones = [Polygon(slot.zone) for slot in own if slot.side == "front"]
    behind = [
        Polygon([(made.size[0] - x, y) for x, y in slot.zone])
        for slot in own
        if slot.side == "back"
    ]
    (outline,) = areas(layer, "cut-outside")
    # A line comes out one dot wide, centred on what is drawn.
    for drawn in engraved:
        assert drawn.distance(edges) - WORKSHOP.machine.dot / 2 - KERF / 2 >= wanted - 0.15
    for zone in (*zones, *behind):
        assert outline.contains(zone)
        assert zone.distance(edges) - KERF / 2 >= 2.9
    assert all(zone.distance(drawn) >= 1.5 for drawn in engraved for zone in zones)
    assert all(a.distance(b) > 0 for a, b in combinations(zones, 2))


def test_the_name_shows_in_the_lanterns_window() -> None:
    made = design("lantern", "ribbon")
    (zone,) = (Polygon(slot.zone) for slot in made.slots if slot.field == "name")
    front = made.layers[1]
    windows = [opening for opening in areas(front, "cut-inside") if opening.contains(zone)]
    assert len(windows) == 1
    assert zone.distance(windows[0].exterior) >= 2
    # The back shows 3 to 4 mm all round, and its hole is concentric.
    (back_edge,), (front_edge,) = (areas(layer, "cut-outside") for layer in made.layers)
    assert front_edge.exterior.distance(back_edge.exterior) >= 3
    assert front_edge.exterior.hausdorff_distance(back_edge.exterior) < 5.5
    back_hole, front_hole = (layer.hole for layer in TEMPLATES["lantern"].layers)
    assert back_hole == front_hole


def test_the_boats_zone_is_hollow_and_it_hangs_straight() -> None:
    made = design("boat", "ribbon")
    zone = Polygon(made.slots[0].zone)
    assert zone.convex_hull.area > 1.1 * zone.area
    (layer,) = made.layers
    (outline,) = areas(layer, "cut-outside")
    wood = outline.difference(shapely.union_all(areas(layer, "cut-inside")))
    x, y = TEMPLATES["boat"].layers[0].hole or (0, 0)
    lean = abs(wood.centroid.x - x) / (wood.centroid.y - y)
    assert lean < 0.0349  # the tangent of 2 degrees


def test_how_large_a_piece_is_does_not_hang_on_its_page() -> None:
    boat = TEMPLATES["boat"]
    (outline,) = areas(design("boat", "ribbon").layers[0], "cut-outside")
    left, top, right, bottom = outline.bounds
    assert extent(boat) == pytest.approx((right - left, bottom - top), abs=0.02)
    assert boat.size > (right - left, bottom - top)
    assert extent(TEMPLATES["wavename"]) is None


def row(design: str, **cells: str) -> Made:
    line = typed(
        {"order": "T-1", "design": design, "name": "Ada", "year": "2027", **cells}, WORKSHOP
    )
    return make_row(line, SHOP)


@pytest.mark.parametrize("size", ["standard", "large"])
@pytest.mark.parametrize("year", ["1988", "2000", "2026", "2046", "2069"])
def test_the_medallions_year_is_cut_through_and_keeps_the_insides_of_its_digits(
    year: str, size: str
) -> None:
    made = row("medallion", year=year, size=size)
    assert made.verdict == "ready"
    assert made.artwork is not None
    (layer,) = made.artwork.layers
    wood = Polygon()
    for mark in layer.marks:
        if mark.operation == "cut-outside":
            wood = Polygon(*mark.path.flatten(FINE))
    through = [m.path for m in layer.marks if (m.operation, m.field) == ("cut-inside", "year")]
    digits = [Polygon(points) for path in through for points in path.flatten(FINE)]
    assert len(digits) >= 4
    left = wood.difference(shapely.union_all([digit.buffer(KERF / 2) for digit in digits]))
    assert left.geom_type == "Polygon"
    web = WORKSHOP.material(layer.material).limits.web.least
    assert left.buffer(-web / 2 + 0.01).geom_type == "Polygon"


def test_the_boats_dedication_is_on_its_back_and_the_picture_says_so() -> None:
    made = row("boat", dedication="From Grandma Ilse, who taught you to row")
    assert made.verdict == "ready"
    assert made.artwork is not None
    sides = {m.field: m.side for layer in made.artwork.layers for m in layer.marks if m.field}
    assert (sides["name"], sides["dedication"]) == ("front", "back")
    said = [label for row in rows(made, made.artwork, False) for label in row.left]
    assert words("Dedication on the back", DETAIL) in [part.words for part in said]
    assert words("Year", DETAIL) in [part.words for part in said]
    plain = row("boat").artwork
    assert plain is not None
    assert {mark.side for layer in plain.layers for mark in layer.marks} == {"front"}
