"""What grows gets longer where it crosses the line, and nothing else changes its shape."""

from dataclasses import replace
from pathlib import Path

import pytest
from designs_folder import HEAD, TOML, make, order, shipped, workshop

from proofgen.designs.design import Design, Mark
from proofgen.designs.grow import grown
from proofgen.designs.read import read_template
from proofgen.designs.resolve import resolve
from proofgen.errors import UnusableError
from proofgen.geometry.affine import Point
from proofgen.geometry.path import Contour, Path as Outline

MICROMETRE = 0.001


def shapes(contour: Contour) -> list[tuple[Point, ...]]:
    """Every curve as its points from its own start; where it lies does not matter."""
    starts = [contour.start, *(segment[-1] for segment in contour.segments)]
    return [
        tuple((x - sx, y - sy) for x, y in segment)
        for (sx, sy), segment in zip(starts, contour.segments, strict=False)
        if len(segment) > 1
    ]


def plaque() -> Design:
    template = shipped()["plaque"]
    design, _ = resolve(template, order({"name": "Ada"}), workshop())
    assert design is not None
    return design


@pytest.mark.parametrize("by", [0.5, 17.3, 60.0])
def test_the_plaque_grows_and_its_corners_stay(by: float) -> None:
    before, after = plaque(), grown(plaque(), (by,))
    assert after.size == (before.size[0] + by, before.size[1])
    assert after.grown == (by,)
    pairs = list(zip(before.layers[0].marks, after.layers[0].marks, strict=True))
    longer = 0
    for old, new in pairs:
        for a, b in zip(old.path.contours, new.path.contours, strict=True):
            for curve, same in zip(shapes(a), shapes(b), strict=True):
                for p, q in zip(curve, same, strict=True):
                    assert q == pytest.approx(p, abs=MICROMETRE)
        width, wider = old.path.bounds().width, new.path.bounds().width
        assert wider - width == pytest.approx(0, abs=1e-6) or wider - width == pytest.approx(by)
        longer += wider > width + by / 2
    assert longer == 3  # both borders and the outline
    outline = after.layers[0].marks[-1].path.bounds()
    assert (outline.left, outline.right) == pytest.approx((0, after.size[0]))
    # What was in the middle is in the middle again.
    for slot in after.slots:
        assert slot.anchor == pytest.approx(after.size[0] / 2)


def ends(design: Design) -> list[tuple[float, float]]:
    return [
        (m.path.bounds().centre[0], m.path.bounds().width)
        for layer in design.layers
        for m in layer.marks
        if m.field == "hanger"
    ]


TWO = """
[[growth]]
axis = "x"
at = 30
most = 9
field = "year"

[[growth]]
axis = "x"
at = 50
most = 9
field = "year"
"""
PLAIN = (
    '<rect id="cut-outside" width="80" height="60"/>\n<circle id="hole" cx="40" cy="6" r="1"/>\n'
)
BACK = PLAIN + '<polygon id="zone.name" points="10,20 70,20 70,40 10,40"/>\n</svg>'
FRONT = PLAIN + '<polygon id="zone.year" points="20,44 60,44 60,56 20,56"/>\n</svg>'


def test_a_hole_in_the_middle_moves_as_a_whole(tmp_path: Path) -> None:
    made = make(tmp_path / "tag", toml=TOML + TWO, back=HEAD + BACK, front=HEAD + FRONT)
    template = read_template(made, workshop())
    design, _ = resolve(template, order({"name": "Ada"}), workshop())
    assert design is not None
    after = grown(design, (4, 6))
    assert after.size == (90, 60)
    assert [width for _, width in ends(after)] == pytest.approx([5.5, 5.0], abs=MICROMETRE)
    assert [x for x, _ in ends(after)] == pytest.approx([44, 44])
    # Even where the line runs through it.
    template = replace(template, growth=(replace(template.growth[0], at=39.0),))
    design, _ = resolve(template, order({"name": "Ada"}), workshop())
    assert design is not None
    assert [width for _, width in ends(grown(design, (7,)))] == pytest.approx([5.5, 5.0])


def test_the_back_grows_where_the_front_does() -> None:
    # A line from x = 100 to 130 of the front, and the same line as it is seen from the back.
    design = plaque()
    width = design.size[0]
    front = Outline((Contour((100.0, 30.0), (((130.0, 30.0),),), closed=False),))
    back = Outline((Contour((width - 100.0, 30.0), (((width - 130.0, 30.0),),), closed=False),))
    marks = (Mark("engrave-line", front), Mark("engrave-line", back, side="back"))
    after = grown(replace(design, layers=(replace(design.layers[0], marks=marks),)), (20,))
    (seen, behind) = (mark.path.bounds() for mark in after.layers[0].marks)
    assert (seen.left, seen.right) == (120, 150)
    assert (behind.left, behind.right) == (after.size[0] - 150, after.size[0] - 120)


@pytest.mark.parametrize(
    ("element", "name"),
    [
        ('<path id="engrave-line.swell" d="M20 50q20 5 40 0"/>', "engrave-line.swell"),
        ('<path id="engrave-line.slope" d="M20 50L60 51"/>', "engrave-line.slope"),
        ('<circle id="cut-inside.eye" cx="32" cy="30" r="3"/>', "cut-inside.eye"),
        ('<path id="engrave-area.hook" d="M20 20h20l-15 9h-5z"/>', "engrave-area.hook"),
    ],
)
def test_what_crosses_askew_is_named(tmp_path: Path, element: str, name: str) -> None:
    front = HEAD + FRONT.replace("</svg>", element + "</svg>")
    made = make(tmp_path / "tag", toml=TOML + TWO, back=HEAD + BACK, front=front)
    with pytest.raises(UnusableError) as caught:
        read_template(made, workshop())
    assert f"front.svg, element '{name}': crosses the line of growth x = 30" in str(caught.value)
