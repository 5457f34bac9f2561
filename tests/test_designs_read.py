"""Design folders: what a good one gives, and one sentence for each way of breaking it."""

import math
from pathlib import Path

import numpy as np
import pytest
from designs_folder import BACK, FRONT, HEAD, TOML, make, workshop
from shapely import Polygon

from proofgen.designs.design import Mark
from proofgen.designs.order_of_work import in_order_of_work
from proofgen.designs.read import design_folders, read_template
from proofgen.errors import UnusableError
from proofgen.geometry.inscribed import inscribed
from proofgen.geometry.path import Contour, Path as Outline, circle, join, polygon


def test_a_good_folder(tmp_path: Path) -> None:
    template = read_template(make(tmp_path / "tag"), workshop())
    assert (template.id, template.title, template.size) == ("tag", "Small Tag", (80.0, 60.0))
    assert template.fields == ("name", "year")
    back, front = template.layers
    assert (back.hole, back.hole_extra, back.rotation) == ((40.0, 6.0), 0.5, (0, 180))
    # An element without a role has that of its group; panes are smaller, so they come first.
    assert [mark.operation for mark in front.marks] == [
        "engrave-line",
        "cut-inside",
        "cut-inside",
        "cut-outside",
    ]
    assert front.marks[1].path.bounds().width == 8
    name = template.slots[0]
    assert (name.cap_height, name.anchor) == (workshop().cap_height("name"), 40.0)
    assert (name.align, name.lines_asked, name.narrow, name.baseline) == ("centre", 1, 0.75, None)


def test_the_digest_outlives_line_ends_and_nothing_else(tmp_path: Path) -> None:
    plain = read_template(make(tmp_path / "a" / "tag"), workshop())
    crlf = {"toml": TOML, "back": HEAD + BACK, "front": HEAD + FRONT}
    crlf = {name: text.replace("\n", "\r\n") for name, text in crlf.items()}
    again = read_template(make(tmp_path / "b" / "tag", **crlf), workshop())
    moved = HEAD + BACK.replace('cy="27.5"', 'cy="27.501"')
    other = read_template(make(tmp_path / "c" / "tag", back=moved), workshop())
    assert plain.sha256 == again.sha256
    assert plain.layers[0].sha256 == again.layers[0].sha256
    assert len({plain.sha256, other.sha256}) == 2
    assert plain.layers[1].sha256 == other.layers[1].sha256


BROKEN = [
    ("toml", "hangers =", "hangars =", "unknown key 'hangars'; did you mean 'hangers'?"),
    ("toml", "drawing = ", "drawling = ", "layer 'back': unknown key 'drawling'"),
    ("toml", "faces =", "face =", "slot 1 (name): unknown key 'face'; did you mean 'faces'?"),
    (
        "toml",
        'field = "name"',
        'field = "Quantity"',
        "(Quantity): 'Quantity' means the order book's column 'quantity'",
    ),
    ("toml", 'field = "name"', 'field = "Finish"', "order book's column 'finish'"),
    ("toml", 'field = "name"', 'field = "do not ask"', "order book's column 'do-not-ask'"),
    ("toml", 'field = "name"', 'field = "qty"', "order book's column 'qty'"),
    ("toml", 'field = "name"', 'field = "Name"', "(Name): write the field 'name'"),
    ("toml", "format = 1", "format = 2", "has format 2"),
    ("toml", "format = 1", "", "has no format"),
    ("toml", 'title = "Small Tag"', "title = 3", "'title' must be a text, not 3"),
    ("toml", '"birch-3"', '"brich-3"', "'material' must be one of birch-3"),
    ("toml", '"front.svg"', '"../front.svg"', "must name an .svg beside it"),
    ("toml", '"front.svg"', '"frond.svg"', "frond.svg: there is no such file"),
    ("toml", 'needed = ["name"]', 'needed = ["nmae"]', "did you mean 'name'?"),
    ("toml", '"cord"', '"chord"', "unknown hanger 'chord'; did you mean 'cord'?"),
    ("toml", '"walnut"', '"wallnut"', "unknown finish 'wallnut'; did you mean 'walnut'?"),
    ("toml", 'finish = "row"', 'finish = "natural"', "no layer has the finish 'row'"),
    (
        "toml",
        'field = "year"',
        'field = "yaer"',
        "no element 'zone.yaer'; did you mean 'zone.year'?",
    ),
    ("toml", 'layer = "front"', 'layer = "back"', "no element 'zone.year'"),
    ("toml", 'layer = "back"', 'layer = "back"\nmade = "cast"', "'made' must be one of engrave"),
    ("toml", 'layer = "back"', 'layer = "back"\nlines = 2\nlines_asked = 1', "'lines_asked' must"),
    (
        "toml",
        'layer = "back"',
        'layer = "back"\ncap_height = { last = 5 }',
        "did you mean 'least'?",
    ),
    (
        "back",
        "cut-outside",
        "cut-outsite",
        "unknown role 'cut-outsite'; did you mean 'cut-outside'?",
    ),
    ("back", 'id="cut-outside" ', "", "an element has no id"),
    ("back", "cut-outside", "path123", "'path123': that id was given by a program; write one"),
    ("back", "cut-outside", "Rect_7-2", "'Rect_7-2': that id was given by a program; write one"),
    ("back", "cut-outside", "paht.name", "unknown role 'paht'; did you mean 'path'?"),
    ("toml", 'hangers = ["ribbon", "cord", "none"]', "", "list the hangers that it is for"),
    (
        "back",
        '<circle id="hole" cx="40" cy="6" r="1"',
        '<ellipse id="hole" rx="2" ry="1"',
        "as a circle",
    ),
    ("back", "zone.name", "zone.nmae", "no element 'zone.name'; did you mean 'zone.nmae'?"),
    ("back", 'width="80mm"', 'width="81mm"', "draw all layers at the same size"),
    ("front", "60,44 60,56", "60,56 60,44", "crosses or touches itself"),
    (
        "front",
        "M20 15h40v25h-40z",
        "M20 15h40v25h-40",
        "'cut-inside.window': its outline is not closed",
    ),
    ("front", 'engrave-line.wave" d="', 'zone.wave" d="M0 0h9v9z', "has no slot for 'wave'"),
]


@pytest.mark.parametrize(("file", "right", "wrong", "sentence"), BROKEN)
def test_a_broken_folder_is_told_in_a_sentence(
    tmp_path: Path, file: str, right: str, wrong: str, sentence: str
) -> None:
    whole = {"toml": TOML, "back": HEAD + BACK, "front": HEAD + FRONT}[file]
    assert right in whole
    changes = {file: whole.replace(right, wrong, 1)}
    with pytest.raises(UnusableError) as caught:
        read_template(make(tmp_path / "tag", **changes), workshop())
    assert sentence in str(caught.value)
    assert str(tmp_path / "tag") in str(caught.value)
    assert "\n" not in str(caught.value)


def test_folders_of_folders(tmp_path: Path) -> None:
    make(tmp_path / "own" / "tag")
    make(tmp_path / "more" / "badge")
    folders = [tmp_path / "own", tmp_path / "more"]
    assert [each.name for each in design_folders(folders)] == ["badge", "tag"]
    make(tmp_path / "more" / "tag")
    with pytest.raises(UnusableError, match="rename one of the folders"):
        design_folders(folders)


def test_a_curved_zone_lies_within_its_curve() -> None:
    disc = Polygon(inscribed(circle((0, 0), 30), 0.03))
    # The inscribed n-gon's area is n/2 sin(2 pi/n) r^2; its corners may stand out by 2.8e-4 r.
    corners = len(disc.exterior.coords) - 1
    assert corners >= 32
    assert disc.area == pytest.approx(corners / 2 * math.sin(2 * math.pi / corners) * 900, rel=1e-3)
    assert np.hypot(*np.array(disc.exterior.coords).T).max() < 30 * 1.0003
    # A crescent: along its hollow side the chords of the curve would lie outside it.
    arc = ((0.0, 20.0), (40.0, 20.0), (40.0, 0.0))
    back = ((38.0, 12.0), (2.0, 12.0), (0.0, 0.0))
    drawn = Outline((Contour((0.0, 0.0), (arc, back)),))
    fine = Polygon(drawn.contours[0].flatten(1e-5))
    assert Polygon(inscribed(drawn, 0.03)).difference(fine).area < 1e-4
    assert Polygon(inscribed(drawn, 0.03)).area > 0.97 * fine.area


def test_a_straight_zone_keeps_its_corners() -> None:
    corners = ((0.0, 0.0), (40.0, 0.0), (30.0, 10.0), (40.0, 20.0), (0.0, 20.0))
    assert set(inscribed(polygon(corners), 0.03)) == set(corners)


def test_what_lies_inside_is_cut_first() -> None:
    inner, middle, outer = (circle((50, 50), r) for r in (5, 10, 20))
    marks = [
        Mark("cut-outside", outer),
        Mark("cut-inside", join([middle, inner])),
        Mark("engrave-line", outer),
        Mark("cut-inside", circle((50, 50), 2)),
        Mark("engrave-area", inner),
    ]
    done = in_order_of_work(marks)
    assert [mark.operation for mark in done] == [
        "engrave-area",
        "engrave-line",
        "cut-inside",
        "cut-inside",
        "cut-outside",
    ]
    assert done[2].path.bounds().width == pytest.approx(4)
    assert done[3].path.contours == (*inner.contours, *middle.contours)
