"""What drawing programs write round a drawing, and ids that nearly say a role."""

from __future__ import annotations

from pathlib import Path

import pytest
from designs_folder import BACK, FRONT, HEAD, TOML, make, workshop

from proofgen.day import design_check, pipeline
from proofgen.designs.drawing import read_drawing
from proofgen.designs.read import read_template
from proofgen.errors import UnusableError

PUBLIC = (
    '<?xml version="1.0"?>\n<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN"'
    ' "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n'
)
BOX = '<rect id="cut-outside" width="80" height="60" {}/></svg>'


def refused(text: str) -> str:
    with pytest.raises(UnusableError) as error:
        read_drawing(text.encode(), "a.svg")
    return str(error.value)


@pytest.mark.parametrize("head", [PUBLIC, "<!DOCTYPE svg>", "<!DOCTYPE svg SYSTEM 'a.dtd' >"])
def test_a_plain_doctype_is_passed_over(head: str) -> None:
    assert len(read_drawing((head + HEAD + BOX.format("")).encode(), "a.svg").shapes) == 1


@pytest.mark.parametrize(
    "head",
    [
        '<!DOCTYPE svg [<!ATTLIST rect transform CDATA "scale(2)">]>',
        PUBLIC.replace('dtd">\n', 'dtd" [<!ENTITY a "b">]>'),
        PUBLIC + '<!DOCTYPE svg [<!ENTITY a "b">]>',
    ],
)
def test_a_doctype_that_declares_something_is_refused(head: str) -> None:
    assert "a.svg: " in refused(head + HEAD + BOX.format(""))


def test_rules_for_print_that_touch_no_shape_are_passed_over() -> None:
    sheet = (
        "<style>@media print {{ .a {{ {} }} #b {{ stroke: red }} }} .c {{ display: none }}</style>"
    )
    text = HEAD + sheet + '<rect id="cut-inside" class="c" width="9" height="9"/>' + BOX
    (shape,) = read_drawing(text.format("fill: red", "").encode(), "a.svg").shapes
    assert shape.id == "cut-outside"
    assert "rules within rules" in refused(text.format("display: none", ""))


@pytest.mark.parametrize("how", ['transform-origin="40 30"', 'style="transform-origin: 40px 30px"'])
def test_what_a_shape_is_turned_about_is_not_guessed(how: str) -> None:
    said = refused(HEAD + BOX.format(f'transform="rotate(90)" {how}'))
    assert "element 'cut-outside'" in said
    assert "transform-origin" in said


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        (
            "cutoutside",
            "element 'cutoutside': unknown role 'cutoutside'; did you mean 'cut-outside'",
        ),
        ("Cut-Outside 2", "unknown role 'Cut-Outside 2'; did you mean 'cut-outside'?"),
        ("rim", "element 'rect12', in 'rim' and 'Layer_1': that id was given by a program"),
    ],
)
def test_a_misspelt_role_of_a_group_is_named(tmp_path: Path, wanted: str, said: str) -> None:
    box = '<rect id="cut-outside" width="80" height="60"/>'
    group = f'<g id="Layer_1"><g id="{wanted}">{box}</g></g>'.replace('"cut-outside"', '"rect12"')
    place = make(tmp_path / "tag", back=HEAD + BACK.replace(box, group))
    with pytest.raises(UnusableError) as error:
        read_template(place, workshop())
    assert said in str(error.value)


@pytest.mark.parametrize(
    ("text", "old", "new", "said"),
    [
        (
            "back",
            'rx="18"',
            'rx="0"',
            "back.svg, element 'zone.name': draws nothing; give it a size.",
        ),
        ("toml", 'faces = ["open-sans"]', 'faces = ["opensans"]', "did you mean 'open-sans'?"),
        ("front", 'height="60mm"', 'height="50mm"', "but back.svg is 80 by 60 mm"),
        (
            "back",
            'id="zone.name"',
            'id="identity"',
            "has no element 'zone.name'; known are identity.",
        ),
        (
            "toml",
            "finishes = [",
            'when = [{ drawn = ["pane"], without = ["year"] }]\nfinishes = [',
            "did you mean 'panes'?",
        ),
    ],
)
def test_what_is_proposed_is_there(
    tmp_path: Path, text: str, old: str, new: str, said: str
) -> None:
    whole = {"toml": TOML, "back": HEAD + BACK, "front": HEAD + FRONT}[text]
    assert old in whole
    place = make(tmp_path / "tag", **{text: whole.replace(old, new)})
    (flag,) = design_check.check_design(place, {}, None, pipeline.Options())
    assert flag.kind.id == "design-unreadable"
    assert said in flag.text
    assert str(tmp_path) not in flag.text
