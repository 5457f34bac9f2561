"""Findings about a drawn design: one way of breaking a small one for each kind of finding."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from designs_folder import BACK, FRONT, HEAD, TOML, make

from proofgen.cli.program import main
from proofgen.day import design_check, pipeline
from proofgen.flags.about_drawings import DRAWING_KINDS
from proofgen.flags.about_layers import LAYER_KINDS
from proofgen.flags.flag import Flag
from proofgen.resources import folder

OUTLINE = '<rect id="cut-outside" width="80" height="60"/>'
HOLE = '<circle id="hole" cx="40" cy="6" r="1"/>'
ZONE = '<ellipse id="zone.name" cx="40" cy="27.5" rx="18" ry="11"/>'
YEAR = '<polygon id="zone.year" points="20,44 60,44 60,56 20,56"/>'
PANES = '<path id="path7" d="M5 15h8v8h-8z"/>'
WAVE = '<path id="engrave-line.wave" d="M5 50q2 3 4 0t4 0"/>'
TAB = "M0 14 H36.5 V0 H43.5 V14 H80 V60 H0 Z"

SAMPLE = "design.toml, name"

DATED = TOML + '[[slots]]\nfield = "date"\nlayer = "front"\nfaces = ["open-sans"]\n'

# Which element is replaced by what, and how the finding begins. Kerf 0.18 mm, dot 0.1 mm.
BROKEN: dict[str, tuple[str, str, str]] = {
    "design-unreadable": (WAVE, WAVE.replace("engrave-line", "engrave-lime"), "front.svg, element"),
    "outline-missing": (OUTLINE, "", "front.svg: no element"),
    "cut-crosses": (
        PANES,
        '<path id="path7" d="M5 15l8 8v-8l-8 8z"/>',
        "front.svg, element 'path7': a cut crosses or touches itself at 9.00, 19.00 mm",
    ),
    "cuts-share-line": (
        PANES,
        PANES + '<path id="path8" d="M5 15h8v-5h-8z"/>',
        "front.svg, element 'path7': 8.04 mm of it run along 'path8', with no wood between",
    ),
    "line-doubled": (
        PANES,
        PANES + '<path id="path8" d="M13 23v-8h-4h-4v8z"/>',
        "front.svg, element 'path8': 32.00 mm of it run along 'path7'. Delete one",
    ),
    "art-outside": (
        WAVE,
        '<path id="engrave-line.wave" d="M70 50h12.5"/>',
        "front.svg, element 'engrave-line.wave': reaches 2.50 mm out",
    ),
    "opening-outside": (
        OUTLINE,
        '<rect id="cut-outside" x="15" width="65" height="60"/>',
        "front.svg, element 'path7': 64.00 mm",
    ),
    "web-too-narrow": (
        PANES,
        '<path id="path7" d="M18.5 15h-8v8h8z"/>',
        "front.svg, element 'path7': 1.32 mm of wood are left near 19.",
    ),
    "opening-too-narrow": (
        PANES,
        '<path id="path7" d="M5 15h8v0.5h-8z"/>',
        "front.svg, element 'path7': the opening is 0.68 mm wide",
    ),
    "engraving-too-fine": (
        WAVE,
        '<path id="engrave-area.bar" d="M5 50h9v0.2h-9z"/>',
        "front.svg, element 'engrave-area.bar': a stroke near",
    ),
    "drawn-hole-near-edge": (
        HOLE,
        '<circle id="hole" cx="40" cy="4.9" r="1"/>',
        "front.svg, element 'hole': the hole for ribbon, 6 mm leaves 2.22 mm of wood",
    ),
    "zone-near-cut": (
        YEAR,
        YEAR.replace("44", "42"),
        "front.svg, element 'zone.year': leaves 1.86 mm to the nearest cut",
    ),
    "drawn-engraving-near-cut": (
        WAVE,
        '<path id="engrave-line.wave" d="M1 50h5"/>',
        "front.svg, element 'engrave-line.wave': leaves 0.86 mm to the nearest cut",
    ),
    "wood-loose": (
        ZONE,
        ZONE + '<path id="cut-inside.ring" d="M50 20h8v8h-8zM52 22h4v4h-4z"/>',
        "back.svg, element 'cut-inside.ring': 16.00 mm² of wood near 54.0, 24.0 mm hold to nothing",
    ),
    "layer-in-parts": (
        PANES,
        PANES + '<path id="path8" d="M5 28h8v8h-8zM7 30h4v4h-4z"/>',
        "front.svg: comes off the machine in 2 parts",
    ),
    "holes-apart": (
        HOLE,
        '<circle id="hole" cx="40" cy="7" r="1"/>',
        "front.svg, element 'hole': lies 1.00 mm from the hole of layer back",
    ),
    # The hole of the back is 5.5 mm wide: 23.76 mm².
    "hole-closed": (HOLE, "", "back.svg, element 'hole': layer front closes 23."),
    # The window ends at x = 60.
    "zone-covered": (
        ZONE,
        '<path id="zone.name" d="M25 18h40v18h-40z"/>',
        "back.svg, element 'zone.name': 90.00 mm² of it are hidden by layer front",
    ),
    # The dot comes 0.05 mm nearer from both sides.
    "zone-on-art": (
        WAVE,
        '<path id="engrave-line.path9" d="M19.6 48v5"/>',
        "front.svg, element 'zone.year': comes within 0.30 mm of 'engrave-line.path9'",
    ),
    "zones-overlap": (
        YEAR,
        YEAR + '<path id="zone.date" d="M50 46h16v8h-16z"/>',
        "front.svg, element 'zone.date': shares 80.00 mm² with 'zone.year'",
    ),
    "engraving-outside": (
        WAVE,
        '<path id="engrave-line.wave" d="M21 30h10"/>',
        "front.svg, element 'engrave-line.wave': goes 10.00 mm beyond the wood",
    ),
    "placing-shows": (
        WAVE,
        '<g id="engrave-line.placing"><path id="path9" d="M5 50h9"/></g>',
        "front.svg, element 'path9': 9.00 mm of it are covered by no layer",
    ),
    "number-uncovered": (
        WAVE,
        '<rect id="identity" x="3" y="46" width="12" height="8"/>',
        "front.svg, element 'identity': 96.00 mm",
    ),
    "path-kinked": (
        ZONE,
        ZONE + '<path id="path.name" d="M26 30 Q33 24 40 24 L40 24 L54 30"/>',
        "back.svg, element 'path.name': turns by 23.20 degrees near 40.0, 24.0 mm; up to 12.00",
    ),
    "hangs-tilted": (
        HOLE,
        '<circle id="hole" cx="45" cy="6" r="1"/>',
        "front.svg, element 'hole': the piece hangs tilted by",
    ),
    "hangs-undecided": (
        HOLE,
        '<circle id="hole" cx="70" cy="31" r="1"/>',
        "front.svg, element 'hole': the middle of the piece lies",
    ),
    "grain-short": (
        OUTLINE,
        f'<path id="cut-outside" d="{TAB}"/>',
        "front.svg, element 'hole': the hanging tab is 7.",
    ),
    "units-read": (
        'width="80mm"',
        f'width="{80 * 96 / 25.4:.4f}px"',
        'front.svg: is drawn in the unit "px" and was read as 80.00 by 60.00 mm',
    ),
}


def found(place: Path, **texts: str) -> tuple[Flag, ...]:
    return design_check.check_design(place, texts, None, pipeline.Options())


def test_a_sound_design_has_no_findings(tmp_path: Path) -> None:
    assert found(make(tmp_path / "sound")) == ()


@pytest.mark.parametrize("kind", BROKEN)
def test_a_fault_is_found_where_it_is(tmp_path: Path, kind: str) -> None:
    right, wrong, begins = BROKEN[kind]
    texts = {"front": HEAD + FRONT, "back": HEAD + BACK}
    side = "front" if right in texts["front"] else "back"
    assert texts[side].count(right) == 1
    texts[side] = texts[side].replace(right, wrong)
    dated = DATED if "zone.date" in wrong else TOML
    broken = found(make(tmp_path / "tag", toml=dated, **texts))
    told = [flag.text for flag in broken if flag.kind.id == kind]
    assert told, [flag.text for flag in broken]
    assert any(text.startswith(begins) for text in told), told
    assert all(text.endswith(".") and "None" not in text for text in told)


def test_a_text_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    flags = found(make(tmp_path / "tag"), name="Bartholomew Featherstonehaugh-Winterbourne")
    (told,) = [flag.text for flag in flags if flag.kind.id == "sample-fails"]
    assert told.startswith("design.toml, name: the sample text 'Bartholomew")


@pytest.mark.parametrize(
    ("slot", "cure"),
    [
        ("cap_height = { least = 1, wanted = 1.5 }", "Raise the wanted cap height"),
        ("cap_height = { least = 30, wanted = 40 }", "Enlarge the zone, lower the least cap"),
    ],
)
def test_what_is_told_of_a_sample_cures_its_fault(tmp_path: Path, slot: str, cure: str) -> None:
    toml = TOML.replace('field = "name"', f'field = "name"\n{slot}')
    (told,) = [f.to_do for f in found(make(tmp_path / "tag", toml=toml)) if SAMPLE in f.where]
    assert told.startswith(cure)


def test_a_hole_near_the_edge_is_told_once(tmp_path: Path) -> None:
    front = HEAD + FRONT.replace('cy="6"', 'cy="4.9"')
    back = HEAD + BACK.replace('cy="6"', 'cy="4.9"')
    told = [flag.kind.id for flag in found(make(tmp_path / "tag", front=front, back=back))]
    assert set(told) == {"drawn-hole-near-edge"}


def test_every_kind_of_finding_has_a_fault_above() -> None:
    apart = {
        "sample-fails",
        "picture-without",
        "picture-not-drawn",
        "layer-empty",
        "hangs-tilted-grown",
        "findings-more",
    }
    assert {kind.id for kind in (*DRAWING_KINDS, *LAYER_KINDS)} == {*BROKEN, *apart}


def test_the_hole_that_is_named_cures_the_tilt(tmp_path: Path) -> None:
    # A window left of the middle: the hole has to go right of it.
    panes = '<g id="cut-inside.panes"><path id="path7" d="M5 15h8v8h-8z"/></g>'
    heavy = FRONT.replace(panes, "").replace("M20 15h40v25h-40z", "M8 15h30v25h-30z")
    back = BACK.replace(ZONE, '<circle id="zone.name" cx="23" cy="27" r="9"/>')
    texts = {"front": HEAD + heavy, "back": HEAD + back}
    (flag,) = [f for f in found(make(tmp_path / "tag", **texts)) if f.kind.id == "hangs-tilted"]
    # By hand: two boards of 80 x 60 mm; the window's middle is at 23, 27.5, the hole's at 40, 6.
    window, board = 30 * 25, 80 * 60
    holes = [(40, 6, math.pi * r * r) for r in (2.5, 2.75)]
    whole = 2 * board - window - sum(a for *_, a in holes)
    x = (2 * board * 40 - window * 23 - sum(a * hx for hx, _, a in holes)) / whole
    y = (2 * board * 30 - window * 27.5 - sum(a * hy for _, hy, a in holes)) / whole
    assert flag.measured == pytest.approx(math.degrees(math.atan2(x - 40, y - 6)), abs=0.01)
    cure = float(re.findall(r"x = ([\d.]+) mm", flag.text)[0])
    assert cure == pytest.approx(x, abs=0.06)
    moved = {
        name: text.replace('cx="40" cy="6"', f'cx="{cure}" cy="6"') for name, text in texts.items()
    }
    assert "hangs-tilted" not in [f.kind.id for f in found(make(tmp_path / "cured", **moved))]


def test_all_faults_of_a_drawing_are_told_at_once(tmp_path: Path) -> None:
    front = HEAD + FRONT.replace("engrave-line", "engraveline").replace("h8v8h-8z", "h8v8h-8")
    told = [flag.text for flag in found(make(tmp_path / "tag", front=front))]
    assert len(told) == 2
    assert "'path7': its outline is not closed" in told[0]
    assert "did you mean 'engrave-line'" in told[1]


@pytest.mark.parametrize(
    "design", ["boat", "lantern", "medallion", "plaque", "remembrance", "wavename"]
)
def test_the_designs_that_ship_are_sound(design: str) -> None:
    assert found(folder("templates") / design) == ()


def test_the_command_tells_and_draws(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place, picture = make(tmp_path / "tag"), tmp_path / "sample.png"
    assert main(["designs", "check", str(place), "--picture", str(picture)]) == 0
    assert picture.read_bytes().startswith(b"\x89PNG")
    make(place, front=HEAD + FRONT.replace(OUTLINE, ""))
    assert main(["designs", "check", str(place), "--json"]) == 1
    assert '"outline-missing"' in capsys.readouterr().out
    assert main(["designs", "check", str(tmp_path / "none")]) == 2
    assert main(["designs", "check", str(place), "--text", "nme=Ada"]) == 2


def test_a_picture_shows_what_can_be_made_and_says_what_it_lacks(tmp_path: Path) -> None:
    long = {"name": "Bartholomew Featherstonehaugh-Winterbourne"}
    picture = tmp_path / "sample.png"
    flags = design_check.check_design(make(tmp_path / "tag"), long, picture, pipeline.Options())
    assert picture.read_bytes().startswith(b"\x89PNG")
    (said,) = [flag.text for flag in flags if flag.kind.id == "picture-without"]
    assert said.startswith(f"{picture}: shows the design without name, which")
    # A hole at the very edge is no matter of texts.
    picture.unlink()
    front = HEAD + FRONT.replace('cy="6"', 'cy="3"')
    torn = make(tmp_path / "torn", front=front)
    flags = design_check.check_design(torn, {}, picture, pipeline.Options())
    assert not picture.exists()
    (said,) = [flag.text for flag in flags if flag.kind.id == "picture-not-drawn"]
    assert said.startswith(f"{picture}: was not drawn, since the sample cannot be made for its han")


def test_own_designs_lie_beside_the_book_and_a_broken_one_stops_its_rows_alone(
    tmp_path: Path,
) -> None:
    from books import write_book

    make(tmp_path / "designs" / "tag")
    make(tmp_path / "designs" / "badge", toml=TOML.replace("format = 1", "format = 7"))
    row = {"order": "T-1", "name": "Ada", "year": 2027}
    designs = ("Small Tag", "badge", "boat")
    book = write_book(
        tmp_path / "orders.xlsx",
        [{**row, "order": f"T-{i}", "design": each} for i, each in enumerate(designs)],
    )
    rows = pipeline.check(book, pipeline.Options(), lambda *_: None).rows
    assert [made.artwork is not None for made in rows] == [True, False, True]
    (flag,) = [flag for flag in rows[1].flags if flag.kind.id == "design-broken"]
    assert "format" in flag.text


def rows_of(folder: Path, *designs: str) -> list[tuple[str, str]]:
    """Verdict and first sentence of a row for each of these designs."""
    from books import write_book

    cells = [
        {"order": f"T-{i}", "name": "Ada", "year": 2027, "design": each}
        for i, each in enumerate(designs)
    ]
    book = write_book(folder / "orders.xlsx", cells)
    made = pipeline.check(book, pipeline.Options(), lambda *_: None).rows
    return [(row.verdict, row.flags[0].says if row.flags else "") for row in made]


def test_an_own_design_with_the_name_of_one_that_ships_stops_the_rows_of_both(
    tmp_path: Path,
) -> None:
    make(tmp_path / "designs" / "boat")
    ((verdict, says), by_title, other) = rows_of(tmp_path, "boat", "Regatta boat", "plaque")
    assert verdict == by_title[0] == "stop"
    assert "a design of that name ships already; rename the folder" in says
    assert by_title[1] == says
    assert other == ("ready", "")


def test_an_own_design_with_the_title_of_another_stops_its_rows_alone(tmp_path: Path) -> None:
    make(tmp_path / "designs" / "tag", toml=TOML.replace("Small Tag", "regatta BOAT"))
    own, ship, other = rows_of(tmp_path, "tag", "Regatta boat", "plaque")
    assert own[0] == "stop"
    assert "the design 'boat' has that name or title already" in own[1]
    assert (ship, other) == (("ready", ""), ("ready", ""))
