"""The keys and roles of the design language beyond slots on the front of a layer."""

from pathlib import Path

import pytest
from designs_folder import BACK, FRONT, HEAD, TOML, make, order, workshop

from proofgen.designs.design import Backing, Growth
from proofgen.designs.read import read_template
from proofgen.designs.read_slot import IDENTITY_CAP_HEIGHT
from proofgen.designs.resolve import resolve
from proofgen.errors import UnusableError
from proofgen.workshop.workshop import Bound

YEAR = str(workshop().edition_year)
BEHIND = (
    HEAD
    + '<path id="engrave-area.mark" d="M2 2h5v5h-5z"/>\n'
    + '<polygon id="zone.note" points="10,10 70,10 70,30 10,30"/>\n'
    + '<path id="path.note" d="M12 28h56"/>\n</svg>\n'
)
NOTE = '\n[[slots]]\nfield = "note"\nlayer = "back"\nside = "back"\nfaces = ["open-sans"]\n'
ON_BACK = TOML.replace('drawing = "back.svg"', 'drawing = "back.svg"\nback_drawing = "behind.svg"')


def test_what_is_on_the_back(tmp_path: Path) -> None:
    folder = make(tmp_path / "tag", toml=ON_BACK + NOTE, behind=BEHIND)
    template = read_template(folder, workshop())
    assert [mark.side for mark in template.layers[0].marks] == ["back", "front"]
    note = template.slots[-1]
    assert (note.side, note.layer) == ("back", "back")
    assert note.path is not None
    assert note.path.contours[0].start == (12, 28)
    # Both drawings count for the layer's digest.
    moved = make(tmp_path / "b" / "tag", toml=ON_BACK + NOTE, behind=BEHIND.replace("M2 2", "M3 2"))
    assert read_template(moved, workshop()).layers[0].sha256 != template.layers[0].sha256


def test_backing_growth_sizes_and_family(tmp_path: Path) -> None:
    toml = TOML.replace("needed", "sizes = { standard = 1, small = 0.8 }\nfamily = false\nneeded")
    toml = toml.replace("hole_extra = 0.5", 'backing = { field = "name", grow = 4 }')
    toml += '\n[[growth]]\naxis = "y"\nat = 46\nmost = 30\nfield = "year"\n'
    back = HEAD + '<circle id="hole" cx="40" cy="6" r="1"/>\n'
    back += '<polygon id="zone.name" points="10,15 70,15 70,40 10,40"/>\n</svg>'
    template = read_template(make(tmp_path / "tag", toml=toml, back=back), workshop())
    assert template.layers[0].backing == Backing("name", 4)
    assert template.growth == (Growth("y", 46, 30, "year"),)
    assert template.sizes == (("standard", 1), ("small", 0.8))
    assert not template.family


def test_the_orders_number_needs_no_slot(tmp_path: Path) -> None:
    identity = '<rect id="identity" x="20" y="56" width="40" height="3.5"/>\n<circle id="hole"'
    back = (HEAD + BACK).replace('<circle id="hole"', identity)
    template = read_template(make(tmp_path / "tag", back=back), workshop())
    slot = template.slots[-1]
    assert (slot.field, slot.layer, slot.cap_height) == ("order", "back", IDENTITY_CAP_HEIGHT)
    # It is no field that a row fills, yet every order has it.
    assert template.fields == ("name", "year")
    assert order({"name": "Ada"}).field(slot.field) == "7"
    design, _ = resolve(template, order({"name": "Ada", "year": YEAR}), workshop())
    assert design is not None
    assert not design.layers[0].shared


def test_a_size_scales_what_is_drawn_but_not_the_hole(tmp_path: Path) -> None:
    toml = TOML.replace("needed", "sizes = { standard = 1, small = 0.8 }\nneeded")
    template = read_template(make(tmp_path / "tag", toml=toml), workshop())
    fields = {"name": "Ada", "year": YEAR}
    usual, _ = resolve(template, order(fields), workshop())
    small, flags = resolve(template, order(fields, size="Small"), workshop())
    assert usual is not None
    assert small is not None
    assert not flags
    assert small.size == pytest.approx((64, 48))
    (hole,) = (mark.path.bounds() for mark in small.layers[1].marks if mark.field == "hanger")
    assert (hole.width, hole.centre) == (pytest.approx(5), pytest.approx((32, 4.8)))
    outline = small.layers[1].marks[-1].path.bounds()
    assert (outline.width, outline.height) == pytest.approx((64, 48))
    assert small.slots[0].anchor == pytest.approx(0.8 * usual.slots[0].anchor)
    assert small.slots[1].zone == tuple(
        (pytest.approx(0.8 * x), pytest.approx(0.8 * y)) for x, y in usual.slots[1].zone
    )
    assert small.slots[0].cap_height == Bound(6, 8)
    # Another size is another piece, the same for all who choose it, and its code differs.
    assert [layer.shared for layer in usual.layers] == [False, True]
    assert [layer.shared for layer in small.layers] == [False, True]
    assert small.layers[1].sha256 != usual.layers[1].sha256


def test_a_size_that_is_not_there(tmp_path: Path) -> None:
    toml = TOML.replace("needed", "sizes = { standard = 1, small = 0.8 }\nneeded")
    template = read_template(make(tmp_path / "tag", toml=toml), workshop())
    design, (flag,) = resolve(template, order({"name": "Ada"}, size="smal"), workshop())
    assert design is None
    assert flag.text == (
        "row 12, size (S12): the size 'smal' is not offered; there is standard, small. "
        "Type small, if that is meant."
    )


GROWTH = '\n[[growth]]\naxis = "x"\nat = 40\nmost = 9\nfield = "year"\n'
BROKEN = [
    ("toml", "[[slots]]", '[[slots]]\nside = "back"', "the layer has no 'back_drawing'"),
    ("toml", "[[slots]]", '[[slots]]\nside = "rear"', "'side' must be one of front, back"),
    ("toml", "hole_extra = 0.5", "backing = { grow = 4 }", "backing: 'field' is missing"),
    (
        "toml",
        "hole_extra = 0.5",
        'backing = { field = "name", grow = 4 }',
        "take one of them out",
    ),
    ("toml", "needed =", "sizes = { tiny = 0.01 }\nneeded =", "'tiny' must be between 0.25 and 4"),
    ("toml", "[[slots]]", '[[symbols]]\nlayer = "back"\n[[slots]]', "no element 'zone.symbol'"),
    (
        "toml",
        "[[slots]]",
        '[[symbols]]\nlayer = "back"\nmade = "stand"\n[[slots]]',
        "'made' must be one of engrave, cut",
    ),
    ("toml", "[[slots]]", '[[symbols]]\nlayers = "back"\n[[slots]]', "unknown key 'layers'"),
    (
        "toml",
        "[[slots]]",
        GROWTH.replace("year", "yaer").replace("40", "70") + "[[slots]]",
        "did you mean 'year'?",
    ),
    ("toml", "[[slots]]", GROWTH + "[[slots]]", "element 'zone.name': crosses the line of growth"),
    ("front", "cut-inside.window", "path.name", "has no slot for 'name' on layer 'front'"),
    ("front", 'engrave-line.wave" d="', 'path.year" d="M0 0h9 ', "text follows one line"),
]


@pytest.mark.parametrize(("file", "right", "wrong", "sentence"), BROKEN)
def test_a_mistake_is_told_in_a_sentence(
    tmp_path: Path, file: str, right: str, wrong: str, sentence: str
) -> None:
    whole = {"toml": TOML, "front": HEAD + FRONT}[file]
    assert right in whole
    changes = {file: whole.replace(right, wrong, 1)}
    with pytest.raises(UnusableError) as caught:
        read_template(make(tmp_path / "tag", **changes), workshop())
    assert sentence in str(caught.value)
    assert str(tmp_path / "tag") in str(caught.value)


def test_nothing_is_cut_from_the_back(tmp_path: Path) -> None:
    behind = BEHIND.replace("engrave-area.mark", "cut-inside.mark")
    with pytest.raises(
        UnusableError, match=r"'cut-inside\.mark': cuts and holes are drawn as seen"
    ):
        read_template(make(tmp_path / "tag", toml=ON_BACK + NOTE, behind=behind), workshop())


def test_letters_are_cut_from_the_front_only(tmp_path: Path) -> None:
    toml = ON_BACK + NOTE + 'made = "cut"\n'
    with pytest.raises(UnusableError, match="is cut, so its side is the front"):
        read_template(make(tmp_path / "tag", toml=toml, behind=BEHIND), workshop())
