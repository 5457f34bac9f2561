"""Findings that take more than one fault, side, layer or size to be seen."""

from __future__ import annotations

from pathlib import Path

import pytest
from designs_folder import BACK, FRONT, HEAD, TOML, make, workshop

from proofgen.day import design_check, pipeline
from proofgen.designs.read import read_template
from proofgen.flags.flag import Severity
from proofgen.geometry.layered import pieces
from proofgen.geometry.path import Path as Outline, join, polygon
from proofgen.geometry.polygons import area

PANES = '<path id="path7" d="M5 15h8v8h-8z"/>'
WAVE = '<path id="engrave-line.wave" d="M5 50q2 3 4 0t4 0"/>'
ZONE = '<ellipse id="zone.name" cx="40" cy="27.5" rx="18" ry="11"/>'


def told(place: Path, kind: str) -> list[str]:
    flags = design_check.check_design(place, {}, None, pipeline.Options())
    return [flag.text for flag in flags if flag.kind.id == kind]


def square(x: float, y: float, side: float) -> Outline:
    return polygon(((x, y), (x + side, y), (x + side, y + side), (x, y + side)))


def test_what_comes_apart_does_not_hang_on_how_it_is_drawn() -> None:
    """An opening in an opening leaves an island, whichever way the two run."""
    board, window, inner = square(0, 0, 40), square(10, 10, 20), square(15, 15, 8)
    for turned in (inner, Outline((inner.contours[0].reversed(),))):
        found = pieces(board, join([window, turned]), Outline())
        assert [area(part) for part in found] == pytest.approx([1600 - 400, 64])
    assert [area(part) for part in pieces(board, window, inner)] == pytest.approx([1200])
    assert pieces(Outline(), window, inner) == ()


def test_what_is_drawn_twice_is_cut_once() -> None:
    board, window = square(0, 0, 40), square(10, 10, 20)
    found = pieces(board, join([window, window]), Outline())
    assert [area(part) for part in found] == pytest.approx([1600 - 400])


@pytest.mark.parametrize(
    ("drawn", "run"),
    [
        # Windows that overlap along a grid, one at the outline, and one whose corner only touches.
        ('<path id="b" d="M9 15h8v8h-8z"/>', "8.08 mm of it run along 'path7', with no wood"),
        ('<path id="b" d="M13 22h5v8h-5z"/>', "1.04 mm of it run along 'b', with no wood"),
        ('<path id="b" d="M0 40h5v5h-5z"/>', "5.04 mm of it run along 'b', with no wood"),
        ('<path id="b" d="M13 22.7h5v8h-5z"/>', "a cut crosses or touches 'b' at 13.00, 2"),
    ],
)
def test_openings_that_share_lines_stop(tmp_path: Path, drawn: str, run: str) -> None:
    place = make(tmp_path / "tag", front=HEAD + FRONT.replace(PANES, PANES + drawn))
    flags = design_check.check_design(place, {}, None, pipeline.Options())
    (text,) = [flag.text for flag in flags if flag.kind.severity is Severity.STOP]
    assert run in text


@pytest.mark.parametrize(
    "outline",
    [
        # Once beside the outline, once in one path with it, running either way.
        '<rect id="cut-outside" width="80" height="60"/>'
        '<path id="cut-outside.b" d="M5 30h9v0.4H5z"/>',
        '<path id="cut-outside.b" d="M0 0h80v60h-80zM5 30h9v0.4H5z"/>',
        '<path id="cut-outside.b" d="M0 0h80v60h-80zM5 30v0.4h9V30z"/>',
    ],
)
def test_an_outline_in_an_outline_is_measured_and_cut_as_an_opening(
    tmp_path: Path, outline: str
) -> None:
    front = HEAD + FRONT.replace('<rect id="cut-outside" width="80" height="60"/>', outline)
    place = make(tmp_path / "tag", front=front)
    (text,) = told(place, "opening-too-narrow")
    assert text.startswith("front.svg, element 'cut-outside.b': the opening is 0.58 mm wide")
    marks = read_template(place, workshop()).layers[1].marks
    drawn = [m.operation for m in marks for c in m.path.contours if c.start == (5, 30)]
    assert drawn == ["cut-inside"]


def test_an_outline_in_a_window_stays_one(tmp_path: Path) -> None:
    island = '<path id="cut-outside.star" d="M30 20h20v15h-20z"/>'
    place = make(tmp_path / "tag", front=HEAD + FRONT.replace(PANES, PANES + island))
    marks = read_template(place, workshop()).layers[1].marks
    assert [m.operation for m in marks if m.element == "cut-outside.star"] == ["cut-outside"]


def test_layers_that_do_not_touch_are_no_piece(tmp_path: Path) -> None:
    beside = '<rect id="cut-outside" x="41" width="39" height="60"/>'
    halved = BACK.replace('width="80"', 'width="40.5"').replace(ZONE, ZONE.replace("40", "20"))
    front = HEAD + beside + "</svg>"
    toml = TOML[: TOML.index('[[slots]]\nfield = "year"')]
    (text,) = told(make(tmp_path / "tag", toml=toml, front=front, back=HEAD + halved), "wood-loose")
    assert text.startswith("front.svg, element 'cut-outside': 2340.00 mm² of wood")


def test_a_layer_that_is_cut_away_whole_is_told(tmp_path: Path) -> None:
    roles = ("cut-outside", "cut-inside")
    whole = "".join(f'<rect id="{role}" width="80" height="60"/>' for role in roles)
    toml = TOML[: TOML.index('[[slots]]\nfield = "year"')]
    place = make(tmp_path / "tag", toml=toml, front=f"{HEAD}{whole}</svg>")
    assert [text.partition(". ")[0] for text in told(place, "layer-empty")] == [
        "front.svg: no wood is left of the layer once all is cut"
    ]


def test_every_narrow_place_is_told_at_the_opening_that_makes_it(tmp_path: Path) -> None:
    # Webs of 1.5, 1.2 and 1.6 mm, less a kerf of 0.18.
    slots = (
        '<path id="left" d="M1.5 15h8v8h-8z"/>'
        '<path id="low" d="M66 50.8h8v8h-8z"/>'
        '<path id="right" d="M70.4 15h8v8h-8z"/>'
    )
    place = make(tmp_path / "tag", front=HEAD + FRONT.replace(PANES, slots))
    webs = sorted(told(place, "web-too-narrow"))
    assert [text.partition(" mm of")[0] for text in webs] == [
        "front.svg, element 'left': 1.32",
        "front.svg, element 'low': 1.02",
        "front.svg, element 'right': 1.42",
    ]


def test_engraving_that_is_too_fine_is_told_by_its_own_id(tmp_path: Path) -> None:
    bars = (
        '<path id="engrave-area.thin" d="M5 50h9v0.2h-9z"/>'
        '<path id="engrave-area.wide" d="M5 54h9v3h-9z"/>'
    )
    place = make(tmp_path / "tag", front=HEAD + FRONT.replace(WAVE, bars))
    (text,) = told(place, "engraving-too-fine")
    assert text.startswith("front.svg, element 'engrave-area.thin': a stroke near")


@pytest.mark.parametrize(
    ("drawn", "where"),
    [
        (PANES.replace("z", "zM5 15h8v8h-8z"), "'path7': 32.00 mm of it run along itself"),
        (WAVE + '<path id="engrave-line.b" d="M65 50h9"/><path id="engrave-line.c" d="M74 50h-9"/>',
         "'engrave-line.c': 9.00 mm of it run along 'engrave-line.b'"),
    ],
)  # fmt: skip
def test_lines_doubled_within_an_element_or_among_engraved_ones(
    tmp_path: Path, drawn: str, where: str
) -> None:
    right = PANES if "path7" in drawn else WAVE
    place = make(tmp_path / "tag", front=HEAD + FRONT.replace(right, drawn))
    (text,) = told(place, "line-doubled")
    assert text.startswith(f"front.svg, element {where}")


@pytest.mark.parametrize("sizes", ["small = 0.5, usual = 1", "usual = 1, small = 0.5"])
def test_all_sizes_are_checked_in_whatever_order(tmp_path: Path, sizes: str) -> None:
    toml = TOML.replace("[[layers]]", f"sizes = {{ {sizes} }}\n[[layers]]", 1)
    found = told(make(tmp_path / "tag", toml=toml), "drawn-hole-near-edge")
    assert len(found) == 2
    assert all("'hole', at the size small: the hole for ribbon" in text for text in found)


def test_what_is_on_a_back_is_hidden_by_the_layer_behind(tmp_path: Path) -> None:
    """The year is on the back of the front layer, over the wood of the layer behind it."""
    toml = TOML.replace('drawing = "front.svg"', 'drawing = "front.svg"\nback_drawing = "rear.svg"')
    toml = toml.replace('field = "year"', 'field = "year"\nside = "back"')
    year = '<polygon id="zone.year" points="20,44 60,44 60,56 20,56"/>'
    place = make(tmp_path / "tag", toml=toml, front=HEAD + FRONT.replace(year, ""))
    (place / "rear.svg").write_text(HEAD + year + "</svg>", encoding="utf-8")
    (text,) = told(place, "zone-covered")
    assert text.startswith(
        "rear.svg, element 'zone.year': 480.00 mm² of it are hidden by layer back"
    )


def test_no_width_is_told_below_nothing(tmp_path: Path) -> None:
    front = HEAD + FRONT.replace(PANES, PANES.replace("M5 ", "M0.1 "))
    (text,) = told(make(tmp_path / "tag", front=front), "web-too-narrow")
    assert ": 0.00 mm of wood are left" in text


def test_a_hint_ends_as_one_sentence(tmp_path: Path) -> None:
    front = HEAD + FRONT.replace("engrave-line", "engraveline")
    (text,) = told(make(tmp_path / "tag", front=front), "design-unreadable")
    assert "unknown role 'engraveline' (did you mean 'engrave-line'?). Mend that" in text


@pytest.mark.parametrize("line", ["anchor = 900", "baseline = 3"])
def test_letters_are_not_aligned_outside_their_zone(tmp_path: Path, line: str) -> None:
    toml = TOML.replace('field = "name"', f'field = "name"\n{line}')
    (text,) = told(make(tmp_path / "tag", toml=toml), "design-unreadable")
    assert f"'{line.split()[0]}' must be between" in text


NAME_CUT = TOML.replace('faces = ["open-sans"]', 'faces = ["open-sans"]\nmade = "cut"', 1)
BACKED = TOML.replace('drawing = "back.svg"', 'drawing = "back.svg"\nback_drawing = "rear.svg"')


def test_art_keeps_away_from_letters_that_are_cut(tmp_path: Path) -> None:
    """A line 1 mm below the zone of the name; after dot and kerf 0.86 mm of it are left."""
    line = '<path id="engrave-line.swell" d="M30 39.5h20"/>'
    place = make(tmp_path / "tag", back=HEAD + BACK.replace("</svg>", line + "</svg>"))
    assert told(place, "drawn-engraving-near-cut") == []
    (place / "design.toml").write_text(NAME_CUT, encoding="utf-8")
    (text,) = told(place, "drawn-engraving-near-cut")
    assert text.startswith("back.svg, element 'engrave-line.swell': leaves 0.86 mm to the")


def test_letters_that_are_cut_go_through_zones_of_the_back(tmp_path: Path) -> None:
    """The zone on the back lies at 30 to 40 from there, so at 40 to 50 from the front."""
    zone = '<rect id="zone.note" x="30" y="20" width="10" height="8"/></svg>'
    note = '\n[[slots]]\nfield = "note"\nlayer = "back"\nside = "back"\nfaces = ["open-sans"]\n'
    place = make(tmp_path / "tag", toml=BACKED + note)
    (place / "rear.svg").write_text(HEAD + zone, encoding="utf-8")
    assert told(place, "zones-overlap") == []
    cut = BACKED.replace('faces = ["open-sans"]', 'faces = ["open-sans"]\nmade = "cut"', 1)
    (place / "design.toml").write_text(cut + note, encoding="utf-8")
    (text,) = told(place, "zones-overlap")
    assert text.startswith("rear.svg, element 'zone.note': shares 80.00 mm² with 'zone.name'")
