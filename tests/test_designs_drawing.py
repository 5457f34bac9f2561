"""Drawings come back in true millimetres, whatever unit and view box they are saved in."""

import io

import numpy as np
import pytest
import resvg_py
from PIL import Image
from shapely import Polygon

from proofgen.designs.drawing import Drawing, read_drawing
from proofgen.errors import UnusableError

RECT = '<rect id="engrave-area" x="10" width="20" height="10"/>'


def svg(size: str, body: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'.encode()


def read(size: str, body: str) -> Drawing:
    return read_drawing(svg(size, body), "drawn.svg")


@pytest.mark.parametrize(
    ("width", "millimetres"),
    # CSS Values and Units 3, section 6.2: 1in = 2.54cm = 96px = 72pt = 6pc, 1Q = 1/4 mm.
    [
        ("100mm", 100),
        ("10cm", 100),
        ("400Q", 100),
        ("1in", 25.4),
        ("72pt", 25.4),
        ("6pc", 25.4),
        ("96px", 25.4),
        ("96", 25.4),
        ("9.6e1", 25.4),
    ],
)
def test_units_are_those_of_css(width: str, millimetres: float) -> None:
    drawing = read(
        f'width="{width}" height="{width}" viewBox="0 0 10 10"', "<path id='p' d='M0 0H10V10z'/>"
    )
    assert drawing.size == pytest.approx((millimetres, millimetres), abs=1e-9)
    assert drawing.shapes[0].path.bounds().width == pytest.approx(millimetres, abs=1e-4)


def test_user_units_without_a_view_box_are_pixels_and_lengths_inside_keep_their_unit() -> None:
    drawing = read('width="100mm" height="100mm"', '<rect width="96" height="100mm"/>')
    box = drawing.shapes[0].path.bounds()
    assert (box.width, box.height) == pytest.approx((25.4, 100), abs=1e-4)


@pytest.mark.parametrize(
    ("aspect", "left", "right"),
    # SVG 2, section 8.6: 100 by 50 in 200 by 50 mm is scale 1 and 50 mm to spare on each side.
    [
        ("", 60, 80),
        ("xMidYMid meet", 60, 80),
        ("xMinYMid", 10, 30),
        ("xMaxYMin", 110, 130),
        ("xMidYMid slice", 20, 60),
        ("none", 20, 60),
    ],
)
def test_view_box_and_aspect(aspect: str, left: float, right: float) -> None:
    said = f'preserveAspectRatio="{aspect}"' if aspect else ""
    drawing = read(f'width="200mm" height="50mm" viewBox="0 0 100 50" {said}', RECT)
    box = drawing.shapes[0].path.bounds()
    assert (box.left, box.right) == pytest.approx((left, right), abs=1e-4)


def test_curves_stay_curves_and_arcs_follow_the_circle() -> None:
    body = """<path id="a" d="M0 0C1 5 9 5 10 0z"/><path id="b" d="M0 0Q5 9 10 0z"/>
    <circle id="c" cx="50" cy="50" r="40"/>"""
    cubic, quadratic, circle = (s.path.contours[0] for s in read(MM, body).shapes)
    assert [len(segment) for segment in cubic.segments] == [3]
    assert [len(segment) for segment in quadratic.segments] == [2]
    assert {len(segment) for segment in circle.segments} == {3}
    radius = np.hypot(*(circle.flatten(0.001) - 50).T)
    assert np.abs(radius - 40).max() < 0.002


def test_a_path_that_returns_to_its_start_is_closed() -> None:
    (shape,) = read(MM, "<path id='p' d='m.1 .2l.1 .1.1-.1-.2 0M5 5h3v3h-2zh-1v-1'/>").shapes
    assert [contour.closed for contour in shape.path.contours] == [True, True, False]
    assert shape.path.contours[2].start == (5, 5)


MM = 'width="100mm" height="100mm" viewBox="0 0 100 100"'

MIXED = """
<g id="art" transform="translate(20 10) rotate(15)"><g transform="scale(1.5 0.8)">
<rect x="5" y="5" width="20" height="30" rx="4"/>
<ellipse cx="40" cy="25" rx="10" ry="18" transform="skewX(10)"/></g>
<path fill-rule="evenodd" d="M0 45h40v30h-40z m5 5h30v20h-30z m10 5h10v10h-10z"/></g>
<polygon points="75,72 98,72 86,98"/>
<path style="display:none" d="M0 0h99v99z"/>
"""


def test_area_agrees_with_an_independent_renderer() -> None:
    shapes = read(MM, MIXED).shapes
    assert len(shapes) == 4
    # By the nonzero rule, since that is what a path means here: winding counts, contour by contour.
    area = abs(
        sum(
            Polygon(points).area * (1 if Polygon(points).exterior.is_ccw else -1)
            for points in shapes[2].path.flatten(0.001)
        )
    )
    area += sum(Polygon(points).area for i in (0, 1, 3) for points in shapes[i].path.flatten(0.001))
    zoom = 4
    png = resvg_py.svg_to_bytes(svg_string=svg(MM, MIXED).decode(), zoom=zoom, dpi=96)
    with Image.open(io.BytesIO(bytes(png))) as image:
        alpha = np.asarray(image.convert("RGBA"))[..., 3]
    assert alpha.sum() / 255 * (25.4 / 96 / zoom) ** 2 == pytest.approx(area, rel=2e-3)


@pytest.mark.parametrize(
    ("body", "sentence"),
    [
        ("<text id='t'>A</text>", "drawn.svg, element 't': draw texts as outlines"),
        ("<defs><image id='i' href='#x'/></defs>", "drawn.svg, element 'i': pictures cannot"),
        ("<script/>", "drawn.svg, an element <script>: scripts"),
        ("<rect id='r' onclick='x()'/>", "drawn.svg, element 'r': scripts"),
        ("<use id='u' href='#r'/>", "drawn.svg, element 'u': linked copies"),
        (
            "<rect id='r' style='fill:url(http://a/b)'/>",
            "drawn.svg, element 'r': refers to something",
        ),
        ("<style>@import 'a.css';</style>", "an element <style>: refers to another file"),
        ("<rect id='r' clip-path='url(#c)'/>", "drawn.svg, element 'r': clip-path is not followed"),
        ("<foreignObject id='f'/>", "drawn.svg, element 'f': <foreignObject> is not read"),
        ("<path id='far' d='M0 0L1e9 0'/>", "drawn.svg, element 'far': has a point"),
        ("<path id='p' d='M0 0L1 nan'/>", "drawn.svg, element 'p': 'n' is no path data"),
        ("<g><path id='p' d='M0 0L5'/></g>", "drawn.svg, element 'p': its shape or transform"),
        ("<g id='g' transform='turn(3)'/>", "drawn.svg, element 'g': its transform 'turn(3)'"),
        ("<g>" * 100 + "</g>" * 100, "drawn.svg, an element <g>: lies in more than 100 groups"),
        ("<g/>" * 3001, "drawn.svg: has 3001 elements"),
        ("<g>", "drawn.svg: is not readable XML"),
    ],
)
def test_what_is_refused_is_named(body: str, sentence: str) -> None:
    with pytest.raises(UnusableError) as caught:
        read(MM, body)
    assert sentence in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("size", "sentence"),
    [
        ("", "its width is ''; give the drawing a width in mm"),
        ('width="100%" height="5mm"', "its width is '100%'"),
        ('width="9km" height="5mm"', "its width is '9km'"),
        ('width="1e9mm" height="5mm"', "its width is 1e+09 mm"),
        ('width="-5mm" height="5mm"', "its width is -5 mm"),
        ('width="5mm" height="5mm" viewBox="0 0 0 5"', "its viewBox '0 0 0 5'"),
        ('width="5mm" height="5mm" preserveAspectRatio="middle"', "'middle'"),
    ],
)
def test_sizes_that_mean_nothing_are_refused(size: str, sentence: str) -> None:
    with pytest.raises(UnusableError) as caught:
        read(size, RECT)
    assert sentence in str(caught.value)


@pytest.mark.parametrize(
    ("head", "sentence"),
    [
        ('<!DOCTYPE svg [<!ENTITY a "b">]>', "entities or a DOCTYPE"),
        ("<html/>", "XML"),
        ("\x00", "XML"),
    ],
)
def test_what_comes_before_the_drawing(head: str, sentence: str) -> None:
    with pytest.raises(UnusableError, match=sentence):
        read_drawing(head.encode() + svg(MM, RECT), "drawn.svg")


def test_something_else_than_svg() -> None:
    with pytest.raises(UnusableError, match="is not an SVG drawing"):
        read_drawing(b"<html/>", "drawn.svg")
