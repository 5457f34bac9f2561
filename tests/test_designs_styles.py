"""Style sheets: what they hide is not made, what cannot be followed is refused."""

from __future__ import annotations

import io

import numpy as np
import pytest
import resvg_py
from PIL import Image

from proofgen.designs.drawing import read_drawing
from proofgen.errors import UnusableError
from proofgen.geometry.polygons import area

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="10mm" viewBox="0 0 40 10">'
# Four squares of different sizes, so that an area says which of them are drawn.
SQUARES = (
    '<rect id="a" class="x" width="2" height="2"/>'
    '<g id="b"><rect class="x y" x="10" width="4" height="4"/></g>'
    '<path id="c" class="z" fill-rule="evenodd" d="M20 0h6v6h-6zM22 2h2v2h-2z"/>'
    '<rect id="d" visibility="hidden" x="30" width="8" height="8"/>'
)

FOLLOWED = [
    ".x{display:none}",
    ".x.y{display:none}",
    "rect.x{display:none} #a{display:inline}",
    "#a{display:inline} .x{display:none}",
    "#a{display:none!important} #a{display:inline}",
    "#b{visibility:hidden}",
    "g,path{display:none}",
    "*{fill:#000} /* .x{display:none} */ rect{fill:none;fill:#111}",
    ".z{fill-rule:nonzero}",
    "#d{visibility:visible}",
    "@font-face{font-family:Own;src:none} g .x{fill:#222} .y{ display : none }",
]


def seen(drawing: str) -> float:
    """Square millimetres that an independent renderer paints."""
    zoom = 8
    png = resvg_py.svg_to_bytes(svg_string=drawing, zoom=zoom, dpi=96)
    with Image.open(io.BytesIO(bytes(png))) as image:
        alpha = np.asarray(image.convert("RGBA"))[..., 3]
    return float(alpha.sum()) / 255 * (25.4 / 96 / zoom) ** 2


@pytest.mark.parametrize("place", ["before", "after"])
@pytest.mark.parametrize("sheet", FOLLOWED)
def test_what_is_made_is_what_is_seen(sheet: str, place: str) -> None:
    styled = f"<style>{sheet}</style>"
    body = styled + SQUARES if place == "before" else SQUARES + styled
    drawing = f"{HEAD}{body}</svg>"
    shapes = read_drawing(drawing.encode(), "drawn.svg").shapes
    assert sum(area(shape.path) for shape in shapes) == pytest.approx(seen(drawing), abs=0.3)


@pytest.mark.parametrize(
    ("sheet", "sentence"),
    [
        (".x{clip-path:url(#k)}", "element 'a': clip-path is not followed"),
        ("#a{MASK:url(#k)}", "element 'a': mask is not followed"),
        ("g rect{display:none}", "element <style>: the rule 'g rect' is not followed"),
        ("rect:first-child{display:none}", "the rule 'rect:first-child' is not followed"),
        ("@media print{.x{display:none}}", "rules within rules are not followed"),
        (".x{transform:rotate(3deg)}", "element 'a': its style sets 'transform'"),
    ],
)
def test_what_would_be_made_otherwise_is_refused(sheet: str, sentence: str) -> None:
    drawing = f"{HEAD}<style>{sheet}</style>{SQUARES}</svg>"
    with pytest.raises(UnusableError) as caught:
        read_drawing(drawing.encode(), "drawn.svg")
    assert sentence in str(caught.value)


def test_a_style_of_its_own_outweighs_the_sheet() -> None:
    square = '<rect class="x" style="display:inline" width="4" height="4"/>'
    shown = f"{HEAD}<style>.x{{display:none}}</style>{square}</svg>"
    hidden = shown.replace("none}", "none !important}")
    assert len(read_drawing(shown.encode(), "drawn.svg").shapes) == 1
    assert read_drawing(hidden.encode(), "drawn.svg").shapes == ()
    assert (seen(shown), seen(hidden)) == pytest.approx((16, 0), abs=0.3)
